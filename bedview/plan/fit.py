"""Whether a piece will fit, said before threading up: its own fabric beside the measures asked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bedview.language import gettext, marked
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.starters import StarterError, find_starter
from bedview.plan.starters.cloth import Cloth, Missing
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.units import LengthUnit

__all__ = ["Fit", "FitLine", "fit"]


@dataclass(frozen=True, slots=True)
class Fit:
    """The measures of a piece.

    Attributes:
        lines: one a measure; for a piece no starter made, only its grafts.
        remark: why there are no more; English, or "".
        whole: whether all that its starter asks could be measured.
    """

    lines: tuple[FitLine, ...]
    remark: str = ""
    whole: bool = True

    @property
    def fits(self) -> bool:
        """Whether every measure is within one stitch or one row of what was asked."""
        return self.whole and all(line.verdict == "fits" for line in self.lines)

    def says(self, unit: LengthUnit = LengthUnit.CM, *, comma: bool | None = None) -> list[str]:
        """All of it as sentences."""
        said = [line.says(unit, comma=comma) for line in self.lines]
        return [*said, gettext(self.remark)] if self.remark else said


def fit(piece: Piece, procedure: Procedure) -> Fit:
    """Measure a piece.

    What was asked stands in the values its starter was given; what it measures comes from the loops of the
    procedure alone, so it stays true when parts were changed by hand since.

    Args:
        piece: the piece.
        procedure: the same, compiled to its end.
    """
    cloth = Cloth(piece, procedure)
    grafts = tuple(_grafts(cloth))
    if piece.made_by is None:
        return Fit(grafts, marked("No starter made this piece, so it is not known whom it is for"))
    lines: list[FitLine] = []
    remark = ""
    try:
        starter = find_starter(piece.made_by.starter)
        for line in starter.fitting(starter.resolve(piece.made_by.values), cloth):
            lines.append(line)  # noqa: PERF402 - what was measured before a part is missed stays
    except StarterError:
        remark = marked("The starter knows nothing of the values this piece was made with")
    except Missing:
        remark = marked("A part that is measured is not there any more, or its yarn has no swatch")
    return Fit((*lines, *grafts), remark, whole=not remark)


def _grafts(cloth: Cloth) -> Iterator[FitLine]:
    for place, a, b in cloth.grafts():
        yield FitLine(f"graft_{place}", marked("Loops to graft"), "loops", a, b, 0)
