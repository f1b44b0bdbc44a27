"""From a timeline to what is to be seen at one of its lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import Action, BindOff, CastOn, FreeMove, Hang, Knit, Note, Place, Transfer, Wrap
from bedview.bed.fabric import Fabric, is_wrap
from bedview.bed.needles import Side
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.picture.bed_scene import BedScene, ComingPass, Touch, TouchKind, View, YarnSeen, default_yarns
from bedview.picture.fabric_window import fabric_below


def scene_at(
    timeline: Timeline,
    line: int,
    *,
    coming: range = range(0),
    yarns: Sequence[YarnSeen] | None = None,
    view: View | None = None,
) -> BedScene:
    """The bed as it stands after a line, with what comes next marked on it.

    Args:
        timeline: the procedure as it ran.
        line: lines are counted from 0; -1 is the bed before anything was done.
        coming: the lines of the step that comes next: hand actions, then at most one pass.
        yarns: the piece's yarns as they look; None for colours of our own choice.
        view: how it is looked at.
    """
    state = timeline.state_at(line)
    view = view or View()
    seen = tuple(yarns) if yarns is not None else default_yarns(timeline.fabric.roles)
    touches, to_come = what_comes(timeline, state, coming)
    return scene_of(timeline.fabric, state, seen, touches=touches, coming=to_come, view=view)


def scene_of(
    fabric: Fabric,
    state: BedState,
    yarns: Sequence[YarnSeen],
    *,
    touches: Sequence[Touch] = (),
    coming: ComingPass | None = None,
    view: View | None = None,
) -> BedScene:
    """The bed in a given state, with its fabric below."""
    view = view or View()
    loop_yarn, wrap_yarn = _yarns_on_needles(fabric, state)
    tip, tip_is_wrap = _tip(fabric, state)
    made = fabric.needle
    return BedScene(
        positions=state.position.copy(),
        loops=state.height - state.wraps,
        wraps=state.wraps.copy(),
        loop_yarn=loop_yarn,
        wrap_yarn=wrap_yarn,
        yarns=tuple(yarns),
        carriage=state.carriage,
        hold_cams=state.hold_cams,
        dial=state.dial,
        feeder=int(state.yarn) if state.threaded else -1,
        tip=tip,
        tip_is_wrap=tip_is_wrap,
        row=state.row,
        passes=state.passes,
        used=(int(made.min()), int(made.max())) if len(made) else None,
        fabric=fabric_below(fabric, state.top, view.depth),
        touches=tuple(touches),
        coming=coming,
        view=view,
    )


def _yarns_on_needles(fabric: Fabric, state: BedState) -> tuple[npt.NDArray[np.int32], npt.NDArray[np.int32]]:
    """Yarn of the uppermost loop and of the uppermost wrap on each needle, -1 for none."""
    count = state.needles
    loop_yarn = np.full(count, -1, np.int32)
    wrap_yarn = np.full(count, -1, np.int32)
    nodes = state.top
    while (nodes >= 0).any():
        on = np.flatnonzero(nodes >= 0)
        loops = fabric.loops_of(nodes[on])
        wraps = is_wrap(fabric.kind[loops])
        for target, chosen in ((wrap_yarn, wraps), (loop_yarn, ~wraps)):
            fresh = on[chosen & (target[on] < 0)]
            target[fresh] = fabric.yarn_of(fabric.loops_of(nodes[fresh]))
        nodes = fabric.below_of(nodes)
    return loop_yarn, wrap_yarn


def _tip(fabric: Fabric, state: BedState) -> tuple[int, bool]:
    """The needle where the strand's last loop stands, -1 if it left the bed; and whether it is a wrap."""
    if not state.threaded or state.tip < 0:
        return -1, False
    made_on = int(fabric.needle[state.tip])
    order = [made_on, *(needle for needle in np.flatnonzero(state.height).tolist() if needle != made_on)]
    for needle in order:
        if state.tip in fabric.stack(int(state.top[needle])):
            return needle, fabric.is_wrap(state.tip)
    return -1, False


def what_comes(timeline: Timeline, state: BedState, coming: range) -> tuple[list[Touch], ComingPass | None]:
    """Touches of the hand actions on these lines, and the first pass among them.

    Args:
        timeline: the procedure as it ran.
        state: the state before the first of these lines.
        coming: lines of one step.
    """
    touches: list[Touch] = []
    positions = state.position.copy()
    side: Side = state.carriage
    for line in coming:
        action = timeline.actions[timeline.action_of_line(line)]
        if isinstance(action, FreeMove):
            side = side.other
        if isinstance(action, Knit):
            event = timeline.event_of(line)
            return touches, ComingPass(side.other, event.knit, event.wrapped, event.dropped)
        touches += touches_of(action, positions)
    return touches, None


def touches_of(action: Action, positions: npt.NDArray[np.uint8]) -> Iterable[Touch]:
    """What an action touches; ``positions`` are brought up to what it does, and say what is already there."""
    match action:
        case Place(needles, to):
            moved = tuple(needle for needle in needles if positions[needle] != to)
            positions[list(needles)] = to
            return [Touch(TouchKind.PLACE, moved, to=to)] if moved else []
        case Wrap(needle):
            return [Touch(TouchKind.WRAP, (needle,))]
        case CastOn(needles):
            return [Touch(TouchKind.CAST_ON, needles)]
        case Transfer(source, target):
            return [Touch(TouchKind.TRANSFER, (source,), target=target)]
        case BindOff(needles):
            return [Touch(TouchKind.BIND_OFF, needles)]
        case Hang(needles):
            return [Touch(TouchKind.HANG, needles)]
        case Note(_, needles) if needles:
            return [Touch(TouchKind.POINT, needles)]
        case _:
            return []
