"""What if: slip a mistake in at one step and see what becomes of the fabric. The piece is not touched."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

from bedview.bed.actions import Action, FreeMove, HoldCams, Knit, Park, Place, Resume, Wrap
from bedview.bed.needles import Position, Side, format_needles
from bedview.bed.rules import Refused
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.checks.finding import Finding, Severity
from bedview.checks.folding import Folded, fold
from bedview.checks.judge import judge
from bedview.language import gettext as _
from bedview.language import ngettext
from bedview.picture.words import needles_in_words
from bedview.plan.procedure import Procedure
from bedview.plan.steps import Step, Voice, cut_into_steps

MOST_PASSES_ON: Final = 60
"""How far the procedure is played on after the mistake: far enough to show, near enough to follow."""


class Mistake(Enum):
    """What can go wrong at a step."""

    CAMS_FORGOTTEN = "cams forgotten"
    WRONG_SIDE = "wrong side"
    WRAP_MISSED = "wrap missed"
    FEEDER_EMPTY = "feeder empty"
    NEEDLE_LEFT = "needle left"


@dataclass(frozen=True, slots=True)
class Slip:
    """A mistake that can be made at some step, in the words of a button ("R10 stays in work")."""

    mistake: Mistake
    words: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What becomes of the fabric after a slip.

    Attributes:
        slip: what was slipped in.
        step: the step it was slipped into.
        timeline: the procedure with the mistake in it, played on for some passes.
        steps: its steps from the first; those before ``step`` are the plan's.
        new: findings that the plan does not have, folded, the worst first.
        stopped: why it could not be played on, or empty.
    """

    slip: Slip
    step: int
    timeline: Timeline
    steps: tuple[Step, ...]
    new: tuple[Folded, ...]
    stopped: str


def slips_at(procedure: Procedure, step: int) -> list[Slip]:
    """The mistakes that can be made at a step, those that matter most first."""
    here = procedure.steps[step]
    timeline = procedure.timeline
    before = timeline.state_at(here.first_line - 1)
    after = timeline.state_at(here.last_line)
    needles = timeline.bed.needles
    found: list[Slip] = []
    held = _held_bearing(after)
    if here.makes_pass and after.hold_cams and len(held):
        found.append(Slip(Mistake.CAMS_FORGOTTEN, _("the hold cams are off")))
    moved = [action for action in _actions_of(procedure, here) if isinstance(action, Place)]
    if moved:
        found.append(Slip(Mistake.NEEDLE_LEFT, _stays(moved, before, needles)))
    wraps = [action.needle for action in _actions_of(procedure, here) if isinstance(action, Wrap)]
    if wraps:
        found.append(
            Slip(
                Mistake.WRAP_MISSED,
                _("{needles} is not wrapped").format(needles=format_needles(wraps, needles)),
            )
        )
    if here.makes_pass:
        text = _("the carriage stands on the left")
        if before.carriage.other is Side.RIGHT:
            text = _("the carriage stands on the right")
        found.append(Slip(Mistake.WRONG_SIDE, text))
        if after.threaded:
            found.append(Slip(Mistake.FEEDER_EMPTY, _("the feeder is empty")))
    return found


def what_if(procedure: Procedure, step: int, slip: Slip) -> Outcome:
    """Make a mistake at a step and play on.

    Args:
        procedure: the plan; it stays as it is.
        step: index of the step.
        slip: one of :func:`slips_at` that step.
    """
    here = procedure.steps[step]
    timeline = procedure.timeline.fork(here.first_line - 1)
    planned = len(timeline.actions)
    stopped = _play(timeline, _with_mistake(procedure, here, slip.mistake))
    if not stopped:
        stopped = _play(timeline, _rest(procedure, here, timeline.passes + MOST_PASSES_ON))
    new = _new_findings(procedure, timeline)
    return Outcome(slip, step, timeline, _steps(procedure, here, timeline, planned), new, stopped)


def _held_bearing(state: BedState) -> list[int]:
    return [int(needle) for needle in state.held if state.height[needle]]


def _stays(places: Sequence[Place], before: BedState, needles: int) -> str:
    """Words for needles that are forgotten ("R10 stays in work")."""
    moved = sorted({needle for place in places for needle in place.needles})
    where = Position(int(before.position[moved[0]]))
    many = len(moved)
    text = {
        Position.OUT: ngettext("{needles} stays out of work", "{needles} stay out of work", many),
        Position.WORK: ngettext("{needles} stays in work", "{needles} stay in work", many),
        Position.UPPER: ngettext("{needles} stays in upper working", "{needles} stay in upper working", many),
        Position.HOLD: ngettext("{needles} stays in hold", "{needles} stay in hold", many),
    }[where]
    return text.format(needles=needles_in_words(moved, needles))


