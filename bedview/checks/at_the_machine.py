"""Findings that one action brings about, read off its event."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from bedview.bed.actions import YarnRole
from bedview.bed.events import NO_FACTS, Event, Indices
from bedview.bed.timeline import Timeline
from bedview.checks import words
from bedview.checks.finding import Finding, Severity


def judge_event(timeline: Timeline, event: Event) -> Iterator[Finding]:
    """Findings of one event, in no particular order."""
    facts = event.facts
    if facts is NO_FACTS and not len(event.laid_in):
        if event.is_pass and event.yarn >= 0 and not len(event.knit):
            yield from _nothing_knits(event)
        return
    say = _Sayer(timeline, event)
    yield from say.always("carriage-side", Severity.ERROR, facts.wrong_side)
    yield from say.about("unsecured-stitches", Severity.ERROR, facts.unsecured)
    yield from say.about("held-knitted", Severity.ERROR, facts.held_knitted)
    yield from _laid_in(timeline, event, say)
    yield from say.about("latch-closes", Severity.WARNING, facts.latch_closed)
    yield from say.about("group-wrapped", Severity.WARNING, _neighbours(facts.outside))
    yield from say.about("stacked-wraps", Severity.WARNING, facts.many_wraps)
    yield from say.about("stacked-loops", Severity.WARNING, facts.many_loops)
    yield from say.about("waste-caught", Severity.WARNING, facts.waste_caught)
    yield from say.about("waste-too-short", Severity.WARNING, facts.short_waste)
    yield from say.about("loops-put-out", Severity.NOTE, facts.put_out)
    yield from say.always("cut-without-tail", Severity.NOTE, facts.no_yarn_left)
    if event.is_pass and event.yarn >= 0 and not len(event.knit):
        yield from _nothing_knits(event)


class _Sayer:
    """Makes findings about one event."""

    def __init__(self, timeline: Timeline, event: Event) -> None:
        self._event = event
        self._needles = timeline.bed.needles

    def about(self, rule: str, severity: Severity, needles: Indices, said_as: str = "") -> Iterator[Finding]:
        """A finding that names needles, if there are any."""
        if len(needles):
            named = tuple(needles.tolist())
            message = words.message(said_as or rule, named, self._needles)
            yield Finding(rule, severity, self._event.action, self._event.passes, named, message, said_as)

    def always(self, rule: str, severity: Severity, holds: bool) -> Iterator[Finding]:
        """A finding that names no needles, if it holds."""
        if holds:
            message = words.message(rule, (), self._needles)
            yield Finding(rule, severity, self._event.action, self._event.passes, (), message)


def _nothing_knits(event: Event) -> Iterator[Finding]:
    message = words.message("nothing-knits", (), 0)
    for row in range(event.lines):
        yield Finding("nothing-knits", Severity.WARNING, event.action, event.passes + row, (), message)


def _laid_in(timeline: Timeline, event: Event, say: _Sayer) -> Iterator[Finding]:
    """Needles on which no stitch forms, in runs; and single loops laid in."""
    is_fabric = event.yarn >= 0 and timeline.fabric.roles[event.yarn] is YarnRole.FABRIC
    run = _neighbours(event.facts.unformed)
    if not is_fabric:
        yield from say.about("laid-in-run", Severity.NOTE, run, "laid-in-waste")
    else:
        yield from say.about("laid-in-run", Severity.ERROR, run)
        yield from say.about("laid-in", Severity.NOTE, np.setdiff1d(event.laid_in, run))


def _neighbours(needles: Indices) -> Indices:
    """Those of ascending needles that have a neighbour among them."""
    if len(needles) < 2:
        return needles[:0]
    close = np.diff(needles) == 1
    beside: Indices = needles[np.append(close, False) | np.append(False, close)]
    return beside
