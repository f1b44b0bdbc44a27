"""What a part holds, in words: its parameters, and what comes of them."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import BaseModel
from PySide6.QtCore import QCoreApplication

from bedview.plan.gauge import find_gauge, length_mm_of
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.segments.base import Segment
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.plain import PlainSegment
from bedview.session.open_piece import OpenPiece
from bedview.ui.parts.counting import counted

_HIDDEN = ("kind", "title", "meant", "actions", "segments", "reminders")
_MOST_ACTIONS = 6


def tr(text: str) -> str:
    """The text in the user's language."""
    return QCoreApplication.translate("part_fields", text)


def field_rows(segment: Segment, piece: Piece) -> list[tuple[str, str]]:
    """Name and value of every parameter that says something, then what is to be thought of at which row."""
    reminders = [
        (tr("After row {row}").format(row=each.row) if each.row else tr("First"), each.text)
        for each in segment.reminders
    ]
    return [*_rows(segment, piece), *reminders]


def _rows(model: BaseModel, piece: Piece) -> Iterator[tuple[str, str]]:
    for key, field in type(model).model_fields.items():
        value = getattr(model, key)
        if key in _HIDDEN or value is None or value == "" or _idle(model, key):
            continue
        name = field.title or key.replace("_", " ").capitalize()
        if isinstance(value, BaseModel):
            inner = ", ".join(f"{label.lower()}: {said}" for label, said in _rows(value, piece))
            yield name, inner
        else:
            yield name, _said(key, value, piece)


def _idle(model: BaseModel, key: str) -> bool:
    """Whether a parameter says nothing here: of another yarn where none is named, of waste without it."""
    if isinstance(model, PlainSegment):
        return key in ("old_yarn", "tail_cm") and model.yarn is None
    if isinstance(model, CastOnSegment):
        return key in ("waste", "waste_rows", "ravel") and model.how != "waste"
    return False


def _said(key: str, value: object, piece: Piece) -> str:
    if isinstance(value, bool):
        return tr("yes") if value else tr("no")
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, tuple):
        return ", ".join(_said(key, each, piece) for each in value)
    text = str(value)
    if key in ("yarn", "waste", "ravel"):
        return next((yarn.name or yarn.id for yarn in piece.yarns if yarn.id == text), text)
    if key in ("needles", "groups"):
        return text.replace("-", tr(" to ")).replace(",", ", ")
    return _word(text)


def _word(value: str) -> str:
    """What a word of the file says to people."""
    words = {
        "in_turn": tr("one end after the other"),
        "both_each_row": tr("both ends in each row"),
        "left": tr("the left end"),
        "right": tr("the right end"),
        "all_at_once": tr("all at once"),
        "automatic": tr("by the pass itself"),
        "hand": tr("by hand"),
        "none": tr("none"),
        "e_wrap": tr("with e-wraps"),
        "waste": tr("on waste, loops left open"),
        "cut": tr("is cut"),
        "park": tr("waits, uncut"),
    }
    return words.get(value, value)


def hand_lines(opened: OpenPiece, part: int) -> list[str]:
    """What hands do in a part, the first few sentences; for parts that are single actions."""
    found: list[str] = []
    for step in opened.steps:
        if step.segment == part and len(found) < _MOST_ACTIONS:
            found.extend(step.hands)
    return found[:_MOST_ACTIONS]


def result_line(procedure: Procedure, part: int) -> str:
    """What comes of a part: needles at its beginning and end, rows, length by the gauge."""
    span = next(span for span in procedure.top_spans() if span.path == (part,))
    timeline = procedure.timeline
    first = timeline.pass_of_line(timeline.line_of_action(span.start) - 1) + 1
    last = timeline.pass_of_line(timeline.line_of_action(span.stop) - 1)
    if last < first:
        return ""
    lines = timeline.line_of_pass(first), timeline.line_of_pass(last)
    needles = [len(timeline.event_of(line).knit) for line in lines]
    words = [
        tr("{first} to {last} needles").format(first=needles[0], last=needles[1])
        if needles[0] != needles[1]
        else counted(tr("{count} needle"), tr("{count} needles"), needles[0]),
        counted(tr("{count} row"), tr("{count} rows"), last - first + 1),
    ]
    state = timeline.state_at(lines[1])
    if state.threaded:
        yarn = timeline.machine.yarns[state.yarn][0]
        gauge = find_gauge(procedure.piece.gauges, yarn, state.dial)
        if gauge is not None:
            words.append(tr("{cm:.1f} cm").format(cm=length_mm_of(last - first + 1, gauge) / 10))
    return ", ".join(words)
