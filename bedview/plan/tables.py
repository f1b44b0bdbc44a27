"""Tables that travel with the program: sizes, fits and constants, each row with its source."""

from __future__ import annotations

import csv
from functools import cache

from bedview.resources import resource_path

Row = dict[str, str]


@cache
def table(name: str) -> tuple[Row, ...]:
    """The rows of ``resources/tables/NAME.csv``, in order.

    Every table has the columns ``source`` (where a row comes from) and ``read`` (how: ``text`` of the source,
    printed by a named ``package``, ``derived`` from cited numbers, or from ``memory``).
    """
    with resource_path("tables", f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file, strict=True))


def number(text: str) -> float | None:
    """A number of a table; None for an empty cell."""
    return float(text) if text else None
