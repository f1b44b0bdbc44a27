"""The trace: every line of a procedure as JSON-ready dictionaries, for other programs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from bedview.bed.actions import (
    Action,
    BindOff,
    CastOn,
    Cut,
    FreeMove,
    Hang,
    HoldCams,
    Knit,
    Note,
    Park,
    Place,
    Resume,
    SetCounter,
    Tension,
    Thread,
    Transfer,
    Wrap,
)
from bedview.bed.events import Event
from bedview.bed.needles import needle_name
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline

WORDS: Final[dict[type[Action], str]] = {
    Thread: "thread",
    Cut: "cut",
    Park: "park",
    Resume: "resume",
    Note: "note",
    HoldCams: "hold_cams",
    Tension: "tension",
    SetCounter: "counter",
    Place: "place",
    CastOn: "cast_on",
    Wrap: "wrap",
    Transfer: "transfer",
    BindOff: "bind_off",
    Hang: "hang",
    FreeMove: "free_move",
    Knit: "knit",
}
"""What a file calls each action."""

_LETTERS: Final = bytes.maketrans(bytes(range(4)), b"owuh")


def trace_lines(timeline: Timeline) -> Iterator[dict[str, Any]]:
    """The lines of a trace in order, one a hand action and one a pass.

    Yields:
        Dictionaries with the keys ``n action do pass row carriage hold_cams tension yarn positions loops knit
        wrapped dropped laid_in``; needles by name, from left to right.
    """
    names = [needle_name(index, timeline.bed.needles) for index in range(timeline.bed.needles)]
    for event, row, state in timeline.walk():
        yield _line(timeline, names, event, row, state)


def _line(timeline: Timeline, names: list[str], event: Event, row: int, state: BedState) -> dict[str, Any]:
    return {
        "n": event.line + row,
        "action": event.action,
        "do": WORDS[type(timeline.actions[event.action])],
        "pass": state.passes,
        "row": state.row,
        "carriage": str(state.carriage),
        "hold_cams": state.hold_cams,
        "tension": state.dial,
        "yarn": timeline.machine.yarns[state.yarn][0] if state.threaded else None,
        "positions": state.position.tobytes().translate(_LETTERS).decode(),
        "loops": state.height.tolist(),
        "knit": [names[needle] for needle in event.knit],
        "wrapped": [names[needle] for needle in event.wrapped],
        "dropped": [names[needle] for needle in event.dropped],
        "laid_in": [names[needle] for needle in event.laid_in],
    }
