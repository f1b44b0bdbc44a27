"""The beds that the Knit page shows: the row at hand, and others to set up, to ask about, to come back to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from bedview.bed.needles import Position, Side
from bedview.picture.bed_scene import BedScene, Touch, TouchKind, View
from bedview.picture.scene_building import scene_at
from bedview.session.knitting_run import KnittingRun
from bedview.session.machine_words import position_labels
from bedview.ui.parts.piece_pictures import used_stretch, yarns_seen


class BedScenes:
    """Makes them, always with the same stretch of the bed in sight, so that the picture stands still."""

    def __init__(self, run: KnittingRun) -> None:
        self._run = run
        self._turned = False
        self.forget()

    def turn_round(self) -> None:
        """Show beds from the other side of the table from now on, or no longer."""
        self._turned = not self._turned
        self.forget()

    def forget(self) -> None:
        """The piece is another."""
        procedure = self._run.procedure
        self._yarns = yarns_seen(procedure.piece)
        self._view = View(
            labels=position_labels(procedure.words),
            show_labels=False,
            stretch=used_stretch(procedure.timeline),
            turned=self._turned,
        )

    def at_hand(self) -> BedScene:
        """The bed before the coming step, with what it does marked on it."""
        run = self._run
        coming = range(0)
        if not run.at_end:
            step = run.steps[run.cursor]
            coming = range(step.first_line, step.last_line + 1)
        return scene_at(run.procedure.timeline, run.line, coming=coming, yarns=self._yarns, view=self._view)

    def after(self, line: int) -> BedScene:
        """The bed as it stands after a line, with nothing marked."""
        return scene_at(self._run.procedure.timeline, line, yarns=self._yarns, view=self._view)

    def pointed_at(self, needles: Iterable[int], *, in_pass: bool = False) -> BedScene:
        """The bed before the coming step, or before the pass that it makes, with some needles pointed at."""
        run = self._run
        pass_comes = in_pass and not run.at_end and run.steps[run.cursor].makes_pass
        line = run.steps[run.cursor].last_line - 1 if pass_comes else run.line
        pointed = tuple(needles)
        touches = (Touch(TouchKind.POINT, pointed),) if pointed else ()
        return replace(self.after(line), touches=touches)

    def asked(self, held: Iterable[int], carriage: Side) -> BedScene:
        """A bed with these needles in hold, as someone describes the one before them."""
        scene = self.after(self._run.line)
        positions = scene.positions.copy()
        first, last = scene.in_use()
        inside = np.arange(first, last + 1)
        positions[inside] = np.where(positions[inside] == Position.OUT, Position.OUT, Position.WORK)
        positions[list(held)] = Position.HOLD
        wraps = np.zeros_like(scene.wraps)
        return replace(scene, positions=positions, carriage=carriage, wraps=wraps, tip=-1, feeder=-1)
