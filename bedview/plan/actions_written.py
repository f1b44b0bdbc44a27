"""Actions of the bed as a file writes them: the reverse of :func:`bedview.plan.actions_file.to_action`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final, cast

from bedview.bed import actions as bed
from bedview.bed.needles import format_needles, needle_name
from bedview.plan.actions_file import AnyAction
from bedview.plan.edges_file import to_edge_item

_Writer = Callable[[Any, int], dict[str, Any]]


def _cut(action: bed.Cut, _needles: int) -> dict[str, Any]:
    return {"do": "cut"} if action.tail_cm is None else {"do": "cut", "tail_cm": action.tail_cm}


def _note(action: bed.Note, needles: int) -> dict[str, Any]:
    item = {"do": "note", "text": action.text}
    return item | {"needles": format_needles(action.needles, needles)} if action.needles else item


def _hang(action: bed.Hang, needles: int) -> dict[str, Any]:
    where, edge = format_needles(action.needles, needles), to_edge_item(action.edge, needles)
    item = {"do": "hang", "needles": where, "edge": edge}
    return item | {"turned": True} if action.turned else item


def _knit(action: bed.Knit, _needles: int) -> dict[str, Any]:
    item = {"do": "knit", "rows": action.rows}
    return item if action.start is None else item | {"from": action.start.value}


_WRITERS: Final[Mapping[type, _Writer]] = {
    bed.Thread: lambda action, _: {"do": "thread", "yarn": action.yarn},
    bed.Cut: _cut,
    bed.Park: lambda _action, _: {"do": "park"},
    bed.Resume: lambda action, _: {"do": "resume", "yarn": action.yarn},
    bed.Note: _note,
    bed.HoldCams: lambda action, _: {"do": "hold_cams", "on": action.on},
    bed.Tension: lambda action, _: {"do": "tension", "dial": action.dial},
    bed.SetCounter: lambda action, _: {"do": "counter", "value": action.value},
    bed.Place: lambda action, n: {
        "do": "place",
        "needles": format_needles(action.needles, n),
        "position": action.position.word,
    },
    bed.CastOn: lambda action, n: {"do": "cast_on", "needles": format_needles(action.needles, n)},
    bed.Wrap: lambda action, n: {"do": "wrap", "needle": needle_name(action.needle, n)},
    bed.Transfer: lambda action, n: {
        "do": "transfer",
        "from": needle_name(action.source, n),
        "to": needle_name(action.target, n),
    },
    bed.BindOff: lambda action, n: {"do": "bind_off", "needles": format_needles(action.needles, n)},
    bed.Hang: _hang,
    bed.FreeMove: lambda _action, _: {"do": "free_move"},
    bed.Knit: _knit,
}


def to_item(action: bed.Action, bed_needles: int) -> AnyAction:
    """How a file writes an action; needle lists come from left to right.

    Args:
        action: an action of the bed.
        bed_needles: how many needles the bed has.

    Raises:
        ValueError: for a hang from a made edge without needles, which a file cannot say.
    """
    return cast(AnyAction, _WRITERS[type(action)](action, bed_needles))
