"""Findings that show in the fabric as a whole: openings, floats, stitches left, seams that do not match."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bedview.bed.actions import Edge
from bedview.bed.edges import EdgeError
from bedview.bed.ledger import stacked
from bedview.bed.timeline import Timeline
from bedview.checks import words
from bedview.checks.finding import Finding, Severity

WIDE_GAP = 6


@dataclass(frozen=True, slots=True)
class Join:
    """A seam as far as a check cares: what it joins to what, and whether loop by loop."""

    graft: bool
    a: Edge
    b: Edge


def openings(timeline: Timeline) -> Iterator[Finding]:
    """Gaps between neighbouring columns."""
    found = timeline.openings.openings()
    if not found:
        return
    passes, actions = _when(timeline, [opening.loop for opening in found])
    for opening, pass_number, action in zip(found, passes, actions, strict=True):
        small = opening.size < WIDE_GAP and opening.wrapped
        needles = (opening.boundary, opening.boundary + 1)
        rule = "small-opening" if small else "opening"
        message = words.message(rule, needles, timeline.bed.needles)
        severity = Severity.NOTE if small else Severity.WARNING
        yield Finding("opening", severity, action, pass_number, needles, message, rule)


def long_floats(timeline: Timeline) -> Iterator[Finding]:
    """Fabric yarn that lies across many needles."""
    found = timeline.openings.floats()
    if not found:
        return
    fabric = timeline.fabric
    passes, actions = _when(timeline, [each.later for each in found])
    for each, pass_number, action in zip(found, passes, actions, strict=True):
        needles = tuple(sorted((int(fabric.needle[each.earlier]), int(fabric.needle[each.later]))))
        message = words.message("long-float", needles, timeline.bed.needles)
        yield Finding("long-float", Severity.WARNING, action, pass_number, needles, message)


def stitches_left(timeline: Timeline) -> Iterator[Finding]:
    """Fabric loops that still stand on needles at the end."""
    state = timeline.state
    at, loops, wraps = stacked(timeline.fabric, state.bearing, state.top[state.bearing])
    at, loops = at[~wraps], loops[~wraps]
    left = np.unique(at[~timeline.fabric.waste(loops)])
    if len(left):
        needles = tuple(left.tolist())
        message = words.message("stitches-left", needles, timeline.bed.needles)
        yield Finding("stitches-left", Severity.WARNING, None, timeline.passes, needles, message)


def seam_mismatches(timeline: Timeline, joins: Sequence[Join]) -> Iterator[Finding]:
    """Grafts that join unequal counts; seams with an edge that is not there are left out."""
    for join in joins:
        if not join.graft:
            continue
        try:
            counts = len(timeline.edge_loops(join.a)), len(timeline.edge_loops(join.b))
        except EdgeError:
            continue
        if counts[0] != counts[1]:
            message = words.seam_mismatch(*counts)
            yield Finding("seam-mismatch", Severity.ERROR, None, timeline.passes, (), message)


def _when(timeline: Timeline, loops: Sequence[int]) -> tuple[list[int], list[int]]:
    """Pass and action that made each of these loops."""
    ids = np.array(loops, np.int64)
    return timeline.fabric.pass_of(ids).tolist(), timeline.fabric.action_of(ids).tolist()
