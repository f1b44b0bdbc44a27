"""A procedure as the page keeps it: every state run-length coded, every sentence once.

A step is six numbers: its bed, how the carriage is set, where the yarn leaves from, what is done, why, and
the coming pass. Each points into a table of what differs. Of a bed the columns drawn are told from left to
right, as runs: ``38a1b`` is 38 needles of the first kind and one of the second.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import FreeMove
from bedview.bed.events import Event
from bedview.bed.needles import runs
from bedview.bed.state import BedState
from bedview.checks.finding import Severity
from bedview.export.briefing import Briefing, seen_yarns
from bedview.export.stepping.geometry import PageBed, page_bed
from bedview.export.stepping.symbols import LETTERS, Cell, side_letter
from bedview.export.stepping.wales import WaleTeller
from bedview.export.used_needles import used_needles
from bedview.language import gettext as _
from bedview.lessons.shown_way import Leg, taken_back_words
from bedview.picture.bed_scene import BedScene, ComingPass, Touch, View
from bedview.picture.scene_building import scene_of, what_comes
from bedview.plan.instructions import heading
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.safety import cautions
from bedview.plan.steps import Step

_VIEW: Final = View(depth=0)
_NOTHING: Final = -1


@dataclass(slots=True)
class Table:
    """Things of which each is kept once."""

    rows: list[Any] = field(default_factory=list)
    _places: dict[str, int] = field(default_factory=dict)

    def place(self, row: object) -> int:
        """Where a thing stands; it is put at the end if it is new."""
        key = row if isinstance(row, str) else json.dumps(row, ensure_ascii=False)
        if key not in self._places:
            self._places[key] = len(self.rows)
            self.rows.append(row)
        return self._places[key]


@dataclass(slots=True)
class PageData:
    """What the page knows.

    Attributes:
        bed: the drawing's places.
        cells: kinds of needles, in the order of their numbers.
        settings: a scene for each way the carriage is set, to draw it from.
        told: everything else, ready for JSON.
    """

    bed: PageBed
    cells: list[Cell]
    settings: list[BedScene]
    told: dict[str, Any]


def page_data(piece: Piece, procedure: Procedure, briefing: Briefing) -> PageData:
    """Gather what the page knows of a procedure."""
    return way_data(piece, (Leg(procedure, 0),), briefing)


def way_data(piece: Piece, legs: Sequence[Leg], briefing: Briefing) -> PageData:
    """Gather what the page knows of a way on which rows may be taken back.

    Args:
        piece: what the page is known by.
        legs: one after the other; the first is told from its beginning.
        briefing: what to mind; its steps are those of the first leg.
    """
    return _Gatherer(piece, legs).gather(briefing)


def digest_of(piece: Piece) -> str:
    """A short name for what a piece says, the same as long as it says the same."""
    said = json.dumps(piece.to_document(), sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(said.encode()).hexdigest()[:20]


class _Gatherer:
    def __init__(self, piece: Piece, legs: Sequence[Leg]) -> None:
        self._piece = piece
        self._legs = legs
        self._procedure = legs[0].procedure
        self._timeline = self._procedure.timeline
        self._yarns = seen_yarns(piece)
        used = [used_needles(leg.timeline) for leg in legs]
        ends = min(first for first, _last in used), max(last for _first, last in used)
        self._bed = page_bed(piece.bed.needles, ends)
        self._texts, self._acts, self._coming, self._states = Table(), Table(), Table(), Table()
        self._cells: dict[Cell, int] = {}
        self._wales = WaleTeller(self._timeline.fabric, self._bed)
        self._settings: dict[tuple[float | None, bool, int], tuple[int, BedScene]] = {}
        self._span = _NOTHING
        self._parts: list[list[int]] = []
        self._minds: list[tuple[int, str]] = []
        self._taken_back: list[list[int]] = []

    def gather(self, briefing: Briefing) -> PageData:
        steps, wales, counters = [], [], [[0, 0]]
        for number, (step, state, done) in enumerate(self._way()):
            apart = state.row - state.passes
            if apart != counters[-1][1]:
                counters.append([number, apart])
            told_wales = self._wales.tell(state, done)
            if told_wales:
                wales.append([number, told_wales])
            steps.append(self._step(step, state))
            self._note(number, step)
        self._minds += [
            (caution.step, f"{caution.title}. {caution.text}")
            for caution in briefing.cautions
            if caution.step is not None and caution.severity is not Severity.NOTE
        ]
        told = {
            "digest": digest_of(self._piece),
            "needles": self._piece.bed.needles,
            "first": self._bed.first,
            "last": self._bed.last,
            "yarns": [yarn.name for yarn in self._yarns],
            "cells": [[LETTERS[cell.position], cell.loops, cell.wraps] for cell in self._cells],
            "settings": [list(key) for key in self._settings],
            "parts": self._parts,
            # Rows that a step takes back, by its number.
            "back": self._taken_back,
            # From which step on the row counter differs by how much from the passes made.
            "counters": counters,
            "minds": [[number, self._texts.place(text)] for number, text in sorted(self._minds)],
            "states": self._states.rows,
            "wales": wales,
            "coming": self._coming.rows,
            "acts": self._acts.rows,
            "steps": steps,
            "texts": self._texts.rows,
        }
        scenes = [scene for _, scene in self._settings.values()]
        return PageData(self._bed, list(self._cells), scenes, told)

    def _way(self) -> Iterator[tuple[Step | int | None, BedState, Event | None]]:
        """Each step, the state before it, and the pass that was made straight before.

        Between two legs a number stands for the step: the rows taken back; at the end there is none.
        """
        for place, leg in enumerate(self._legs):
            if place:
                self._begin(leg)
            coming = self._legs[place + 1].taken_back if place + 1 < len(self._legs) else None
            for number, (step, state) in enumerate(self._moments()):
                if number >= leg.first or not place:
                    done = self._pass_before(number) if number > leg.first or not place else None
                    if step is not None or coming is None:
                        yield step, state, done
                    else:
                        yield coming, state, done

    def _begin(self, leg: Leg) -> None:
        """Go on with the next leg."""
        self._procedure, self._timeline = leg.procedure, leg.timeline
        steps = leg.procedure.steps
        line = steps[leg.first].first_line - 1 if leg.first < len(steps) else leg.timeline.lines - 1
        self._wales.go_on_in(self._timeline.fabric, self._timeline.state_at(line).next_loop)

    def _moments(self) -> Iterator[tuple[Step | None, BedState]]:
        """Each step with the state before it, then None with the state at the end."""
        steps = iter(self._procedure.steps)
        yield next(steps, None), self._timeline.state_at(-1)
        ends = iter(step.last_line for step in self._procedure.steps)
        end = next(ends, _NOTHING)
        for event, row, state in self._timeline.walk():
            if event.line + row == end:
                end = next(ends, _NOTHING)
                yield next(steps, None), state

    def _pass_before(self, number: int) -> Event | None:
        """The pass of the step before a step."""
        step = self._procedure.steps[number - 1] if number else None
        return self._timeline.event_of(step.last_line) if step and step.makes_pass else None

    # -- one step -----------------------------------------------------------------------------------------

    def _step(self, step: Step | int | None, state: BedState) -> list[int]:
        scene = scene_of(self._timeline.fabric, state, self._yarns, view=_VIEW)
        tip = 2 * scene.tip + scene.tip_is_wrap if scene.tip >= 0 else _NOTHING
        bed = [self._state(scene), self._setting(scene), tip]
        if step is None:
            return [*bed, _NOTHING, _NOTHING, _NOTHING]
        if isinstance(step, int):
            text = self._texts.place(taken_back_words(step))
            return [*bed, self._acts.place([[text], _NOTHING, text, [], 0]), _NOTHING, _NOTHING]
        touches, coming = what_comes(self._timeline, state, range(step.first_line, step.last_line + 1))
        why = step.why
        return [
            *bed,
            self._act(step, touches),
            self._texts.place(why) if why else _NOTHING,
            _NOTHING if coming is None else self._coming.place(_told_pass(coming)),
        ]

    def _state(self, scene: BedScene) -> int:
        """The columns drawn, as runs."""
        shown = slice(self._bed.first, self._bed.last + 1)
        parts = (scene.positions, scene.loops, scene.wraps, scene.loop_yarn, scene.wrap_yarn)
        table = np.stack([part[shown].astype(np.int64) for part in parts])
        edges = np.flatnonzero((table[:, 1:] != table[:, :-1]).any(axis=0)) + 1
        starts = [0, *edges.tolist()]
        lengths = np.diff([*starts, table.shape[1]]).tolist()
        cells = table[:, starts].T.tolist()
        told = (
            f"{length}{letters(self._cells.setdefault(Cell(*cell), len(self._cells)))}"
            for length, cell in zip(lengths, cells, strict=True)
        )
        return self._states.place("".join(told))

    def _setting(self, scene: BedScene) -> int:
        """How the carriage is set, twice its number; one more if it stands on the right."""
        key = (scene.dial, scene.hold_cams, scene.feeder)
        number, _known = self._settings.setdefault(key, (len(self._settings), scene))
        return 2 * number + (side_letter(scene.carriage) == "r")

    def _act(self, step: Step, touches: Sequence[Touch]) -> int:
        carriage = step.carriage
        return self._acts.place(
            [
                [self._texts.place(sentence) for sentence in step.hands],
                self._texts.place(carriage) if carriage else _NOTHING,
                self._texts.place(step.brief),
                [_told_touch(touch) for touch in touches],
                int(any(isinstance(self._timeline.actions[n], FreeMove) for n in step.actions)),
            ]
        )

    # -- the piece ----------------------------------------------------------------------------------------

    def _note(self, number: int, step: Step | int | None) -> None:
        """Write down what begins with a step, and where hands can be hurt in it."""
        if isinstance(step, int):
            self._taken_back.append([number, step])
            self._parts.append([number, self._texts.place(_("Taking back"))])
            self._span = _NOTHING
        elif step is not None:
            if step.span != self._span:
                self._span = step.span
                self._parts.append([number, self._texts.place(heading(self._procedure, step.span))])
            self._minds += [(number, text) for text in cautions(self._procedure, step.number)]


def letters(number: int) -> str:
    """A number from 0 as lower-case letters: a, b, … z, ba, bb, and so on."""
    text = ""
    while True:
        number, digit = divmod(number, 26)
        text = chr(ord("a") + digit) + text
        if not number:
            return text


def _flat(needles: npt.NDArray[np.intp] | tuple[int, ...]) -> list[int]:
    """First and last of every stretch, one after the other."""
    return [end for stretch in runs(int(needle) for needle in needles) for end in stretch]


def _told_touch(touch: Touch) -> list[object]:
    target: object = touch.target
    if touch.to is not None:
        target = LETTERS[touch.to]
    return [touch.kind.value, _flat(touch.needles), target]


def _told_pass(coming: ComingPass) -> list[object]:
    """Where it goes, and the stretches it knits, wraps and drops."""
    parts = (coming.knit, coming.wrapped, coming.dropped)
    return [side_letter(coming.towards), *(_flat(needles) for needles in parts)]
