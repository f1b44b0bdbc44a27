"""How wide and how high each stitch wants to lie, by the swatches of the piece.

Where no swatch tells, the pitch of the bed has to, by the same guess as the yarn is reckoned with.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import Tension
from bedview.bed.timeline import Timeline
from bedview.language import filled
from bedview.language import gettext as _
from bedview.plan.gauge import find_gauge
from bedview.plan.loop_choice import guessed_stitch_mm
from bedview.plan.piece import Gauge, Piece

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class StitchSizes:
    """Sizes of stitches at rest.

    Attributes:
        width_mm: of each loop asked for.
        height_mm: of each loop asked for.
        notes: what was assumed, a sentence each; empty where swatches tell all.
    """

    width_mm: Floats
    height_mm: Floats
    notes: tuple[str, ...]


def stitch_sizes(piece: Piece, timeline: Timeline, loops: npt.NDArray[np.integer]) -> StitchSizes:
    """Sizes of some loops by their yarn and the tension dial they were made at."""
    width, height = np.zeros(len(loops)), np.zeros(len(loops))
    if not len(loops):
        return StitchSizes(width, height, ())
    dials = _dials(timeline)[timeline.fabric.action_of(loops)]
    yarns = timeline.fabric.yarn_of(loops)
    notes: list[str] = []
    # One number for each pair of yarn and dial, and where each loop's pair stands among them.
    pairs, which = np.unique(np.stack((yarns.astype(np.float64), dials)), axis=1, return_inverse=True)
    for place, (yarn, number) in enumerate(pairs.T.tolist()):
        dial = None if number < 0 else number
        size, note = _size(piece, piece.yarns[int(yarn)].id, dial)
        mine = which.ravel() == place
        width[mine], height[mine] = size
        if note and note not in notes:
            notes.append(note)
    return StitchSizes(width, height, tuple(notes))


def _dials(timeline: Timeline) -> Floats:
    """The tension dial at each action; -1 while none was set."""
    dials = np.full(len(timeline.actions) + 1, -1.0)
    for number, action in enumerate(timeline.actions):
        if isinstance(action, Tension):
            dials[number:] = action.dial
    return dials


def _size(piece: Piece, yarn: str, dial: float | None) -> tuple[tuple[float, float], str]:
    """Width and height of a stitch in millimetres, and what had to be assumed."""
    gauge = find_gauge(piece.gauges, yarn, dial)
    if gauge is not None:
        return _of_gauge(gauge), ""
    of_yarn = [gauge for gauge in piece.gauges if gauge.yarn == yarn]
    if of_yarn:
        near = min(of_yarn, key=lambda gauge: abs(gauge.tension - dial) if dial is not None else 0.0)
        text = _("No swatch of '{yarn}' at tension {dial:g}: the one at tension {near:g} is taken.")
        if dial is None:
            text = _("No swatch of '{yarn}' with no tension set: the one at tension {near:g} is taken.")
        return _of_gauge(near), filled(text, yarn=yarn, dial=dial or 0.0, near=near.tension)
    width, height = guessed_stitch_mm(piece.bed.pitch_mm)
    text = _(
        "No swatch of '{yarn}': {stitches:.3g} stitches and {rows:.3g} rows to 10 cm are assumed "
        "from the pitch of {pitch:g} mm."
    )
    note = filled(text, yarn=yarn, stitches=100 / width, rows=100 / height, pitch=piece.bed.pitch_mm)
    return (width, height), note


def _of_gauge(gauge: Gauge) -> tuple[float, float]:
    return gauge.over_mm / gauge.stitches, gauge.over_mm / gauge.rows
