"""Making up, step by step, in an order in which hands can reach everything.

What the piece itself says of its making up is read before a stitch is sewn: a ball is filled before its last
seam. Then loops that still stand on the bed come off. Grafts follow, and the waste of a group comes out only
when every loop of it is caught. Tails that no seam needs are darned in while the piece still lies flat; then
the sides are sewn, the last towards its opening, and what is left of the sewing threads goes into the seams.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from bedview.bed.actions import Note
from bedview.finish.finish_plan import FinishPlan
from bedview.finish.names import Names
from bedview.finish.open_groups import Where
from bedview.finish.sewing_order import Place, Sewing
from bedview.finish.sewing_words import SewingWords
from bedview.finish.told import MakingStep, StepKind

LONG_TAIL_CM: Final = 30.0
"""Nobody leaves so much to darn in: a tail of this length is meant for a seam."""


def making_up(plan: FinishPlan) -> list[MakingStep]:
    """The steps from the last row to the finished piece."""
    return list(_Maker(plan).steps())


class _Maker:
    """Goes through a plan once."""

    def __init__(self, plan: FinishPlan) -> None:
        self._plan = plan
        self._names = Names(plan)
        self._words = SewingWords(plan, self._names)
        self._ = self._names.gettext
        self._out: set[int] = set()

    def steps(self) -> Iterator[MakingStep]:
        """All steps in order."""
        yield from self._notes()
        yield from self._taking_off()
        grafts = [sewing for sewing in self._plan.sewing if sewing.seam.is_graft]
        for place, sewing in enumerate(grafts):
            yield self._sewn(sewing)
            later = {loop for each in grafts[place + 1 :] for side in each.seam.sides for loop in side.loops}
            yield from self._taking_waste_out(sewing, later)
        others = [sewing for sewing in self._plan.sewing if not sewing.seam.is_graft]
        early, late = self._tails_to_darn_in(others)
        yield from self._darning_in(early, seams_follow=bool(others))
        for sewing in others:
            yield self._sewn(sewing)
        yield from self._darning_in(late, sewn=bool(self._plan.sewing))
        yield from self._staying_open()

    # -- groups -------------------------------------------------------------------------------------------

    def _taking_off(self) -> Iterator[MakingStep]:
        for place, group in enumerate(self._plan.groups):
            if group.where is not Where.BED:
                continue
            says = self._(
                "Knit eight rows of waste on them and let them drop, so that they can be reached from both "
                "sides; or bind them off."
            )
            title = self._("Take {count} off the bed").format(count=self._names.loops(len(group.loops)))
            details = (self._("They stand on {needles}.").format(needles=self._names.needles(group.needles)),)
            yield MakingStep(
                StepKind.TAKE_OFF, title, says, details, ("taking_off",), groups=(place,), loops=group.loops
            )

    def _taking_waste_out(self, sewing: Sewing, later: set[int]) -> Iterator[MakingStep]:
        """The waste of the groups of which this graft took the last loops."""
        free = []
        for side in sewing.seam.sides:
            place = side.group
            if place is None or place in self._out or later & set(self._plan.groups[place].loops):
                continue
            self._out.add(place)
            if self._plan.groups[place].on_waste:
                free.append(place)
        if free:
            yield self._waste_out(free)

    def _waste_out(self, places: list[int]) -> MakingStep:
        groups = [self._plan.groups[place] for place in places]
        names = {place: self._names.group(self._plan.groups[place]) for place in places}
        sentences = [self._("The graft holds every loop now.")]
        corded = [self._names.group(group) for group in groups if group.cord]
        if corded:
            text = self._(
                "Pull the ravel cord of {groups} out by one end: the waste comes away in one piece."
            )
            sentences.append(text.format(groups=self._names.listed(corded)))
        if len(corded) < len(groups):
            snip = self._(
                "Snip one stitch of the waste two rows from the fabric, draw that row out, and pick the rest "
                "off the loops."
            )
            if corded:
                snip = self._(
                    "Of the other waste snip one stitch two rows from the fabric, draw that row out, and "
                    "pick the rest off the loops."
                )
            sentences.append(snip)
        details = [self._words.group_line(group) for group in groups]
        for place in places:
            left = self._plan.left_over(place)
            if left:
                text = self._("First catch {count} of {group} that no graft took, or they run.")
                details.append(text.format(count=self._names.loops(len(left)), group=names[place]))
        return MakingStep(
            StepKind.TAKE_OUT_WASTE,
            self._("Take the waste off {groups}").format(groups=self._names.listed(list(names.values()))),
            " ".join(sentences),
            tuple(details),
            groups=tuple(places),
            loops=tuple(loop for group in groups for loop in group.loops),
        )

    def _staying_open(self) -> Iterator[MakingStep]:
        for place in self._open_places():
            group = self._plan.groups[place]
            says = self._(
                "No seam of this piece takes it. Leave it on its waste until it is hung back, bound off, or "
                "joined to another piece."
            )
            details = [self._words.group_line(group)]
            for number in self._kept_for(place):
                text = self._("{end} is long enough to join it with: leave it.")
                details.append(text.format(end=self._names.end(self._plan.ends[number])))
            yield MakingStep(
                StepKind.STAYS_OPEN,
                self._names.opening(self._("{group} stays open").format(group=self._names.group(group))),
                says,
                tuple(details),
                ("hanging_back", "joining_on_the_machine"),
                groups=(place,),
                loops=group.loops,
            )

    def _open_places(self) -> list[int]:
        """Indices of the groups on waste that no seam takes."""
        return [
            place
            for place, group in enumerate(self._plan.groups)
            if group.on_waste and not self._plan.grafts_of(place) and self._plan.left_over(place)
        ]

    def _kept_for(self, place: int) -> list[int]:
        """Tails that were left to join a group with."""
        group = self._plan.groups[place]
        at = {Place(group.needles[end], self._passes_of(group.loops[end])) for end in (0, -1)}
        return [
            number
            for number, end in enumerate(self._plan.ends)
            if end.cm is not None
            and end.cm >= LONG_TAIL_CM
            and any(Place(end.needle, end.passes).is_near(corner) for corner in at)
        ]

    def _passes_of(self, loop: int) -> int:
        return int(self._plan.procedure.timeline.fabric.pass_of(np.array([loop]))[0])

    # -- seams --------------------------------------------------------------------------------------------

    def _sewn(self, sewing: Sewing) -> MakingStep:
        seam = sewing.seam
        cards: tuple[str, ...]
        if seam.is_graft:
            kind = StepKind.GRAFT
            cards = ("grafting_right_side", "grafting_wrong_side", "joining_on_the_machine")
        else:
            kind, cards = StepKind.SEW, ("mattress" if seam.kind == "mattress" else "overcasting",)
        groups = tuple(side.group for side in seam.sides if side.group is not None)
        one, other = self._plan.beside.get(seam.place, (seam.a.loops, seam.b.loops))
        return MakingStep(
            kind,
            self._names.title(seam),
            self._words.says(sewing),
            tuple(self._words.details(sewing)),
            cards,
            seam=seam.place,
            groups=groups,
            ends=() if sewing.tail is None else (sewing.tail,),
            loops=one,
            other_loops=other,
        )

    # -- tails --------------------------------------------------------------------------------------------

    def _tails_to_darn_in(self, others: list[Sewing]) -> tuple[list[int], list[int]]:
        """Tails to darn in before the sides are sewn, and those that go into the seams afterwards."""
        used = {sewing.tail for sewing in self._plan.sewing}
        sewn = {loop for each in others for side in each.seam.sides for loop in side.loops}
        kept = {number for place in self._open_places() for number in self._kept_for(place)}
        early: list[int] = []
        late: list[int] = []
        for number, end in enumerate(self._plan.ends):
            if number in kept:
                continue
            along_a_seam = end.loop in sewn or end.loop in self._plan.inside_seams
            (late if number in used or along_a_seam or not others else early).append(number)
        return early, late

    def _darning_in(
        self, tails: list[int], *, seams_follow: bool = False, sewn: bool = False
    ) -> Iterator[MakingStep]:
        if not tails:
            return
        ends = [self._plan.ends[number] for number in tails]
        says = self._names.ngettext(
            "Darn it in on the wrong side.", "Darn them in on the wrong side.", len(ends)
        )
        if seams_follow:
            says = self._names.ngettext(
                "Darn it in on the wrong side now, while the piece lies flat.",
                "Darn them in on the wrong side now, while the piece lies flat.",
                len(ends),
            )
        elif sewn:
            says = self._names.ngettext(
                "Darn it in on the wrong side, along the seams.",
                "Darn them in on the wrong side, along the seams, each in its own direction.",
                len(ends),
            )
        used = {sewing.tail for sewing in self._plan.sewing}
        left = self._("what is left of {end}")
        details = [
            left.format(end=self._names.end(replace(end, cm=None)))
            if number in used
            else self._names.end(end)
            for number, end in zip(tails, ends, strict=True)
        ]
        details += [self._("Cut it first: it still leads to its ball.") for end in ends if not end.cut][:1]
        if sewn and any(sewing.tail is None for sewing in self._plan.sewing):
            details.append(self._("both ends of every new sewing thread"))
        title = self._names.ngettext("Darn in {count} end", "Darn in {count} ends", len(ends))
        yield MakingStep(
            StepKind.DARN_IN,
            title.format(count=len(ends)),
            says,
            tuple(details),
            ends=tuple(tails),
            loops=tuple(end.loop for end in ends),
        )

    # -- what the piece says itself -----------------------------------------------------------------------

    def _notes(self) -> Iterator[MakingStep]:
        """Notes that stand behind the last pass."""
        notes: list[str] = []
        for action, event in zip(
            reversed(self._plan.procedure.actions),
            reversed(self._plan.procedure.timeline.events),
            strict=False,
        ):
            if event.is_pass:
                break
            if isinstance(action, Note):
                # What starters and demos note is translated too.
                notes.append(self._(action.text))
        if notes:
            first, *others = reversed(notes)
            yield MakingStep(StepKind.NOTE, self._("Before you begin"), first, tuple(others))
