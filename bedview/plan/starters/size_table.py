"""The table of sizes behind the starters: measures of feet, heads, hands and trunks, each with its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from bedview.plan.tables import table


@dataclass(frozen=True, slots=True)
class Size:
    """One size.

    Attributes:
        name: what it is asked for by: ``38``, ``2y``, ``men``.
        measures_mm: measures of the body, by the key of the parameter they answer.
        sources: where each measure is from, by the same keys.
    """

    name: str
    measures_mm: Mapping[str, float]
    sources: Mapping[str, str]


@cache
def sizes_of(body: str) -> tuple[Size, ...]:
    """The sizes of one part of the body, smallest first.

    Args:
        body: ``foot``, ``head``, ``hand`` or ``trunk``.
    """
    found: dict[str, Size] = {}
    for row in table("sizes"):
        if row["body"] == body:
            size = found.setdefault(row["size"], Size(row["size"], {}, {}))
            found[row["size"]] = Size(
                size.name,
                {**size.measures_mm, row["measure"]: float(row["mm"])},
                {**size.sources, row["measure"]: row["source"]},
            )
    return tuple(found.values())
