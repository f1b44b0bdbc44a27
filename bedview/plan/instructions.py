"""The row-by-row instructions a knitter follows, as data and as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bedview.bed.needles import Side
from bedview.language import filled
from bedview.plan.procedure import Procedure
from bedview.plan.steps import Step
from bedview.plan.words import Words


@dataclass(frozen=True, slots=True)
class Line:
    """A run of like steps as instructions print it.

    Attributes:
        first_row: number of its first row; of the coming one if it makes none.
        rows: how many rows it makes.
        hands: what hands do before the first.
        carriage: what the carriage does in the first; "" if it stays.
        knits: whether stitches come of it.
        why: why.
        at_end: where the carriage stands afterwards.
        counter: the row counter afterwards.
        first_step: number of its first step.
    """

    first_row: int
    rows: int
    hands: tuple[str, ...]
    carriage: str
    knits: bool
    why: str
    at_end: Side
    counter: int
    first_step: int


@dataclass(frozen=True, slots=True)
class Part:
    """The lines of a segment under their heading; of a repeat, those of one segment of one time round."""

    heading: str
    lines: tuple[Line, ...]


def instructions(procedure: Procedure) -> Iterator[Part]:
    """The instructions, part by part."""
    steps = procedure.steps
    start = 0
    while start < len(steps):
        stop = start
        while stop < len(steps) and steps[stop].span == steps[start].span:
            stop += 1
        yield Part(heading(procedure, steps[start].span), tuple(_lines(procedure, steps[start:stop])))
        start = stop


def heading(procedure: Procedure, span: int) -> str:
    """What a segment is called, with the repeats it lies in: "Wedges, 2 of 9: Short rows".

    Args:
        procedure: the procedure.
        span: index of the segment in the procedure's spans.
    """
    words = procedure.words
    inner = procedure.spans[span]
    name = inner.segment.title or inner.segment.says
    text = words.gettext(name)
    depth = len(inner.path)
    for outer in reversed(procedure.spans[:span]):
        above = len(outer.path)
        if above == depth - 1 and (outer.path, outer.turns) == (inner.path[:above], inner.turns[:above]):
            name = outer.segment.title or outer.segment.says
            text = words.gettext("{repeat}, {time} of {times}: {part}").format(
                repeat=words.gettext(name),
                time=inner.turns[above] + 1,
                times=outer.segment.rounds(),
                part=text,
            )
            depth = above
    return text


def _lines(procedure: Procedure, steps: Sequence[Step]) -> Iterator[Line]:
    for first in steps:
        if first.in_group > 1:
            continue
        rows = first.of_group if first.makes_pass else 0
        after = procedure.timeline.state_at(first.last_line + first.of_group - 1)
        yield Line(
            first_row=first.passes if rows else first.passes + 1,
            rows=rows,
            hands=first.hands,
            carriage=first.carriage or "",
            knits=bool(rows and len(procedure.timeline.event_of(first.last_line).knit)),
            why=first.why,
            at_end=after.carriage,
            counter=after.row,
            first_step=first.number,
        )


# -- as text ----------------------------------------------------------------------------------------------


def plan_text(procedure: Procedure) -> str:
    """The instructions as plain text: a heading a part, a line a run of like rows.

    At the end of a row stands COR or COL, for the side where the carriage is then; a key says so. The row
    counter (RC) is named where it differs from the row's number.
    """
    lines = [*_opening_lines(procedure), ""]
    for part in instructions(procedure):
        lines.append(part.heading)
        for line in part.lines:
            lines.extend(f"  {text}" for text in _line_texts(line, procedure.words))
        lines.append("")
    return "\n".join(lines)


def _opening_lines(procedure: Procedure) -> Iterator[str]:
    piece, words = procedure.piece, procedure.words
    if piece.title:
        yield piece.title
    side = words.side(Side(piece.bed.carriage))
    yield filled(
        words.gettext("A bed of {needles} needles, {pitch:g} mm apart; the carriage begins on {side}."),
        needles=piece.bed.needles,
        pitch=piece.bed.pitch_mm,
        side=side,
    )
    yield words.gettext("Key: {entries}.").format(
        entries="; ".join(
            [
                words.gettext("COR, COL: the carriage then stands on the right, on the left"),
                words.gettext("RC: row counter, where it is not the number of the row"),
                *words.position_key(),
            ]
        )
    )


def _line_texts(line: Line, words: Words) -> Iterator[str]:
    gettext = words.gettext
    hands = " ".join(f"{sentence}." for sentence in line.hands)
    if not line.rows:
        yield gettext("before row {row}: {hands}").format(row=line.first_row, hands=hands)
        return
    last_row = line.first_row + line.rows - 1
    side = "COR" if line.at_end is Side.RIGHT else "COL"
    end = side if line.counter == last_row else f"{side}, RC {line.counter}"
    if line.rows > 1:
        if hands:
            yield gettext("before row {row}: {hands}").format(row=line.first_row, hands=hands)
        yield gettext("rows {first}-{last}: {what}. {end}").format(
            first=line.first_row, last=last_row, what=rows_to_do(line.knits, line.rows, words), end=end
        )
    else:
        what = f"{hands} {line.carriage}".strip()
        yield gettext("row {row}: {what}. {end}").format(row=line.first_row, what=what, end=end)
    if line.why:
        yield f"    {line.why}"


def rows_to_do(knits: bool, rows: int, words: Words) -> str:
    """What is done in several like rows.

    Args:
        knits: whether stitches come of it.
        rows: how many.
        words: the language.
    """
    if knits:
        return words.ngettext("Knit {rows} row", "Knit {rows} rows", rows).format(rows=rows)
    return words.ngettext(
        "Move the carriage across {rows} time", "Move the carriage across {rows} times", rows
    ).format(rows=rows)
