"""From an open piece to the scenes of the picture room."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

import numpy as np
from PySide6.QtCore import QCoreApplication

from bedview.bed.actions import YarnRole
from bedview.bed.timeline import Timeline
from bedview.checks.folding import Folded
from bedview.picture.bed_scene import BedScene, View, YarnSeen, default_yarns
from bedview.picture.chart import ChartMark, ChartScene, chart_of
from bedview.picture.scene_building import scene_at
from bedview.plan.piece import Piece, Yarn
from bedview.plan.procedure import Procedure
from bedview.session.open_piece import OpenPiece
from bedview.session.rehearsal import Rehearsal


class WithYarns(Protocol):
    """A piece, or anything else that is knitted with yarns."""

    @property
    def yarns(self) -> tuple[Yarn, ...]:
        """The yarns."""


def yarns_seen(piece: WithYarns) -> tuple[YarnSeen, ...]:
    """The piece's yarns as they look; those without a colour get one of ours."""
    ours = default_yarns(tuple(YarnRole(yarn.role) for yarn in piece.yarns))
    return tuple(
        YarnSeen(yarn.name or yarn.id, yarn.colour or own.colour, own.role)
        for yarn, own in zip(piece.yarns, ours, strict=True)
    )


def part_title(piece: Piece, segment: int) -> str:
    """What a part is called: its title, or its kind."""
    return piece.segments[segment].called


def broken_off_words(opened: OpenPiece) -> str:
    """Why a piece cannot be knitted to its end, and from where on; "" if it can."""
    trouble = opened.trouble
    if trouble is None:
        return ""
    said = QCoreApplication.translate("Parts", "It cannot be knitted from {title} on: {why}.")
    return said.format(title=part_title(opened.piece, trouble.segment), why=trouble.message.rstrip("."))


def part_spans(procedure: Procedure) -> list[tuple[str, int, int]]:
    """Title, first and last action of every part."""
    return [
        (part_title(procedure.piece, span.path[0]), span.start, span.stop - 1)
        for span in procedure.top_spans()
    ]


def marks_of(folded: Iterable[Folded]) -> list[ChartMark]:
    """Findings as marks: each where it lies."""
    return [
        ChartMark(
            max(1, finding.pass_number),
            sum(finding.needles) / len(finding.needles) if finding.needles else None,
            each.severity.value,
        )
        for each in folded
        for finding in each.findings
    ]


def piece_chart(opened: OpenPiece, chosen: int | None = None) -> ChartScene:
    """The chart of an open piece."""
    procedure = opened.procedure
    marks = marks_of(opened.folded)
    return chart_of(procedure.timeline, part_spans(procedure), marks=marks, chosen=chosen)


def used_stretch(timeline: Timeline) -> tuple[int, int] | None:
    """First and last needle on which a loop is ever made."""
    made = np.asarray(timeline.fabric.needle)
    return (int(made.min()), int(made.max())) if len(made) else None


def bed_of(rehearsal: Rehearsal, yarns: tuple[YarnSeen, ...], view: View) -> BedScene:
    """The bed before the step at the cursor, with what that step does marked on it."""
    coming = range(0)
    if not rehearsal.at_end:
        step = rehearsal.steps[rehearsal.cursor]
        coming = range(step.first_line, step.last_line + 1)
    return scene_at(rehearsal.timeline, rehearsal.line, coming=coming, yarns=yarns, view=view)
