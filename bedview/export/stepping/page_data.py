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
    return _Gatherer(piece, procedure).gather(briefing)


def digest_of(piece: Piece) -> str:
    """A short name for what a piece says, the same as long as it says the same."""
    said = json.dumps(piece.to_document(), sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(said.encode()).hexdigest()[:20]


class _Gatherer:
    def __init__(self, piece: Piece, procedure: Procedure) -> None:
        self._piece = piece
        self._procedure = procedure
        self._timeline = procedure.timeline
        self._yarns = seen_yarns(piece)
        self._bed = page_bed(piece.bed.needles, used_needles(procedure.timeline))
        self._texts, self._acts, self._coming, self._states = Table(), Table(), Table(), Table()
        self._cells: dict[Cell, int] = {}
        self._wales = WaleTeller(procedure.timeline.fabric, self._bed)
        self._settings: dict[tuple[float | None, bool, int], tuple[int, BedScene]] = {}

    def gather(self, briefing: Briefing) -> PageData:
        steps, wales, counters = [], [], [[0, 0]]
        for number, (step, state) in enumerate(self._moments()):
            apart = state.row - state.passes
            if apart != counters[-1][1]:
                counters.append([number, apart])
            told_wales = self._wales.tell(state, self._pass_before(number))
            if told_wales:
                wales.append([number, told_wales])
            steps.append(self._step(step, state))
        told = {
            "digest": digest_of(self._piece),
            "needles": self._piece.bed.needles,
            "first": self._bed.first,
            "last": self._bed.last,
            "yarns": [yarn.name for yarn in self._yarns],
            "cells": [[LETTERS[cell.position], cell.loops, cell.wraps] for cell in self._cells],
            "settings": [list(key) for key in self._settings],
            "parts": [[first, text] for first, text in self._parts()],
            # From which step on the row counter differs by how much from the passes made.
            "counters": counters,
            "minds": self._minds(briefing),
            "states": self._states.rows,
            "wales": wales,
            "coming": self._coming.rows,
            "acts": self._acts.rows,
            "steps": steps,
            "texts": self._texts.rows,
        }
        scenes = [scene for _, scene in self._settings.values()]
        return PageData(self._bed, list(self._cells), scenes, told)

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

    def _step(self, step: Step | None, state: BedState) -> list[int]:
        scene = scene_of(self._timeline.fabric, state, self._yarns, view=_VIEW)
        tip = 2 * scene.tip + scene.tip_is_wrap if scene.tip >= 0 else _NOTHING
        bed = [self._state(scene), self._setting(scene), tip]
        if step is None:
            return [*bed, _NOTHING, _NOTHING, _NOTHING]
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
        number, _ = self._settings.setdefault(key, (len(self._settings), scene))
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

    def _parts(self) -> Iterator[tuple[int, int]]:
        """First step and heading of every part."""
        before = _NOTHING
        for step in self._procedure.steps:
            if step.span != before:
                before = step.span
                yield step.number, self._texts.place(heading(self._procedure, step.span))

    def _minds(self, briefing: Briefing) -> list[list[int]]:
        """Step and words of what shows or is lost there, and of where hands can be hurt."""
        found = [
            (caution.step, f"{caution.title}. {caution.text}")
            for caution in briefing.cautions
            if caution.step is not None and caution.severity is not Severity.NOTE
        ]
        for step in self._procedure.steps:
            found += [(step.number, text) for text in cautions(self._procedure, step.number)]
        return [[number, self._texts.place(text)] for number, text in sorted(found)]


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
