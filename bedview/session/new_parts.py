"""New parts as they come in, each with values that suit what stands on the bed where it is put."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from pydantic import TypeAdapter

from bedview.bed.needles import Position, format_needles
from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.fields import BedNeedles
from bedview.plan.piece import FORMAT, Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.segments import AnySegment
from bedview.plan.segments.base import Segment
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.scrap_off import ScrapOffSegment
from bedview.session import editing
from bedview.session.editing import Place

_SEGMENT: Final[TypeAdapter[Any]] = TypeAdapter(AnySegment)
Values = dict[str, Any]
USUAL_NEEDLES: Final = 40
TAIL_CM: Final = 40
USUAL_BED: Final = {"needles": 200, "pitch_mm": 4.5, "carriage": "right"}
"""A standard bed (a yarn shop's table of pitches)."""
FIRST_YARNS: Final = (
    {"id": "main", "name": marked("Main yarn"), "role": "fabric", "colour": "#3b6ea5"},
    {"id": "waste", "name": marked("Waste"), "role": "waste", "colour": "#d9a441"},
)


def blank_piece(bed: Mapping[str, float] | None = None) -> Piece:
    """A piece with a bed and two yarns, and no part yet.

    Args:
        bed: what is known of the bed, as a file writes it; a standard one in all else.
    """
    return Piece.read(
        {
            "format": FORMAT,
            "bed": {**USUAL_BED, **(bed or {})},
            "yarns": [yarn | {"name": _(yarn["name"])} for yarn in FIRST_YARNS],
            "segments": [],
        }
    )


@dataclass(frozen=True, slots=True)
class Ground:
    """What a new part finds.

    Attributes:
        bed_needles: needles of the bed.
        working: needles that work there, from the left.
        held: needles in hold there.
        free: needles that bear nothing.
        threaded: whether yarn is in the feeder.
        groups: names of open groups and edges there are.
    """

    bed_needles: int
    working: list[int]
    held: list[int]
    free: list[int]
    threaded: bool
    groups: tuple[str, ...]

    def names(self, needles: list[int]) -> str:
        """The needles as a file names them."""
        return format_needles(needles, self.bed_needles)


def ground_at(piece: Piece, procedure: Procedure, place: Place) -> Ground:
    """What stands on the bed where a part is to be put; as far as the procedure comes."""
    top = place[0]
    spans = procedure.top_spans()
    action = spans[top].start if top < len(spans) else len(procedure.actions)
    timeline = procedure.timeline
    state = timeline.state_at(timeline.line_of_action(action) - 1)
    bears = state.height > 0
    ready = (state.position == Position.WORK) | (state.position == Position.UPPER)
    named = [part.group for part in piece.segments[:top] if isinstance(part, CastOnSegment | ScrapOffSegment)]
    return Ground(
        state.needles,
        np.flatnonzero(bears & ready).tolist(),
        np.flatnonzero(bears & (state.position == Position.HOLD)).tolist(),
        np.flatnonzero(~bears).tolist(),
        state.threaded,
        tuple(name for name in named if name),
    )


def new_part(kind: str, ground: Ground) -> Segment:
    """A part of a kind, with values that suit what stands on the bed."""
    values = _VALUES.get(kind, _nothing)(ground)
    made: Segment = _SEGMENT.validate_python({"kind": kind, **values}, context=BedNeedles(ground.bed_needles))
    return made


def at_the_end(kind: str, piece: Piece) -> Piece:
    """The piece with a part of a kind at its end; waste yarn comes in if it has none and needs it.

    Held needles are brought back first.
    """
    if kind == "scrap_off" and all(yarn.role != "waste" for yarn in piece.yarns):
        piece = editing.with_yarn(piece, len(piece.yarns), dict(FIRST_YARNS[1]))
    procedure = compile_piece(piece)
    end = (len(piece.segments),)
    ground = ground_at(piece, procedure, end)
    parts: list[Segment] = []
    if ground.held:
        back = _SEGMENT.validate_python({"kind": "bring_back", "ends": "all_at_once"})
        piece = editing.inserted(piece, end, [back])
        end = (len(piece.segments),)
        ground = ground_at(piece, compile_piece(piece), end)
    parts.append(new_part(kind, ground))
    return editing.inserted(piece, end, parts)


def _nothing(_ground: Ground) -> Values:
    return {}


def _cast_on(ground: Ground) -> Values:
    middle = ground.bed_needles // 2
    half = min(USUAL_NEEDLES // 2, middle)
    wanted = list(range(middle - half, middle + half))
    if set(wanted) <= set(ground.free):
        return {"needles": ground.names(wanted)}
    beside = [needle for needle in ground.free if needle > max({*range(ground.bed_needles)} - {*ground.free})]
    return {"needles": ground.names((beside or ground.free or [0])[:10])}


def _short_rows(ground: Ground) -> Values:
    return {"down_to": max(1, len(ground.working) // 3), "back": {}}


def _set_aside(ground: Ground) -> Values:
    quarter = max(1, len(ground.working) // 4)
    if len(ground.working) < 3:
        return {"groups": ["L1"]}
    return {"groups": [ground.names(ground.working[:quarter]), ground.names(ground.working[-quarter:])]}


def _shaping(ground: Ground) -> Values:
    return {"stitches": max(1, min(5, (len(ground.working) - 2) // 4))}


def _bring_back(ground: Ground) -> Values:
    return {"ends": "in_turn"} if ground.threaded else {"ends": "all_at_once"}


def _hang(ground: Ground) -> Values:
    return {"group": ground.groups[-1] if ground.groups else "edge"}


_VALUES: Final[Mapping[str, Callable[[Ground], Values]]] = {
    "cast_on": _cast_on,
    "plain": lambda _ground: {"rows": 10},
    "short_rows": _short_rows,
    "set_aside": _set_aside,
    "bring_back": _bring_back,
    "narrow": _shaping,
    "widen": _shaping,
    "hem": lambda _ground: {"rows": 6, "tension": 6},
    "scrap_off": lambda _ground: {"tail_cm": TAIL_CM},
    "hang": _hang,
    "bind_off": lambda _ground: {"tail_cm": TAIL_CM},
    "repeat": lambda _ground: {"times": 2, "segments": [{"kind": "plain", "rows": 2}]},
    "actions": lambda _ground: {"actions": [{"do": "note", "text": _("look at the piece")}]},
}
