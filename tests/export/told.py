"""Reads what a page was told, as the page's own script does, but written apart from it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any


def cells_of(told: dict[str, Any], step: int) -> list[list[Any]]:
    """Position letter, loops and wraps of every column drawn."""
    found: list[list[Any]] = []
    for count, letters in re.findall(r"(\d+)([a-z]+)", told["states"][told["steps"][step][0]]):
        kind = 0
        for letter in letters:
            kind = kind * 26 + "abcdefghijklmnopqrstuvwxyz".index(letter)
        found += [told["cells"][kind]] * int(count)
    return found


def setting_of(told: dict[str, Any], step: int) -> tuple[float | None, bool, int, str]:
    """Dial, cams, yarn in the feeder, and the carriage's side."""
    number = told["steps"][step][1]
    dial, cams, feeder = told["settings"][number // 2]
    return dial, cams, feeder, "right" if number % 2 else "left"


def wales_of(told: dict[str, Any], depth: int) -> Iterator[list[list[int]]]:
    """Before each step, and at the end, the steps that made the loops below each column."""
    corrections = dict(told["wales"])
    wales: list[list[int]] = [[] for _ in range(told["first"], told["last"] + 1)]
    for number, step in enumerate(told["steps"]):
        for first, last, wale in corrections.get(number, ()):
            for needle in range(first, last + 1):
                wales[needle - told["first"]] = wale
        yield [list(wale) for wale in wales]
        if step[5] >= 0:
            _, knit, _, dropped = told["coming"][step[5]]
            for needle in _needles(knit):
                place = needle - told["first"]
                wales[place] = [number, *wales[place]][:depth]
            for needle in _needles(dropped):
                wales[needle - told["first"]] = []


def _needles(flat: list[int]) -> Iterator[int]:
    for first, last in zip(flat[::2], flat[1::2], strict=True):
        yield from range(first, last + 1)
