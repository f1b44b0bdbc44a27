"""Goals that look at the fabric as a whole: gaps, findings, groups in waste, short rows."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal

import numpy as np
from pydantic import AfterValidator, Field

from bedview.bed.actions import OpenEdge
from bedview.bed.edges import EdgeError
from bedview.bed.fabric import LoopKind
from bedview.bed.needles import Position, needle_name
from bedview.bed.openings import SHOWS_FROM
from bedview.checks.finding import RULES, Finding, Severity
from bedview.checks.judge import judge
from bedview.language import gettext as _
from bedview.lessons import because
from bedview.lessons.finding_words import finding_in_words, first_sentence
from bedview.lessons.goals import Fault, Goal, Look, knitted
from bedview.plan.fields import NeedleList, shown


def _known_rule(rule: str) -> str:
    if rule not in RULES:
        raise ValueError(
            _("{rule} is not a rule bedview knows; known: {known}").format(
                rule=shown(rule), known=", ".join(RULES)
            )
        )
    return rule


Rule = Annotated[str, AfterValidator(_known_rule)]
OpeningSize = Annotated[int, Field(ge=SHOWS_FROM - 1, le=9999)]


class OpeningsGoal(Goal):
    """No opening is larger than this; 3 means none that could be seen, 5 none but small ones."""

    kind: Literal["openings"]
    most: OpeningSize

    def fault(self, look: Look) -> Fault | None:
        """The first that is larger, and why it came."""
        wide = [each for each in look.timeline.openings.openings() if each.size > self.most]
        if not wide:
            return None
        first = wide[0]
        pair = (first.boundary, first.boundary + 1)
        return Fault(pair, because.why_gap(look.timeline, look.words, first))


class GapGoal(Goal):
    """A gap of at least this size shows between two neighbouring needles: a lesson may want to see one."""

    kind: Literal["gap"]
    needles: NeedleList
    least: Annotated[int, Field(ge=SHOWS_FROM, le=9999)] = 6

    def fault(self, look: Look) -> Fault | None:
        """The needles, if there is no gap between any two of them."""
        named = look.named(self.needles)
        for each in look.timeline.openings.openings():
            if each.size >= self.least and {each.boundary, each.boundary + 1} <= set(named):
                return None
        return Fault(tuple(named), self._because(look, named))

    def _because(self, look: Look, named: list[int]) -> str:
        kinds, columns = look.timeline.fabric.kind, look.timeline.fabric.needle
        wraps = np.flatnonzero(np.isin(kinds, (LoopKind.WRAP, LoopKind.HAND_WRAP)) & np.isin(columns, named))
        return because.why_loop(look.timeline, look.words, int(wraps[-1])) if len(wraps) else ""


class FindingsGoal(Goal):
    """Nothing went wrong: no finding as bad as this, or none of these rules.

    Attributes:
        worse_than: the mildest severity that is still allowed; ``null`` allows none.
        rules: only these rules are looked at; all, if left out.
        advice: whether the finding's own advice is told besides; not where the lesson's is better.
        but: rules that are passed over. ``stitches-left`` always is unless it is named in ``rules``.
    """

    kind: Literal["findings"]
    worse_than: Literal["warning", "note"] | None = "warning"
    rules: Annotated[tuple[Rule, ...], Field(strict=False, min_length=1, max_length=len(RULES))] | None = None
    but: Annotated[tuple[Rule, ...], Field(strict=False, max_length=len(RULES))] = ()
    advice: bool = True

    def fault(self, look: Look) -> Fault | None:
        """The first finding, in its own words."""
        for finding in judge(look.timeline):
            if self._counts(finding):
                said = finding_in_words(finding, look.words, look.bed_needles)
                return Fault(finding.needles, said if self.advice else first_sentence(said))
        return None

    def _counts(self, finding: Finding) -> bool:
        if finding.rule in self.but:
            return False
        if self.rules is not None:
            return finding.rule in self.rules
        if finding.rule == "stitches-left":
            return False
        order = [Severity.NOTE, Severity.WARNING, Severity.ERROR]
        allowed = -1 if self.worse_than is None else order.index(Severity(self.worse_than))
        return order.index(finding.severity) > allowed


class OpenOnWasteGoal(Goal):
    """The stitches of these needles are off the bed and hang open in waste."""

    kind: Literal["open_on_waste"]
    needles: NeedleList
    rows: Annotated[int, Field(ge=1, le=99)] = 4

    def fault(self, look: Look) -> Fault | None:
        """Needles that still bear their stitches, lost them, or dropped them on too few rows of waste."""
        named = look.named(self.needles)
        height = look.timeline.state.height
        still = tuple(needle for needle in named if height[needle])
        if still:
            ngettext = look.words.ngettext
            text = ngettext("{needles} still bears loops.", "{needles} still bear loops.", len(still))
            return Fault(still, text.format(needles=look.words.needles(still)))
        for needle in named:
            fault = self._loose(look, needle)
            if fault is not None:
                return fault
        return None

    def _loose(self, look: Look, needle: int) -> Fault | None:
        _ = look.words.gettext
        try:
            look.timeline.edge_loops(OpenEdge((needle,)))
        except EdgeError as error:
            text = str(error)
            return Fault((needle,), f"{text[:1].upper()}{text[1:]}.")
        rows = _rows_of_waste(look, needle)
        if rows == 0:
            return Fault((needle,), because.why_dropped(look.timeline, look.words, needle))
        if rows < self.rows:
            name = needle_name(needle, look.bed_needles)
            text = look.words.ngettext(
                "{needle} hangs on {rows} row of waste.", "{needle} hangs on {rows} rows of waste.", rows
            )
            return Fault((needle,), text.format(needle=name, rows=rows))
        return None


def _rows_of_waste(look: Look, needle: int) -> int:
    """Rows of waste between the last drop from a needle and the fabric loop below."""
    fabric, ledger = look.timeline.fabric, look.timeline.machine.ledger
    node = ledger.drops[ledger.drops_of(needle)[0]].node
    loops = [loop for loop in fabric.stack(node) if not fabric.is_wrap(loop)]
    rows = 0
    while loops and fabric.is_waste(loops[0]):
        rows += 1
        loops = [loop for loop in fabric.parents(loops[0]) if not fabric.is_wrap(loop)]
    return rows


class InTurnGoal(Goal):
    """These groups fell off the bed one after the other, each in a pass of its own and all at once."""

    kind: Literal["in_turn"]
    groups: Annotated[tuple[NeedleList, ...], Field(strict=False, min_length=1, max_length=50)]

    def fault(self, look: Look) -> Fault | None:
        """The first group that fell in several passes, or together with one before it."""
        _ = look.words.gettext
        fell: dict[int, list[int]] = {}
        for group in self.groups:
            needles = look.named(group)
            passes = {_pass_of_drop(look, needle) for needle in needles}
            if passes == {None}:
                return Fault(
                    tuple(needles), because.stands(look.words, needles[:1], _position(look, needles[0]))
                )
            if len(passes) > 1:
                return Fault(tuple(needles), _("Not all of it fell off in one row."))
            row = passes.pop()
            assert row is not None
            if row in fell:
                text = _("Row {row} dropped it together with {needles}.")
                return Fault(tuple(needles), text.format(row=row, needles=look.words.needles(fell[row])))
            fell[row] = needles
        return None


def _pass_of_drop(look: Look, needle: int) -> int | None:
    """The pass that last dropped what a needle bore; None if none did."""
    ledger = look.timeline.machine.ledger
    drops = ledger.drops_of(needle)
    return ledger.drops[drops[0]].pass_number if drops else None


def _position(look: Look, needle: int) -> Position:
    return Position(int(look.timeline.state.position[needle]))


class BoundOffGoal(Goal):
    """The stitches of these needles are bound off."""

    kind: Literal["bound_off"]
    needles: NeedleList

    def fault(self, look: Look) -> Fault | None:
        """Needles whose last loop is no bind loop."""
        fabric = look.timeline.fabric
        last = {int(needle): int(kind) for needle, kind in zip(fabric.needle, fabric.kind, strict=True)}
        wrong = [needle for needle in look.named(self.needles) if last.get(needle) != LoopKind.BIND]
        if not wrong:
            return None
        reason = because.why_dropped(look.timeline, look.words, wrong[0])
        if not reason:
            reason = because.stands(look.words, wrong[:1], _position(look, wrong[0]))
        return Fault(tuple(wrong), reason)


class ShortRowsGoal(Goal):
    """Rows became shorter, needle by needle, down to so many stitches.

    Attributes:
        down_to: stitches of the shortest row that was knitted.
        step: by how many stitches one row may be shorter or longer than the row before.
    """

    kind: Literal["short_rows"]
    down_to: Annotated[int, Field(ge=1, le=400)]
    step: Annotated[int, Field(ge=1, le=400)]

    def fault(self, look: Look) -> Fault | None:
        """How short the shortest row is, or the row in which too many needles went or came at once."""
        _ = look.words.gettext
        rows = _needles_by_row(look)
        for (earlier, before), (later, after) in pairwise(rows):
            changed = sorted(before ^ after)
            if len(changed) > self.step and later == earlier + 1:
                text = _("{count} needles went or came at once between row {earlier} and row {later}.")
                reason = text.format(earlier=earlier, later=later, count=len(changed))
                return Fault(tuple(changed), reason)
        shortest = min((len(needles) for _row, needles in rows), default=0)
        if shortest == self.down_to:
            return None
        narrowest = next((needles for _row, needles in rows if len(needles) == shortest), set())
        text = look.words.ngettext(
            "The shortest row has {count} stitch; it should have {wanted}.",
            "The shortest row has {count} stitches; it should have {wanted}.",
            shortest,
        )
        return Fault(tuple(sorted(narrowest)), text.format(count=shortest, wanted=self.down_to))


def _needles_by_row(look: Look) -> list[tuple[int, set[int]]]:
    """Each pass that knitted fabric, with the needles it knitted on."""
    fabric = look.timeline.fabric
    loops = knitted(look.timeline)
    rows: dict[int, set[int]] = {}
    for number, needle in zip(fabric.pass_of(loops).tolist(), fabric.needle[loops].tolist(), strict=True):
        rows.setdefault(number, set()).add(needle)
    return list(rows.items())