def _actions_of(procedure: Procedure, step: Step) -> list[Action]:
    """The actions of one step; of a ``knit`` of many rows, the one row."""
    timeline = procedure.timeline
    found: list[Action] = []
    for number in range(
        timeline.action_of_line(step.first_line), timeline.action_of_line(step.last_line) + 1
    ):
        action = timeline.actions[number]
        found.append(Knit(1, action.start) if isinstance(action, Knit) else action)
    return found


def _with_mistake(procedure: Procedure, step: Step, mistake: Mistake) -> list[Action]:
    """The step's actions with the mistake among them."""
    actions = _actions_of(procedure, step)
    hands, passes = (actions[:-1], actions[-1:]) if step.makes_pass else (actions, [])
    match mistake:
        case Mistake.CAMS_FORGOTTEN:
            hands = [action for action in hands if not isinstance(action, HoldCams)]
            return [*hands, HoldCams(on=False), *passes]
        case Mistake.NEEDLE_LEFT:
            # A needle that never came to hold cannot be wrapped there either.
            left = {needle for action in hands if isinstance(action, Place) for needle in action.needles}
            kept = [action for action in hands if not isinstance(action, Place)]
            kept = [action for action in kept if not (isinstance(action, Wrap) and action.needle in left)]
            return [*kept, *passes]
        case Mistake.WRAP_MISSED:
            return [*(action for action in hands if not isinstance(action, Wrap)), *passes]
        case Mistake.WRONG_SIDE:
            return [*hands, FreeMove(), *passes]
        case Mistake.FEEDER_EMPTY:
            yarn = procedure.timeline.state_at(step.last_line).yarn
            name = procedure.timeline.machine.yarns[yarn][0]
            return [*hands, Park(), *passes, Resume(name)]


def _rest(procedure: Procedure, step: Step, most_passes: int) -> list[Action]:
    """What follows a step, until so many passes are made."""
    timeline = procedure.timeline
    number = timeline.action_of_line(step.last_line)
    action = timeline.actions[number]
    rest: list[Action] = []
    passes = timeline.pass_of_line(step.last_line)
    if isinstance(action, Knit):
        done = step.last_line - timeline.line_of_action(number) + 1
        if action.rows > done:
            rest.append(Knit(min(action.rows - done, MOST_PASSES_ON)))
            passes += action.rows - done
    for following in timeline.actions[number + 1 :]:
        if passes >= most_passes:
            break
        rows = following.rows if isinstance(following, Knit) else 0
        allowed = min(rows, most_passes - passes)
        rest.append(Knit(allowed, following.start) if isinstance(following, Knit) else following)
        passes += rows
    return rest


def _steps(procedure: Procedure, step: Step, timeline: Timeline, planned: int) -> tuple[Step, ...]:
    """Steps of what was played: the first ``planned`` actions as the plan cuts them, the rest as one part."""
    spans = [replace(span, stop=min(span.stop, planned)) for span in procedure.spans if span.start < planned]
    here = procedure.spans[step.span]
    rest = replace(here, start=planned, stop=len(timeline.actions))
    return cut_into_steps([*spans, rest], Voice(timeline, procedure.words, {}))


def _play(timeline: Timeline, actions: Sequence[Action]) -> str:
    """Do actions until one is refused; the reason then, or empty."""
    for action in actions:
        try:
            timeline.append(action)
        except Refused as refused:
            return refused.message
    return ""


def _new_findings(procedure: Procedure, timeline: Timeline) -> tuple[Folded, ...]:
    """Findings of the mistaken procedure that the plan does not have, up to the pass it was played to."""
    planned = Counter(_what(finding) for finding in judge(procedure.timeline))
    new: list[Finding] = []
    for finding in judge(timeline):
        if finding.rule == "stitches-left":
            continue  # It was only not played to its end.
        what = _what(finding)
        if planned[what]:
            planned[what] -= 1
        else:
            new.append(finding)
    folded = fold(new, lambda _: 0, timeline.bed.needles)
    return tuple(each for each in folded if each.severity is not Severity.NOTE or each.rule == "opening")


def _what(finding: Finding) -> tuple[str, int, tuple[int, ...]]:
    return finding.rule, finding.pass_number, finding.needles
