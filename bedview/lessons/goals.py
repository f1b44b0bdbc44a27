"""Goals: what must be so in the end, whatever the hands did to get there.

Each kind of goal looks at the bed or the fabric and, where it is not reached, gives the needles and the
reason. What to say besides is the lesson's: ``says`` is the feedback, and ``{needles}`` in it stands for the
needles found.
"""

from __future__ import annotations

import re
from abc import abstractmethod
from dataclasses import dataclass
from typing import Annotated, Final, Literal, Self

import numpy as np
from pydantic import AfterValidator, BaseModel, Field, model_validator

from bedview.bed.needles import Position, Side, parse_needles
from bedview.bed.timeline import Timeline
from bedview.language import gettext as _
from bedview.lessons import because
from bedview.plan.fields import STRICT, CounterValue, NeedleList, PositionWord, SideWord, YarnId
from bedview.plan.words import Words

_BRACES: Final = re.compile(r"\{[^}]*\}?|\}")


def _only_needles(text: str) -> str:
    for found in _BRACES.findall(text):
        if found != "{needles}":
            raise ValueError(_("nothing but {needles} may stand in braces"))
    return text


Feedback = Annotated[str, Field(min_length=1, max_length=1_000), AfterValidator(_only_needles)]


@dataclass(frozen=True, slots=True)
class Look:
    """What a goal looks at.

    Attributes:
        timeline: what was done, to its end.
        words: the language, and the names of needles and yarns.
    """

    timeline: Timeline
    words: Words

    @property
    def bed_needles(self) -> int:
        """How many needles the bed has."""
        return self.timeline.bed.needles

    def named(self, needles: str) -> list[int]:
        """Indices of a needle list, ascending."""
        return sorted(parse_needles(needles, self.bed_needles))


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a goal is not reached.

    Attributes:
        needles: where, indices from the left; none where no needle is at fault.
        because: the reason, in full sentences; empty where the needles say all.
    """

    needles: tuple[int, ...] = ()
    because: str = ""


class Goal(BaseModel):
    """What must be so in the end."""

    model_config = STRICT

    says: Feedback

    @abstractmethod
    def fault(self, look: Look) -> Fault | None:
        """What is not yet so; None if all is."""

    def names_yarn(self) -> str | None:
        """The yarn it is about, if it is about one."""
        return None


class PositionGoal(Goal):
    """These needles stand in a position."""

    kind: Literal["position"]
    needles: NeedleList
    position: PositionWord

    def fault(self, look: Look) -> Fault | None:
        """Needles that stand elsewhere, and what moved them last."""
        wanted = Position.from_word(self.position)
        positions = look.timeline.state.position
        wrong = [needle for needle in look.named(self.needles) if positions[needle] != wanted]
        if not wrong:
            return None
        return Fault(tuple(wrong), self._because(look, wrong))

    def _because(self, look: Look, wrong: list[int]) -> str:
        state = look.timeline.state
        if self.position == "hold" and look.timeline.events and look.timeline.events[-1].is_pass:
            last = look.timeline.state_at(look.timeline.lines - 2)
            taken = [needle for needle in wrong if last.position[needle] == Position.HOLD]
            if taken:
                return because.why_now(look.timeline, look.words, taken[0])
        first = Position(int(state.position[wrong[0]]))
        alike = [needle for needle in wrong if state.position[needle] == first]
        return because.stands(look.words, alike, first)


class LoopsGoal(Goal):
    """These needles bear so many stitches each, wraps not counted."""

    kind: Literal["loops"]
    needles: NeedleList
    each: Annotated[int, Field(ge=0, le=99)]

    def fault(self, look: Look) -> Fault | None:
        """Needles that bear more or fewer, and how that came."""
        state = look.timeline.state
        borne = state.height - state.wraps
        wrong = [needle for needle in look.named(self.needles) if borne[needle] != self.each]
        if not wrong:
            return None
        first = wrong[0]
        reason = "" if borne[first] else because.why_dropped(look.timeline, look.words, first)
        if not reason:
            text = look.words.ngettext(
                "{needle} bears {count} stitch.", "{needle} bears {count} stitches.", int(borne[first])
            )
            reason = text.format(needle=look.words.needles([first]), count=int(borne[first]))
        return Fault(tuple(wrong), reason)


class CountGoal(Goal):
    """A goal that is reached from ``least`` to ``most``."""

    least: int
    most: int

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.least > self.most:
            raise ValueError(
                _("least is more than most: {least} and {most}").format(least=self.least, most=self.most)
            )
        return self


class WrapsGoal(CountGoal):
    """These needles bear at least so many wraps each, and no more than ``most``."""

    kind: Literal["wraps"]
    needles: NeedleList
    least: Annotated[int, Field(ge=0, le=99)]
    most: Annotated[int, Field(ge=0, le=99)] = 99

    def fault(self, look: Look) -> Fault | None:
        """Needles with too few or too many, and how that came."""
        wraps = look.timeline.state.wraps
        named = look.named(self.needles)
        wrong = [needle for needle in named if not self.least <= wraps[needle] <= self.most]
        if not wrong:
            return None
        first = wrong[0]
        if wraps[first] < self.least:
            return Fault(tuple(wrong), because.why_unwrapped(look.timeline, look.words, first))
        top = int(look.timeline.fabric.loops_of(look.timeline.state.top[[first]])[0])
        return Fault(tuple(wrong), because.why_loop(look.timeline, look.words, top))


class CarriageGoal(Goal):
    """The carriage stands on this side."""

    kind: Literal["carriage"]
    side: SideWord

    def fault(self, look: Look) -> Fault | None:
        """Where it stands instead."""
        stands = look.timeline.state.carriage
        if stands is Side(self.side):
            return None
        return Fault((), look.words.gettext("It stands on {side}.").format(side=look.words.side(stands)))


class HoldCamsGoal(Goal):
    """The hold cams are set so."""

    kind: Literal["hold_cams"]
    on: bool

    def fault(self, look: Look) -> Fault | None:
        """How they are set instead."""
        if look.timeline.state.hold_cams == self.on:
            return None
        _ = look.words.gettext
        return Fault((), _("The hold cams are off.") if self.on else _("The hold cams are on."))


class YarnGoal(Goal):
    """This yarn is in the feeder; ``null`` for none."""

    kind: Literal["yarn"]
    yarn: YarnId | None

    def names_yarn(self) -> str | None:
        """The yarn."""
        return self.yarn

    def fault(self, look: Look) -> Fault | None:
        """What is in the feeder instead."""
        state = look.timeline.state
        found = look.timeline.machine.yarns[state.yarn][0] if state.threaded else None
        if found == self.yarn:
            return None
        _ = look.words.gettext
        if found is None:
            return Fault((), _("The feeder is empty."))
        return Fault((), _("In the feeder is {yarn}.").format(yarn=look.words.yarn(found)))


class CounterGoal(Goal):
    """The row counter shows this number."""

    kind: Literal["counter"]
    value: CounterValue

    def fault(self, look: Look) -> Fault | None:
        """What it shows instead."""
        row = look.timeline.state.row
        if row == self.value:
            return None
        return Fault((), look.words.gettext("It shows {row}.").format(row=row))


class RowsGoal(CountGoal):
    """So many rows of fabric were knitted on each of these needles since the cast-on."""

    kind: Literal["rows"]
    needles: NeedleList
    least: Annotated[int, Field(ge=0, le=9999)]
    most: Annotated[int, Field(ge=0, le=9999)] = 9999

    def fault(self, look: Look) -> Fault | None:
        """Needles with too few or too many rows, and how many."""
        rows = rows_by_column(look.timeline)
        named = look.named(self.needles)
        wrong = [needle for needle in named if not self.least <= rows[needle] <= self.most]
        if not wrong:
            return None
        first, count = wrong[0], int(rows[wrong[0]])
        text = look.words.ngettext("{needle} has {count} row", "{needle} has {count} rows", count)
        told = text.format(needle=look.words.needles([first]), count=count)
        if count < self.least:
            reason = look.words.gettext("{told}, and {least} are wanted.").format(told=told, least=self.least)
        else:
            reason = look.words.gettext("{told}, and {most} are enough.").format(told=told, most=self.most)
        return Fault(tuple(wrong), reason)


def rows_by_column(timeline: Timeline) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    """How many loops of fabric passes knitted in each column, shape (needles of the bed,)."""
    fabric = timeline.fabric
    loops = knitted(timeline)
    return np.bincount(fabric.needle[loops], minlength=timeline.bed.needles)


def knitted(timeline: Timeline) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    """Ids of the loops that passes knitted or laid in with yarn that stays, in order of making."""
    fabric = timeline.fabric
    loops = np.flatnonzero(np.isin(fabric.kind, (1, 2)))
    return loops[~fabric.waste(loops)] if len(loops) else loops
