"""The procedure as a table: a line a step, for spreadsheets and other programs (RFC 4180, UTF-8)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Final

from bedview.bed.needles import format_needles
from bedview.plan.instructions import heading
from bedview.plan.procedure import Procedure
from bedview.plan.steps import Step
from bedview.plan.words import Words

COLUMNS: Final = (
    "step",
    "part",
    "row",
    "counter",
    "hands",
    "carriage",
    "why",
    "knit",
    "wrapped",
    "dropped",
    "carriage_at",
    "hold_cams",
    "tension",
    "yarn",
)
"""What each line holds. ``row`` is empty where no row is made; the rest is as it is after the step."""
_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def _as_it_stands(sentence: str) -> str:
    return sentence


def _english(one: str, many: str, count: int) -> str:
    return one if count == 1 else many


def table_text(procedure: Procedure) -> str:
    """The table with its head, in English whatever language people are spoken to in."""
    piece = procedure.piece
    procedure = procedure.spoken(_EnglishWords(piece.bed.needles, piece.yarns))
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    writer.writerows(_lines(procedure))
    return text.getvalue()


class _EnglishWords(Words):
    """Sentences as they stand in the code: what programs read must not follow the language."""

    gettext = staticmethod(_as_it_stands)
    ngettext = staticmethod(_english)


def _lines(procedure: Procedure) -> Iterator[tuple[object, ...]]:
    names: dict[int, str] = {}
    for step in procedure.steps:
        if step.span not in names:
            names[step.span] = heading(procedure, step.span)
        yield _line(procedure, step, names[step.span])


def _line(procedure: Procedure, step: Step, part: str) -> tuple[object, ...]:
    timeline = procedure.timeline
    state, event = timeline.state_at(step.last_line), timeline.event_of(step.last_line)
    touched = (event.knit, event.wrapped, event.dropped) if step.makes_pass else ((), (), ())
    return (
        step.number + 1,
        as_text(part),
        step.passes if step.makes_pass else "",
        state.row,
        as_text(". ".join(step.hands)),
        as_text(step.carriage or ""),
        as_text(step.why),
        *(format_needles(needles, timeline.bed.needles) for needles in touched),
        str(state.carriage),
        "on" if state.hold_cams else "off",
        "" if state.dial is None else f"{state.dial:g}",
        as_text(timeline.machine.yarns[state.yarn][0]) if state.threaded else "",
    )


def as_text(text: str) -> str:
    """A text that no spreadsheet takes for a formula: one that might be begins with an apostrophe."""
    return f"'{text}" if text.startswith(_FORMULA) else text
