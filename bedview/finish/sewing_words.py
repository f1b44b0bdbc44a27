"""What is said of a seam: which side faces, from where to where, with which thread, and how much is eased."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from bedview.finish.easing import easing_rule
from bedview.finish.finish_plan import FinishPlan
from bedview.finish.names import Names
from bedview.finish.open_groups import OpenGroup, Where
from bedview.finish.seam_plan import LONGEST_THREAD_CM, SeamPlan, SeamSide
from bedview.finish.sewing_order import Sewing
from bedview.language import filled
from bedview.plan.spacing import spread_inside


class SewingWords:
    """Sentences about the seams of one piece."""

    def __init__(self, plan: FinishPlan, names: Names) -> None:
        self._plan = plan
        self._names = names
        self._ = names.gettext

    # -- what to do ---------------------------------------------------------------------------------------

    def says(self, sewing: Sewing) -> str:
        """What hands do."""
        seam = sewing.seam
        begin = self._names.corner(seam, sewing.begin)
        end = self._names.corner(seam, sewing.end)
        sentences = {
            "graft": self._(
                "Right side towards you, one edge above the other. Begin at {begin} with {thread}, and graft "
                "loop to loop as far as {end}."
            ),
            "mattress": self._(
                "Right sides towards you, the edges side by side. Begin at {begin} with {thread}. Take up "
                "one bar of each side by turns as far as {end}."
            ),
            "overcast": self._(
                "Right sides together, the wrong side towards you. Begin at {begin} with {thread}, and sew "
                "over and over as far as {end}."
            ),
        }
        return sentences[seam.kind].format(begin=begin, end=end, thread=self.thread(sewing))

    def thread(self, sewing: Sewing) -> str:
        """What it is sewn with."""
        if sewing.goes_on:
            return self._("the same thread")
        if sewing.tail is None:
            return self._new_yarn(sewing.seam)
        cm = self._plan.ends[sewing.tail].cm
        if cm is not None:
            return filled(self._("the tail of {cm:g} cm that hangs there"), cm=cm)
        return self._("the tail that hangs there, as far as it reaches")

    def _new_yarn(self, seam: SeamPlan) -> str:
        yarn, cm = self._names.yarn(seam.yarn), _to_cut(seam.yarn_cm)
        if seam.lengths == 1:
            return self._("{cm} cm of {yarn}").format(cm=cm, yarn=yarn)
        text = self._("{yarn}, {cm} cm in {count} lengths")
        return text.format(cm=cm, yarn=yarn, count=seam.lengths)

    # -- what is worth knowing ----------------------------------------------------------------------------

    def details(self, sewing: Sewing) -> Iterator[str]:
        """A line each: how long, how much yarn, what is eased, what stays open, what lies in a seam."""
        seam = sewing.seam
        yield self._size(seam)
        yield self._yarn_line(sewing)
        if seam.stitches_in:
            count = seam.stitches_in
            text = self._names.ngettext(
                "The edge stitch of each side lies in the seam.",
                "{count} stitches of each side lie in the seam.",
                count,
            )
            yield text.format(count=count)
        if not seam.is_graft and len(seam.a.loops) != len(seam.b.loops):
            yield self._easing(seam)
        if seam.open_at is not None:
            yield self._left_open(sewing)
        if seam.is_graft:
            yield from self._in_side_seam(seam)
        if self._tail_is_left(sewing):
            yield self._("Let the thread hang where it ends: the next graft goes on with it.")

    def _size(self, seam: SeamPlan) -> str:
        cm = seam.length_mm / 10
        if seam.is_graft:
            return filled(self._("{count}, {cm:.1f} cm"), count=self._names.loops(len(seam.a.loops)), cm=cm)
        a, b = (self._count(side) for side in seam.sides)
        return filled(self._("{a} to {b}, {cm:.1f} cm"), a=a, b=b, cm=cm)

    def _count(self, side: SeamSide) -> str:
        return self._count_of(side, len(side.loops))

    def _yarn_line(self, sewing: Sewing) -> str:
        seam = sewing.seam
        lies = self._("{cm:.0f} cm of yarn lie in it").format(cm=seam.sewing_cm)
        if sewing.goes_on or (sewing.tail is not None and self._plan.ends[sewing.tail].cm is not None):
            return lies
        take = self._("{lies}; take {cm} cm").format(lies=lies, cm=_to_cut(seam.yarn_cm))
        if seam.lengths == 1:
            return take
        text = self._("{take}, in {count} lengths: more than {most:.0f} cm at a time frays")
        return text.format(take=take, count=seam.lengths, most=LONGEST_THREAD_CM)

    def _easing(self, seam: SeamPlan) -> str:
        """Where two loops of the longer edge are taken up at once."""
        longer, shorter = sorted(seam.sides, key=lambda side: len(side.loops), reverse=True)
        more = len(longer.loops) - len(shorter.loops)
        if not shorter.is_side or not longer.is_side:
            return self._ease_by_rule(longer, shorter)
        edge = self._names.short(longer, shorter)
        if 1 < more <= len(shorter.loops):
            first, second = spread_inside(len(shorter.loops), more)[:2]
            text = self._(
                "Ease: take up two bars of {edge} at once, {count} times, spread evenly, about every {rows}."
            )
            return text.format(edge=edge, count=more, rows=self._names.rows(second - first))
        text = self._names.ngettext(
            "Ease: take up two bars of {edge} at once, one time, near the middle.",
            "Ease: take up two bars of {edge} at once, {count} times, spread evenly.",
            more,
        )
        return text.format(edge=edge, count=more)

    def _ease_by_rule(self, longer: SeamSide, shorter: SeamSide) -> str:
        """Rows and stitches are not of one size: so many of the one go to so many of the other."""
        rule = easing_rule(len(longer.loops), len(shorter.loops))
        said = self._("Ease evenly: take {long} to {short}.")
        if len(set(rule.by_turns)) > 1:
            said = self._("Ease evenly: take {long} to {short}, {turns} in turn.")
        said = said.format(
            long=self._count_of(longer, rule.longer),
            short=self._count_of(shorter, rule.shorter),
            turns=self._names.listed([str(each) for each in rule.by_turns]),
        )
        if not rule.more:
            return said
        more = self._("{more} more, near the middle.")
        if rule.every:
            more = self._("{more} more: one about every {apart}.")
        apart = self._count_of(shorter, rule.every)
        return f"{said} " + more.format(more=self._count_of(longer, rule.more), apart=apart)

    def _count_of(self, side: SeamSide, count: int) -> str:
        return self._names.rows(count) if side.is_side else self._names.loops(count)

    def _left_open(self, sewing: Sewing) -> str:
        seam = sewing.seam
        longer = max(seam.sides, key=lambda side: side.open_mm)
        text = self._(
            "Stop {cm:.1f} cm ({rows}) before the end: that part stays open. Secure the thread there."
        )
        return filled(text, cm=longer.open_mm / 10, rows=self._names.rows(longer.left_open))

    def _in_side_seam(self, seam: SeamPlan) -> Iterator[str]:
        """Open loops next to the graft that a side seam takes inside."""
        sides = {side.group: side for side in seam.sides if side.group is not None}
        for place in sides:
            group = self._plan.groups[place]
            grafted = {needle for side in seam.sides if side.group == place for needle in side.needles}
            inside = set(self._plan.in_seam(group))
            needles = tuple(
                needle
                for needle, loop in zip(group.needles, group.loops, strict=True)
                if loop in inside and needle not in grafted and {needle - 1, needle + 1} & grafted
            )
            if not needles:
                continue
            text = self._names.ngettext(
                "{needles} of {group} lies in the side seam: run the thread through its loop, ungrafted.",
                "{needles} of {group} lie in the side seam: run the thread through their loops, ungrafted.",
                len(needles),
            )
            yield text.format(needles=self._names.needles(needles), group=self._names.group(group))

    def _tail_is_left(self, sewing: Sewing) -> bool:
        order = self._plan.sewing
        after = order.index(sewing) + 1
        return after < len(order) and order[after].goes_on

    def group_line(self, group: OpenGroup) -> str:
        """A group with its size and its waste."""
        count, needles = self._names.loops(len(group.loops)), self._names.needles(group.needles)
        if group.where is Where.BED:
            return self._("{count} on {needles}, on the bed").format(count=count, needles=needles)
        text = self._("{count} of {needles}, on {rows} of waste")
        if not group.waste_rows:
            text = self._("{count} of {needles}, on waste that is still on the bed")
        elif group.cord:
            text = self._("{count} of {needles}, on a ravel cord and {rows} of waste in all")
        return text.format(count=count, needles=needles, rows=self._names.rows(group.waste_rows))


def _to_cut(cm: float) -> int:
    """A length that one can measure off: in fives, never less."""
    return 5 * ceil(cm / 5 - 1e-9)
