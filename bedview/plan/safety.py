"""Where hands or feet can be hurt: one short line, the first time it is due in a part."""

from __future__ import annotations

from typing import Final

from bedview.bed.actions import BindOff, CastOn, FreeMove, Hang, Transfer, Wrap
from bedview.plan.procedure import Procedure
from bedview.plan.steps import Step

_AT_HOOKS: Final = (BindOff, CastOn, Hang, Transfer, Wrap)


def cautions(procedure: Procedure, step: int, *, weights_move: bool = False) -> tuple[str, ...]:
    """What to mind in a step.

    Args:
        procedure: the procedure.
        step: number of the step.
        weights_move: whether weights are hung or moved before it.
    """
    _ = procedure.words.gettext
    here = procedure.steps[step]
    told = []
    if _at_hooks(procedure, here) and not _was_at_hooks(procedure, here):
        told.append(_("Mind your fingers: hooks are sharp, and latches pinch."))
    if _lifts_carriage(procedure, here):
        told.append(_("Take the carriage in both hands: it is heavy."))
    if here.makes_pass and _drops(procedure, here):
        told.append(_("What drops falls with its weights: hold it, and keep your feet from under it."))
    elif weights_move:
        told.append(_("Hold a weight while you unhook it: it falls on feet."))
    return tuple(told)


def _at_hooks(procedure: Procedure, step: Step) -> bool:
    actions = procedure.timeline.actions
    return any(isinstance(actions[number], _AT_HOOKS) for number in step.actions)


def _was_at_hooks(procedure: Procedure, step: Step) -> bool:
    """Whether hands were at the hooks in an earlier step of the same part."""
    for earlier in reversed(procedure.steps[: step.number]):
        if earlier.span != step.span:
            return False
        if _at_hooks(procedure, earlier):
            return True
    return False


def _lifts_carriage(procedure: Procedure, step: Step) -> bool:
    actions = procedure.timeline.actions
    return any(isinstance(actions[number], FreeMove) for number in step.actions)


def _drops(procedure: Procedure, step: Step) -> bool:
    event = procedure.timeline.event_of(step.last_line)
    return event.yarn < 0 and len(event.dropped) > 0
