"""What does not fit: missing edges, counts that differ, loops that nothing takes, tails too short."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from bedview.finish.finish_plan import FinishPlan
from bedview.finish.names import Names
from bedview.finish.open_groups import Where
from bedview.finish.seam_plan import SeamPlan, SeamSide
from bedview.finish.told import Misfit
from bedview.language import filled


def does_not_fit(plan: FinishPlan) -> list[Misfit]:
    """All of it: seam by seam in the order of the piece, then group by group."""
    judge = _Judge(plan)
    found = [*judge.missing(), *(each for seam in plan.seams for each in judge.seam(seam))]
    found.extend(judge.short_tails())
    found.sort(key=lambda each: -1 if each.seam is None else each.seam)
    return [*found, *judge.groups()]


class _Judge:
    """Looks at one piece."""

    def __init__(self, plan: FinishPlan) -> None:
        self._plan = plan
        self._names = Names(plan)
        self._ = self._names.gettext

    def missing(self) -> Iterator[Misfit]:
        """Edges that are not there."""
        for problem in self._plan.problems:
            text = self._("Seam {number} has no edge {edge}: {why}.")
            yield Misfit(
                "edge-missing",
                "error",
                text.format(number=problem.place + 1, edge=problem.edge, why=problem.message),
                self._("Name loops that are there at the end, or take the seam out."),
                seam=problem.place,
            )

    def seam(self, seam: SeamPlan) -> Iterator[Misfit]:
        """What is wrong with one seam."""
        if seam.is_graft:
            yield from self._counts(seam)
            yield from self._twice(seam)
        elif not seam.a.loops or not seam.b.loops:
            text = self._("{seam}: the part left open is as long as the seam.")
            yield Misfit(
                "opening-too-long",
                "error",
                text.format(seam=self._names.title(seam)),
                self._("Leave less of it open."),
                seam=seam.place,
            )
        elif seam.puckers:
            yield self._easing(seam)

    # -- grafts -------------------------------------------------------------------------------------------

    def _counts(self, seam: SeamPlan) -> Iterator[Misfit]:
        a, b = len(seam.a.loops), len(seam.b.loops)
        if a == b:
            return
        text = self._("{seam}: {a} meet {b}; {more} without a partner.")
        longer, shorter = (seam.a, seam.b) if a > b else (seam.b, seam.a)
        says = text.format(
            seam=self._names.title(seam),
            a=self._names.loops(a),
            b=self._names.loops(b),
            more=self._names.loops(abs(a - b)),
        )
        yield Misfit("graft-counts", "error", says, self._way_to_equal(longer, shorter), seam=seam.place)

    def _way_to_equal(self, longer: SeamSide, shorter: SeamSide) -> str:
        more = len(longer.loops) - len(shorter.loops)
        inside = [
            needle
            for needle, loop in zip(longer.needles, longer.loops, strict=True)
            if loop in self._plan.inside_seams
        ]
        if len(inside) == more:
            text = self._(
                "Name the longer edge without {needles}: the edge stitch there lies in the side seam."
            )
            return text.format(needles=self._names.needles(tuple(inside)))
        if shorter.group is not None:
            free = len(self._plan.left_over(shorter.group))
            if free >= more:
                text = self._("{group} has {free} that no graft takes: name {more} more of them.")
                return text.format(group=self._names.side(shorter), free=self._names.loops(free), more=more)
        text = self._(
            "Move {more} of {edge} onto their neighbours before the group comes off, evenly spaced; "
            "or take two loops as one that often while grafting."
        )
        return text.format(more=self._names.loops(more), edge=self._names.side(longer))

    def _twice(self, seam: SeamPlan) -> Iterator[Misfit]:
        """Open loops that this graft takes and an earlier one took already."""
        mine = Counter(loop for side in seam.sides for loop in side.loops)
        earlier = {
            loop
            for other in self._plan.seams
            if other.is_graft and other.place < seam.place
            for side in other.sides
            for loop in side.loops
        }
        open_loops = {loop for group in self._plan.groups for loop in group.loops}
        twice = [
            loop for loop, times in mine.items() if loop in open_loops and (times > 1 or loop in earlier)
        ]
        if not twice:
            return
        fabric = self._plan.procedure.timeline.fabric
        needles = self._names.needles(tuple(int(fabric.needle[loop]) for loop in twice))
        text = self._("{seam}: the open loops of {needles} are grafted twice.")
        yield Misfit(
            "joined-twice",
            "error",
            text.format(seam=self._names.title(seam), needles=needles),
            self._("Let one graft end where the next begins."),
            seam=seam.place,
        )

    # -- side seams and tails -----------------------------------------------------------------------------

    def _easing(self, seam: SeamPlan) -> Misfit:
        text = self._("{seam}: {a:.1f} cm meet {b:.1f} cm, {percent:.0f} % more; it will pucker.")
        return Misfit(
            "too-much-easing",
            "warning",
            filled(
                text,
                seam=self._names.title(seam),
                a=seam.a.length_mm / 10,
                b=seam.b.length_mm / 10,
                percent=100 * seam.easing,
            ),
            self._(
                "Up to a tenth eases in unseen. Give both edges the same rows, or leave the rest of the "
                "longer one open."
            ),
            seam=seam.place,
        )

    def short_tails(self) -> Iterator[Misfit]:
        """Tails that were left for a graft and do not reach."""
        for sewing in self._plan.sewing:
            if sewing.short_tail is None:
                continue
            seam, end = sewing.seam, self._plan.ends[sewing.short_tail]
            text = self._(
                "{seam}: it takes {needed:.0f} cm, 15 cm to hold and darn in among them; {end} is short."
            )
            more = self._("Leave {cm:.0f} cm there, or graft with new yarn and darn that end in.")
            needed = seam.yarn_cm
            yield Misfit(
                "tail-short",
                "warning",
                text.format(seam=self._names.title(seam), needed=needed, end=self._names.end(end)),
                more.format(cm=needed),
                seam=seam.place,
            )

    # -- groups -------------------------------------------------------------------------------------------

    def groups(self) -> Iterator[Misfit]:
        """Groups that still stand on the bed, and loops that nothing takes."""
        for place, group in enumerate(self._plan.groups):
            left = self._plan.left_over(place)
            if group.where is Where.BED and left:
                text = self._("{count} still on the bed, {needles}, when the piece ends.")
                yield Misfit(
                    "on-the-bed",
                    "warning",
                    text.format(
                        count=self._names.loops(len(left)), needles=self._names.needles(group.needles)
                    ),
                    self._("Bind them off, or take them off on waste."),
                    group=place,
                )
            elif left and self._plan.grafts_of(place):
                yield self._left_over(place, left)
            elif left:
                text = self._("{group}, {count}, stays open: no seam of the piece takes it.")
                yield Misfit(
                    "stays-open",
                    "note",
                    self._names.opening(
                        text.format(group=self._names.group(group), count=self._names.loops(len(left)))
                    ),
                    self._(
                        "It keeps on its waste until it is hung back, bound off, or joined to another piece."
                    ),
                    group=place,
                )

    def _left_over(self, place: int, left: tuple[int, ...]) -> Misfit:
        group = self._plan.groups[place]
        needle_of = dict(zip(group.loops, group.needles, strict=True))
        text = self._("{group}: {count} of {needles} in no seam; they run when the waste comes out.")
        return Misfit(
            "loops-left-over",
            "warning",
            self._names.opening(
                text.format(
                    group=self._names.group(group),
                    count=self._names.loops(len(left)),
                    needles=self._names.needles(tuple(needle_of[loop] for loop in left)),
                )
            ),
            self._("Let the graft take them too, or bind them off first."),
            group=place,
        )
