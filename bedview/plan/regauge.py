"""The same piece for another yarn or another bed: counts carried over by their measures."""

from __future__ import annotations

from dataclasses import dataclass

from bedview.bed.needles import NeedleError, format_needles, parse_needles
from bedview.language import gettext as _
from bedview.plan.gauge import (
    ANY,
    Figure,
    Rounding,
    Swatch,
    length_in_rows,
    length_mm_of,
    width_in_stitches,
    width_mm_of,
)


@dataclass(frozen=True, slots=True)
class Regauge:
    """From one gauge to another; what was counted by the old one keeps its size.

    Attributes:
        old: the gauge the piece was planned with.
        new: the gauge it is to be knitted with.
    """

    old: Swatch
    new: Swatch

    def rows(self, count: int, rounding: Rounding = ANY) -> Figure:
        """As many rows as measure what ``count`` rows did."""
        return length_in_rows(length_mm_of(count, self.old), self.new, rounding)

    def stitches(self, count: int, rounding: Rounding = ANY) -> Figure:
        """As many stitches as measure what ``count`` stitches did."""
        return width_in_stitches(width_mm_of(count, self.old), self.new, rounding)

    def keep_parity(self, count: int) -> Figure:
        """As :meth:`stitches`, and even or odd as it was: a piece with a middle stitch keeps one."""
        return self.stitches(count, Rounding(2, count % 2))

    def needles(self, needles: str, old_bed: int, new_bed: int) -> str:
        """A stretch of needles on another bed, as far from the middle as it was, edge by edge.

        Args:
            needles: one range, such as ``L24-R24``.
            old_bed: needles of the bed it is written for.
            new_bed: needles of the other bed.

        Raises:
            NeedleError: if it is not one unbroken stretch, nothing is left of it, or the bed is too small.
        """
        indices = parse_needles(needles, old_bed)
        first, end = indices[0] - old_bed // 2, indices[-1] + 1 - old_bed // 2
        if end - first != len(indices):
            raise NeedleError(
                _("{needles} is not one stretch of needles; give its parts one by one").format(
                    needles=needles
                )
            )
        left, right = self._edge(first), self._edge(end)
        if left >= right:
            raise NeedleError(_("{needles} would be narrower than half a stitch").format(needles=needles))
        middle = new_bed // 2
        if left < -middle or right > middle:
            wanted = 2 * max(-left, right)
            raise NeedleError(
                _("{needles} would need a bed of {wanted} needles; this one has {new_bed}").format(
                    needles=needles, wanted=wanted, new_bed=new_bed
                )
            )
        return format_needles(range(middle + left, middle + right), new_bed)

    def _edge(self, from_middle: int) -> int:
        """An edge so many stitches right of the middle (negative: left), in new stitches."""
        count = self.stitches(abs(from_middle)).count
        return count if from_middle >= 0 else -count
