"""All findings of a procedure, in the order in which they are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from bedview.bed.timeline import Timeline
from bedview.checks.at_the_machine import judge_event
from bedview.checks.finding import RULES, Finding, Severity
from bedview.checks.in_the_fabric import Join, long_floats, openings, seam_mismatches, stitches_left

_PLACE: Final = {rule: place for place, rule in enumerate(RULES)}
_NEVER: Final = 1 << 40
"""Findings without an action come after all actions."""


@dataclass(frozen=True, slots=True)
class Meant:
    """Rules that a segment breaks on purpose, for its actions ``first`` to ``stop`` - 1."""

    first: int
    stop: int
    rules: frozenset[str]


def judge(timeline: Timeline, meant: Sequence[Meant] = (), joins: Sequence[Join] = ()) -> list[Finding]:
    """Everything that goes wrong, or is worth knowing.

    Args:
        timeline: the procedure, run to its end.
        meant: what segments break on purpose; such findings become notes.
        joins: the seams of the piece.

    Returns:
        Findings by action, then pass, then the order of the rules, then needles; without an action last.
    """
    found = [finding for event in timeline.events for finding in judge_event(timeline, event)]
    found.extend(openings(timeline))
    found.extend(long_floats(timeline))
    found.extend(stitches_left(timeline))
    found.extend(seam_mismatches(timeline, joins))
    found = [_softened(finding, meant) for finding in found]
    found.sort(key=_order)
    return found


def _softened(finding: Finding, meant: Sequence[Meant]) -> Finding:
    if finding.action is None:
        return finding
    for span in meant:
        if span.first <= finding.action < span.stop and finding.rule in span.rules:
            return replace(finding, severity=Severity.NOTE)
    return finding


def _order(finding: Finding) -> tuple[int, int, int, tuple[int, ...]]:
    action = _NEVER if finding.action is None else finding.action
    return action, finding.pass_number, _PLACE[finding.rule], finding.needles
