"""A row of needle names that never touch one another."""

from __future__ import annotations

from collections.abc import Callable

from bedview.picture.marks import MeasureText


class NameRow:
    """What has been given away of a row.

    Args:
        name: what stands at a needle.
        place: the middle of a needle's column, in pixels.
        size: of the text in pixels.
        measure: how wide a text is.
    """

    def __init__(
        self, name: Callable[[int], str], place: Callable[[int], float], size: float, measure: MeasureText
    ) -> None:
        self._name = name
        self._place = place
        self._size = size
        self._measure = measure
        self._taken: list[tuple[float, float]] = []

    def takes(self, needles: list[int], left: float, right: float, *, bold: bool = False) -> bool:
        """Whether all these names find room from ``left`` to ``right``; it is theirs then."""
        air = 0.25 * self._size
        wanted: list[tuple[float, float]] = []
        for needle in needles:
            half = self._measure(self._name(needle), self._size, bold) / 2
            start, end = self._place(needle) - half, self._place(needle) + half
            free = all(end + air < other or start - air > ended for other, ended in self._taken + wanted)
            if start < left or end > right or not free:
                return False
            wanted.append((start, end))
        self._taken += wanted
        return True
