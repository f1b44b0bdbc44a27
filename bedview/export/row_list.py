"""The rows as a sheet lists them: like reasons said once, and which line is worth a picture."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from bedview.bed.actions import Knit
from bedview.bed.needles import Side
from bedview.picture.bed_scene import TouchKind
from bedview.picture.scene_building import touches_of
from bedview.plan.instructions import Line, Part, instructions, rows_to_do
from bedview.plan.procedure import Procedure
from bedview.plan.safety import cautions
from bedview.plan.words import Words

_NEEDLE: Final = re.compile(r"\b[LR]\d+\b")
_NUMBER: Final = re.compile(r"\d+")
_SEVERAL: Final = re.compile(r"N(?:\W+(?:\w+\W+)?N)+")


@dataclass(frozen=True, slots=True)
class ListedLine:
    """A run of like rows.

    Attributes:
        first_row: number of its first row; of the coming one if it makes none.
        rows: how many rows it makes.
        hands: sentences for hands, each with its stop.
        carriage: what the carriage does in the first row, with its stop; "" if it stays.
        knits: whether stitches come of it.
        why: why, where the same was not said of another row of this part.
        minds: where hands can be hurt, likewise.
        at_end: ``COR`` or ``COL``, and the row counter where it is not the number of the row.
        first_step: number of its first step.
        pictured: whether hands do something here that no earlier picture shows.
    """

    first_row: int
    rows: int
    hands: tuple[str, ...]
    carriage: str
    knits: bool
    why: str
    minds: tuple[str, ...]
    at_end: str
    first_step: int
    pictured: bool

    @property
    def numbers(self) -> range:
        """Numbers of its rows."""
        return range(self.first_row, self.first_row + self.rows)

    def what(self, words: Words) -> str:
        """What the carriage does in all its rows, with its stop; "" if it stays."""
        return stopped(rows_to_do(self.knits, self.rows, words)) if self.rows > 1 else self.carriage


@dataclass(frozen=True, slots=True)
class ListedPart:
    """A part under its heading."""

    heading: str
    lines: tuple[ListedLine, ...]

    @property
    def rows(self) -> int:
        """How many rows it has."""
        return sum(line.rows for line in self.lines)


def row_list(procedure: Procedure) -> Iterator[ListedPart]:
    """The parts of a procedure in order, with the rows to be done in each."""
    said: set[tuple[tuple[int, ...], str]] = set()
    shown = _Shown(procedure)
    for part in instructions(procedure):
        yield ListedPart(part.heading, tuple(_lines(procedure, part, said, shown)))


def _lines(
    procedure: Procedure, part: Part, said: set[tuple[tuple[int, ...], str]], shown: _Shown
) -> Iterator[ListedLine]:
    for line in part.lines:
        # A part that is repeated says its reasons in the first round.
        path = procedure.spans[procedure.steps[line.first_step].span].path
        told = [line.why, *cautions(procedure, line.first_step)]
        why, *minds = (text if (path, like(text)) not in said else "" for text in told)
        said |= {(path, like(text)) for text in told}
        hands = tuple(stopped(sentence) for sentence in line.hands)
        yield ListedLine(
            first_row=line.first_row,
            rows=line.rows,
            hands=hands,
            carriage=stopped(line.carriage),
            knits=line.knits,
            why=why,
            minds=tuple(filter(None, minds)),
            at_end=_at_end(line),
            first_step=line.first_step,
            pictured=shown.is_new(line),
        )


def like(sentence: str) -> str:
    """A sentence with its needles left out: two that come out alike say the same of other needles."""
    return _SEVERAL.sub("N", _NEEDLE.sub("N", sentence))


def stopped(sentence: str) -> str:
    """A sentence with a stop at its end, unless it has one or is none."""
    return sentence if not sentence or sentence[-1] in ".!?…" else f"{sentence}."


def _at_end(line: Line) -> str:
    if not line.rows:
        return ""
    side = "COR" if line.at_end is Side.RIGHT else "COL"
    return side if line.counter == line.first_row + line.rows - 1 else f"{side}, RC {line.counter}"


class _Shown:
    """What hands were seen doing so far, whichever needles and rows they did it with."""

    def __init__(self, procedure: Procedure) -> None:
        self._procedure = procedure
        self._lines: set[tuple[str, ...]] = set()
        self._shown: set[str] = set()

    def is_new(self, line: Line) -> bool:
        """Whether hands do something here that was not shown before; it is shown from now on."""
        hands = tuple(_gesture(sentence) for sentence in line.hands)
        if hands in self._lines:
            return False
        self._lines.add(hands)
        touching = {_gesture(sentence) for sentence in self._touching(line)}
        new = not touching <= self._shown
        self._shown |= touching
        return new

    def _touching(self, line: Line) -> Iterator[str]:
        """Sentences by which hands move, wrap or fill needles; a mere note needs no picture."""
        step = self._procedure.steps[line.first_step]
        for place, number in enumerate(step.actions):
            action = self._procedure.actions[number]
            if isinstance(action, Knit):
                return
            before = self._procedure.timeline.state_at(step.first_line + place - 1)
            touches = touches_of(action, before.position)
            if any(touch.kind is not TouchKind.POINT for touch in touches):
                yield " ".join(self._procedure.words.hand(action, before))


def _gesture(sentence: str) -> str:
    """A sentence without its needles and numbers: "the heel of the stitch from row 20" is one of many."""
    return _NUMBER.sub("0", _NEEDLE.sub("N", sentence))


def rows_in_words(rows: int, words: Words) -> str:
    """How many rows a part has."""
    return words.ngettext("{rows} row", "{rows} rows", rows).format(rows=rows)
