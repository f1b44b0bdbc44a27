"""Which loop length to reckon with: the scale's, a gauge's, or a guess, and how far each may be off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from bedview.language import filled, gettext
from bedview.plan.gauge import find_gauge
from bedview.plan.loop_length import Relaxation, constants, loop_mm
from bedview.plan.piece import Gauge, Piece, Yarn
from bedview.plan.swatch import KnittedSwatch, pooled_gauge, pooled_state, weighed

LOOP_IN_PITCHES: Final = 2.65
"""Loop length in needle pitches where there is no gauge at all: 8 stitches × 11 rows to the inch on 4.5 mm is
2.62, 16 × 22 to 10 cm on 9 mm is 2.58, by their width 2.68 and 2.64 (derived from Munden's dry constants)."""


class Basis(StrEnum):
    """What a loop length rests on, the best first."""

    SCALE = "scale"
    GAUGE = "gauge"
    OTHER_TENSION = "other_tension"
    OTHER_YARN = "other_yarn"
    PITCH = "pitch"


MARGIN: Final[Mapping[Basis, float]] = {
    # A scale and a ball differ by little; the hand on the carriage does from day to day.
    Basis.SCALE: 0.05,
    # Munden's states differ by 10 % from dry to full, and a swatch's two counts by 5 % from each other.
    Basis.GAUGE: 0.10,
    Basis.OTHER_TENSION: 0.20,
    # The dial sets how much yarn a needle draws, so yarns differ less than dials do.
    Basis.OTHER_YARN: 0.25,
    Basis.PITCH: 0.35,
}
"""The part to buy on top, by what the figure rests on (derived for gauges, else common practice)."""


@dataclass(frozen=True, slots=True)
class LoopLength:
    """Yarn in one stitch, and where the figure comes from.

    Attributes:
        dial: the tension it is for; None while none was set.
        mm: yarn in one stitch.
        stitch_mm: width of one stitch in the fabric.
        basis: what it rests on.
        state: how far the fabric has come to rest, as the constants take it.
        gauge: the gauge it was worked out from, if there is one.
    """

    dial: float | None
    mm: float
    stitch_mm: float
    basis: Basis
    state: Relaxation
    gauge: Gauge | None = None

    @property
    def margin(self) -> float:
        """The part to buy on top."""
        return MARGIN[self.basis]

    def says(self) -> str:
        """Where the figure comes from, in one phrase."""
        match self.basis:
            case Basis.SCALE:
                return gettext("by the weight of a swatch")
            case Basis.GAUGE:
                return gettext("by the gauge at this tension, {state}").format(state=self._rest())
            case Basis.OTHER_TENSION:
                assert self.gauge is not None
                sentence = gettext("by the gauge at tension {tension:g}, {state}, for want of one at this")
                return filled(sentence, tension=self.gauge.tension, state=self._rest())
            case Basis.OTHER_YARN:
                assert self.gauge is not None
                sentence = gettext(
                    "for want of a gauge of this yarn by that of '{yarn}' at tension {tension:g}"
                )
                return filled(sentence, yarn=self.gauge.yarn, tension=self.gauge.tension)
            case Basis.PITCH:
                sentence = gettext("for want of a gauge with {times} needle pitches a stitch")
                return filled(sentence, times=LOOP_IN_PITCHES)

    def _rest(self) -> str:
        match self.state:
            case Relaxation.DRY:
                return gettext("taken as measured off the machine")
            case Relaxation.WET:
                return gettext("taken as washed and rested")
            case Relaxation.FULL:
                return gettext("taken as washed and tumbled")


def loop_length(
    piece: Piece, yarn: Yarn, dial: float | None, swatches: Sequence[KnittedSwatch], state: Relaxation
) -> LoopLength:
    """The loop length to reckon with.

    Args:
        piece: for its gauges and its bed.
        yarn: one of its yarns.
        dial: the tension it is knitted at; None while none was set.
        swatches: swatches on record; a weighed one of this yarn and dial goes before everything, a measured
            one stands in for a gauge that the piece lacks.
        state: how far the gauges of the piece had come to rest.
    """
    own = [each for each in swatches if each.yarn == yarn.id and each.settled]
    here = [each for each in own if each.tension == dial] if dial is not None else own
    found = _gauge(piece, yarn, dial, here, own)
    if found is None:
        return _guess(piece, dial, state)
    gauge, basis, knitted = found
    if knitted:
        state = pooled_state(knitted)
    scale = weighed(here)
    width = gauge.over_mm / gauge.stitches
    by_scale = scale.loop_mm_by_scale(yarn.tex) if scale is not None and yarn.tex is not None else None
    if by_scale is not None:
        return LoopLength(dial, by_scale, width, Basis.SCALE, state, gauge)
    return LoopLength(dial, loop_mm(gauge, state), width, basis, state, gauge)


def tex_of(piece: Piece, yarn: Yarn, swatches: Sequence[KnittedSwatch], state: Relaxation) -> float | None:
    """Tex of a yarn: as the piece says, or else as a weighed and measured swatch does; None if neither.

    A swatch's tex goes with the loop length that is reckoned with at its dial, so that a stitch of the piece
    weighs what one of the swatch does.
    """
    if yarn.tex is not None:
        return yarn.tex
    scale = weighed([each for each in swatches if each.yarn == yarn.id and each.settled])
    if scale is None:
        return None
    return scale.tex_by_scale(loop_length(piece, yarn, scale.tension, swatches, state).mm)


def _gauge(
    piece: Piece,
    yarn: Yarn,
    dial: float | None,
    here: Sequence[KnittedSwatch],
    own: Sequence[KnittedSwatch],
) -> tuple[Gauge, Basis, Sequence[KnittedSwatch]] | None:
    """The gauge to go by, and the swatches it comes from if the piece has none.

    Of this yarn and dial; or of this yarn at the nearest dial; or of whatever yarn at the nearest dial.
    """
    gauge = find_gauge(piece.gauges, yarn.id, dial)
    if gauge is not None:
        return gauge, Basis.GAUGE, ()
    if here and len({each.tension for each in here}) == 1:
        return pooled_gauge(here), Basis.GAUGE, here
    others: list[tuple[Gauge, Sequence[KnittedSwatch]]] = [
        (each, ()) for each in piece.gauges if each.yarn == yarn.id
    ]
    others += [(pooled_gauge([each]), (each,)) for each in own]
    basis = Basis.OTHER_TENSION
    if not others:
        others, basis = [(each, ()) for each in piece.gauges], Basis.OTHER_YARN
    if not others:
        return None
    wanted = others[0][0].tension if dial is None else dial
    gauge, knitted = min(others, key=lambda each: abs(each[0].tension - wanted))
    return gauge, basis, knitted


def _guess(piece: Piece, dial: float | None, state: Relaxation) -> LoopLength:
    pitch_mm = piece.bed.pitch_mm
    width_mm, _height_mm = guessed_stitch_mm(pitch_mm, state)
    return LoopLength(dial, pitch_mm * LOOP_IN_PITCHES, width_mm, Basis.PITCH, state)


def guessed_stitch_mm(pitch_mm: float, state: Relaxation = Relaxation.DRY) -> tuple[float, float]:
    """Width and height of a stitch where there is no gauge at all, from the pitch of the bed."""
    mm, at_rest = pitch_mm * LOOP_IN_PITCHES, constants(state)
    return mm / at_rest.wales, mm / at_rest.courses
