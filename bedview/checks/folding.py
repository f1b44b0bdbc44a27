"""Findings for people: what one stretch says many times is told once.

Twenty small gaps along the turn of a heel are one line, not twenty.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bedview.bed.needles import needle_name, runs
from bedview.checks.finding import RULES, Finding, Severity
from bedview.checks.words import SAYINGS
from bedview.language import gettext as _
from bedview.language import ngettext

_WORST_FIRST = (Severity.ERROR, Severity.WARNING, Severity.NOTE)


@dataclass(frozen=True, slots=True)
class Folded:
    """Findings of one kind in one stretch.

    Attributes:
        rule: their rule.
        severity: the same for all.
        findings: them all, in order.
        stretch: the number of the segment they lie in; -1 for the piece as a whole.
        title: what and where, in a few words ("20 small gaps, L14 to R15, rows 43 to 62").
        text: what will happen and what to do.
    """

    rule: str
    severity: Severity
    findings: tuple[Finding, ...]
    stretch: int
    title: str
    text: str

    @property
    def first(self) -> Finding:
        """The one to look at first."""
        return self.findings[0]


def fold(findings: Sequence[Finding], stretch_of: Callable[[int], int], bed_needles: int) -> list[Folded]:
    """Fold findings of one rule and severity that lie in one stretch.

    Args:
        findings: in any order.
        stretch_of: the segment of an action.
        bed_needles: how many needles the bed has.

    Returns:
        One for each rule, severity and stretch: the worst first, then in order of time.
    """
    groups: dict[tuple[str, Severity, int], list[Finding]] = {}
    for finding in findings:
        stretch = -1 if finding.action is None else stretch_of(finding.action)
        groups.setdefault((finding.rule, finding.severity, stretch), []).append(finding)
    folded = [_folded(tuple(group), stretch, bed_needles) for (_, _, stretch), group in groups.items()]
    folded.sort(key=lambda each: (_WORST_FIRST.index(each.severity), each.first.pass_number, _rank(each)))
    return folded


def _rank(folded: Folded) -> int:
    return RULES.index(folded.rule)


def _folded(group: tuple[Finding, ...], stretch: int, bed_needles: int) -> Folded:
    first = group[0]
    saying = SAYINGS[first.saying or first.rule]
    what = ngettext(saying.one, saying.many, len(group)).format(count=len(group))
    where = _where(group, bed_needles)
    text = first.message if len(group) == 1 else _(saying.to_do)
    return Folded(
        first.rule, first.severity, group, stretch, _("{what}, {where}").format(what=what, where=where), text
    )


def _where(group: tuple[Finding, ...], bed_needles: int) -> str:
    """Needles and rows, as ``R6 to R15, rows 43 to 62``."""
    needles = sorted({needle for finding in group for needle in finding.needles})
    parts = []
    if needles:
        names = [_stretch(first, last, bed_needles) for first, last in runs(needles)]
        spread = _stretch(needles[0], needles[-1], bed_needles)
        is_span = len(names) > 2 or group[0].rule == "long-float"
        parts.append(spread if is_span else ", ".join(names))
    passes = [finding.pass_number for finding in group]
    low, high = min(passes), max(passes)
    text = _("row {first}") if low == high else _("rows {first} to {last}")
    parts.append(text.format(first=low, last=high))
    return ", ".join(parts)


def _stretch(first: int, last: int, bed_needles: int) -> str:
    left, right = needle_name(first, bed_needles), needle_name(last, bed_needles)
    return left if first == last else _("{first} to {last}").format(first=left, last=right)
