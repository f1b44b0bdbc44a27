"""The bed in plain lists, one needle at a time, straight from the rules.

Decisions where the wording could be read two ways:

* The yarn leaves from the tip; a tip that is on no stack any more (drawn through, bound or dropped) counts as
  standing where it was made.
* The needle the tip stands on is itself one of the needles "from there to the stretch".
* A hand wrap moved by a transfer spares the needle it now lies on, for the pass that comes straight after it.
* Acting and wrapping are decided on the positions at the start of the pass.
* Lists in the trace (knit, wrapped, dropped, laid in) tell of passes; a hand action leaves them empty.
* A stack that comes to an empty needle is a beginning even when it is wraps alone; a wrap never is.
"""

from typing import Any

from tests.reference.fabric import Loop, Strand, rows_of_waste
from tests.reference.needles import BadNeedles, needle_name, read_needles
from tests.reference.steps import Action, CannotDo, Piece, Step

OTHER_SIDE = {"left": "right", "right": "left"}
POSITIONS = ("out", "work", "upper", "hold")


class Bed:
    """The needles, the carriage and the yarns, and what a pass does; hands are elsewhere."""

    def __init__(self, piece: Piece) -> None:
        bed = piece["bed"]
        self.needles: int = bed["needles"]
        self.roles = {yarn["id"]: yarn["role"] for yarn in piece.get("yarns", [])}
        self.positions = ["out"] * self.needles
        self.stacks: list[list[Loop]] = [[] for _ in range(self.needles)]
        self.beginnings = [0] * self.needles
        self.carriage: str = bed.get("carriage", "right")
        self.hold_cams = False
        self.dial: float | None = None
        self.feeder: Strand | None = None
        self.waiting: list[Strand] = []
        self.passes = 0
        self.row = 0
        self.strands: list[Strand] = []
        self.loops: list[Loop] = []
        self.steps: list[Step] = []

    # -- small things ---------------------------------------------------------

    def name(self, needle: int) -> str:
        """The needle as the trade writes it."""
        return needle_name(needle, self.needles)

    def read(self, text: str) -> list[int]:
        """A needle list, or a refusal."""
        try:
            return read_needles(text, self.needles)
        except BadNeedles as reason:
            raise CannotDo(str(reason)) from reason

    def read_one(self, text: str) -> int:
        """A list that names one needle only."""
        needles = self.read(text)
        if len(needles) != 1:
            raise CannotDo(f"{text} is not one needle")
        return needles[0]

    def threaded(self) -> Strand:
        """The strand in the feeder, or a refusal."""
        if self.feeder is None:
            raise CannotDo("no yarn in the feeder")
        return self.feeder

    def standing_on(self, loop: Loop) -> int | None:
        """The needle whose stack holds this loop; None when it has left the bed."""
        for needle in range(self.needles):
            if loop in self.stacks[needle]:
                return needle
        return None

    def make(self, kind: str, needle: int, parents: list[Loop], level: int, by_hand: bool) -> Loop:
        """A new loop of the threaded strand, numbered in order of making; it is not yet on any stack."""
        strand = self.threaded()
        loop = Loop(
            len(self.loops),
            kind,
            needle,
            strand,
            list(parents),
            level,
            self.passes,
            by_hand,
            len(self.steps),
            self.beginnings[needle],
            tuple(parents),
        )
        for parent in parents:
            parent.children.append(loop)
        self.loops.append(loop)
        strand.loops.append(loop)
        return loop

    def put_on(self, needle: int, arriving: list[Loop]) -> None:
        """Loops come to a needle, on top of what lies there; on an empty one its column begins again."""
        if not self.stacks[needle]:
            self.beginnings[needle] += 1
        self.stacks[needle].extend(arriving)

    def lay_wrap(self, needle: int, by_hand: bool) -> None:
        """The strand goes round the needle; its level is that of the uppermost loop that is no wrap."""
        level = 0
        for loop in self.stacks[needle]:
            if not loop.is_wrap:
                level = loop.level
        self.stacks[needle].append(self.make("wrap", needle, [], level, by_hand))

    # -- one line of the trace -------------------------------------------------

    def begin_step(self, number: int, segment: int, words: Action, first_of_action: bool) -> Step:
        role = None if self.feeder is None else self.roles[self.feeder.yarn]
        return Step(
            len(self.steps),
            number,
            segment,
            words,
            self.passes,
            list(self.positions),
            [list(stack) for stack in self.stacks],
            self.hold_cams,
            self.carriage,
            first_of_action,
            role,
        )

    def end_step(self, step: Step) -> None:
        step.after = [list(stack) for stack in self.stacks]
        step.positions_after = list(self.positions)
        step.made = [loop for loop in self.loops if loop.step == step.number]
        step.line = self.trace_line(step)
        self.steps.append(step)

    def trace_line(self, step: Step) -> dict[str, Any]:
        """The line of the trace, its keys as the contract has them, without the file's name."""
        laid_in = [loop.column for loop in step.made if loop.kind == "laid_in"]
        lists = {
            "knit": step.knit,
            "wrapped": step.wrapped,
            "dropped": list(step.dropped),
            "laid_in": laid_in,
        }
        return {
            "n": step.number,
            "action": step.action,
            "do": step.words["do"],
            "pass": self.passes,
            "row": self.row,
            "carriage": self.carriage,
            "hold_cams": self.hold_cams,
            "tension": self.dial,
            "yarn": None if self.feeder is None else self.feeder.yarn,
            "positions": "".join(position[0] for position in self.positions),
            "loops": [len(stack) for stack in self.stacks],
            **{key: [self.name(needle) for needle in sorted(needles)] for key, needles in lists.items()},
        }

    # -- a pass ---------------------------------------------------------------

    def cross(self, step: Step) -> None:
        """The carriage crosses the bed once."""
        self.passes += 1
        self.row += 1
        step.passes = self.passes
        travel = list(range(self.needles))
        if self.carriage == "right":
            travel.reverse()
        self.carriage = OTHER_SIDE[self.carriage]
        acting = [needle for needle in range(self.needles) if self.acts(needle)]
        if self.feeder is None:
            self.drop(acting, step)
        elif acting:
            spared = self.needle_with_hand_wrap_at_tip()
            self.wrap_outside(acting, spared, step)
            self.knit_stretch(acting, spared, travel, step)

    def acts(self, needle: int) -> bool:
        """Whether the carriage moves this needle."""
        position = self.positions[needle]
        return position in ("work", "upper") or (position == "hold" and not self.hold_cams)

    def drop(self, acting: list[int], step: Step) -> None:
        for needle in acting:
            stack = self.stacks[needle]
            self.stacks[needle] = []
            self.positions[needle] = "work"
            if stack:
                step.dropped[needle] = stack
                rows = [rows_of_waste(loop) for loop in stack if not loop.is_fabric and not loop.is_wrap]
                step.waste_rows[needle] = [count for count in rows if count is not None]
            for loop in stack:
                loop.latest_drop = (needle, self.passes)
                if loop.is_fabric and not loop.is_wrap and not loop.children:
                    step.unsecured.append(loop.number)

    def needle_with_hand_wrap_at_tip(self) -> int | None:
        """The needle that gets no second wrap: the tip is a hand wrap that still lies on it."""
        strand = self.threaded()
        if not strand.loops:
            return None
        tip = strand.loops[-1]
        return self.standing_on(tip) if tip.is_wrap and tip.by_hand else None

    def wrap_outside(self, acting: list[int], spared: int | None, step: Step) -> None:
        strand = self.threaded()
        if not strand.loops:
            return
        tip = strand.loops[-1]
        stands = self.standing_on(tip)
        start = tip.column if stands is None else stands
        if start < acting[0]:
            passed = list(range(start, acting[0]))
        elif start > acting[-1]:
            passed = list(range(start, acting[-1], -1))
        else:
            return
        for needle in passed:
            if self.positions[needle] == "hold" and needle != spared:
                self.lay_wrap(needle, by_hand=False)
                step.wrapped_outside.append(needle)
        step.wrapped.extend(step.wrapped_outside)

    def knit_stretch(self, acting: list[int], spared: int | None, travel: list[int], step: Step) -> None:
        for needle in travel:
            if needle in acting:
                self.knit_needle(needle)
                step.knit.append(needle)
            elif acting[0] < needle < acting[-1] and self.positions[needle] == "hold" and needle != spared:
                self.lay_wrap(needle, by_hand=False)
                step.wrapped.append(needle)

    def knit_needle(self, needle: int) -> None:
        stack = self.stacks[needle]
        if stack:
            level = 1 + max(loop.level for loop in stack)
            loop = self.make("knit", needle, stack, level, by_hand=False)
        else:
            self.beginnings[needle] += 1
            loop = self.make("laid_in", needle, [], 0, by_hand=False)
        self.stacks[needle] = [loop]
        self.positions[needle] = "work"
