r"""A state in one line of text, to be printed, read, and written in tests.

The plainest is ``L4 wwwwhhhh R4 carriage right``: the needles from the left end to the right one, a letter
for the position of each (as in a trace: ``o``\ ut, ``w``\ ork, ``u``\ pper, ``h``\ old), and where the
carriage stands. More stands behind it, in this order, only where it is not the plain case:

==================  =======================================  =====================================
part                what it says                             the plain case, left out
==================  =======================================  =====================================
``cams on``         the hold cams                            off
``pass 12``         passes made                              none
``row 3``           the row counter                          as many as passes
``dial 6.5``        the tension dial                         not set
``loops L4-L2=2``   loops and wraps on needles               0 on needles that are out, 1 on others
``wraps R1=1``      how many of them are wraps               0
``yarn main``       the yarn in the feeder, to the line end  none
==================  =======================================  =====================================
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from bedview.bed.actions import YarnRole
from bedview.bed.needles import (
    MAX_NEEDLES,
    Bed,
    NeedleError,
    Position,
    Side,
    needle_name,
    parse_needles,
    shorten,
)
from bedview.bed.state import BedState

_COUNT: Final = r"(0|[1-9][0-9]{0,8})"
_LINE: Final = re.compile(
    r"L([1-9][0-9]{0,2}) ([owuh]+) R([1-9][0-9]{0,2}) carriage (left|right)"
    rf"( cams on)?(?: pass {_COUNT})?(?: row {_COUNT})?(?: dial (-?[0-9]+(?:\.[0-9]+)?(?:e-[0-9]+)?))?"
    r"(?: loops (\S+))?(?: wraps (\S+))?(?: yarn (.+))?"
)
_ESCAPED: Final = re.compile(r"\\(10[0-9a-f]{4}|[0-9a-f]{1,5});")


class NotationError(ValueError):
    """A line that is not a state's, with the reason in one sentence."""


@dataclass(frozen=True, slots=True)
class Described:
    """All that the line says; needles by index from the left end.

    Attributes:
        positions: of each needle.
        carriage: where it stands.
        hold_cams: on (True) or off.
        passes: passes made.
        row: the row counter.
        dial: the tension dial, None where it is not set.
        heights: loops and wraps on each needle.
        wraps: how many of them are wraps.
        yarn: id of the yarn in the feeder, None for none.
    """

    positions: tuple[Position, ...]
    carriage: Side
    hold_cams: bool
    passes: int
    row: int
    dial: float | None
    heights: tuple[int, ...]
    wraps: tuple[int, ...]
    yarn: str | None

    def __str__(self) -> str:
        half = len(self.positions) // 2
        letters = "".join(position.letter for position in self.positions)
        parts = [f"L{half} {letters} R{half} carriage {self.carriage}"]
        if self.hold_cams:
            parts.append("cams on")
        if self.passes:
            parts.append(f"pass {self.passes}")
        if self.row != self.passes:
            parts.append(f"row {self.row}")
        if self.dial is not None:
            parts.append(f"dial {self.dial}")
        for word, counts, plain in (
            ("loops", self.heights, _plain_heights(self.positions)),
            ("wraps", self.wraps, (0,) * len(self.wraps)),
        ):
            if counts != plain:
                parts.append(f"{word} {_written(counts, plain)}")
        if self.yarn is not None:
            parts.append(f"yarn {_escaped(self.yarn)}")
        return " ".join(parts)


def describe(state: BedState, bed: Bed, yarns: Sequence[tuple[str, YarnRole]]) -> str:
    """The state in one line.

    Args:
        state: a state of that bed.
        bed: the bed.
        yarns: id and role of each yarn of the piece.
    """
    described = Described(
        positions=tuple(Position(number) for number in state.position.tolist()),
        carriage=state.carriage,
        hold_cams=state.hold_cams,
        passes=state.passes,
        row=state.row,
        dial=state.dial,
        heights=tuple(state.height.tolist()),
        wraps=tuple(state.wraps.tolist()),
        yarn=yarns[state.yarn][0] if state.threaded else None,
    )
    assert len(described.positions) == bed.needles
    return str(described)


def parse(text: str) -> Described:
    """What a line says; ``str`` of it is that line again.

    Raises:
        NotationError: if the line is not as :func:`describe` would write it.
    """
    match = _LINE.fullmatch(text)
    if match is None:
        raise NotationError(f"'{shorten(text, 80)}' does not read like 'L4 wwwwhhhh R4 carriage right'")
    left, letters, right, carriage, cams, passes, row, dial, loops, wraps, yarn = match.groups()
    needles = len(letters)
    if left != right or needles != 2 * int(left) or needles > MAX_NEEDLES:
        raise NotationError(f"{needles} letters do not reach from L{left} to R{right}")
    positions = tuple(Position("owuh".index(letter)) for letter in letters)
    described = Described(
        positions=positions,
        carriage=Side(carriage),
        hold_cams=cams is not None,
        passes=int(passes or 0),
        row=int(row or passes or 0),
        dial=None if dial is None else float(dial) if "." in dial or "e" in dial else int(dial),
        heights=_read(loops, _plain_heights(positions)),
        wraps=_read(wraps, (0,) * needles),
        yarn=None if yarn is None else _ESCAPED.sub(lambda found: chr(int(found[1], 16)), yarn),
    )
    if any(wraps > height for wraps, height in zip(described.wraps, described.heights, strict=True)):
        raise NotationError("a needle has more wraps than loops and wraps together")
    if str(described) != text:
        raise NotationError(f"write it so: {described}")
    return described


def _plain_heights(positions: Sequence[Position]) -> tuple[int, ...]:
    return tuple(int(position is not Position.OUT) for position in positions)


def _written(counts: Sequence[int], plain: Sequence[int]) -> str:
    """The counts that are not plain, a part for each run of neighbouring needles with the same."""
    parts: list[str] = []
    for (count, differs), group in groupby(
        range(len(counts)), key=lambda needle: (counts[needle], counts[needle] != plain[needle])
    ):
        if differs:
            run = list(group)
            names = [needle_name(needle, len(counts)) for needle in sorted({run[0], run[-1]})]
            parts.append(f"{'-'.join(names)}={count}")
    return ",".join(parts)


def _read(text: str | None, plain: tuple[int, ...]) -> tuple[int, ...]:
    """The counts written in a part, or the plain ones."""
    counts = list(plain)
    for part in text.split(",") if text is not None else ():
        names, _, count = part.partition("=")
        if re.fullmatch(_COUNT, count) is None:
            raise NotationError(f"'{shorten(part)}' does not read like 'L4-L2=2'")
        try:
            needles = parse_needles(names, len(plain))
        except NeedleError as error:
            raise NotationError(str(error)) from error
        for needle in needles:
            counts[needle] = int(count)
    return tuple(counts)


def _escaped(name: str) -> str:
    r"""A name on one line: what cannot be printed, and the backslash, as ``\number;``."""
    return "".join(each if each.isprintable() and each != "\\" else f"\\{ord(each):x};" for each in name)
