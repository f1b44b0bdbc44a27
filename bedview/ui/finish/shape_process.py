"""What a process of its own works out for the page Finish: the making up, the shape, ways along it.

The solver holds the interpreter for long stretches, so a thread beside the window would make it stutter; and
a process can be stopped at once. Nothing here knows of windows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any, Final

from bedview.finish.finish_plan import finish_plan
from bedview.finish.telling import Told, tell
from bedview.form.measuring import Way, way_between
from bedview.form.resting import closing_shapes
from bedview.form.shape import Shape
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece

FRAMES: Final = 9
"""Shapes from flat to made up."""
_LEAST_NEWS: Final = 0.01
"""Progress smaller than this is not told."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the shape has come, 0 to 1."""

    done: float


@dataclass(frozen=True, slots=True)
class Shaped:
    """The shapes from flat to made up; only the flat one where there are no seams."""

    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class WayWanted:
    """The shortest way along one of the shapes is asked for.

    Attributes:
        number: tells this question from others.
        frame: which shape.
        start, end: nodes of it.
    """

    number: int
    frame: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class WayFound:
    """The answer to a :class:`WayWanted`; None where no way leads there."""

    number: int
    way: Way | None


@dataclass(frozen=True, slots=True)
class Failed:
    """Something kept it from being worked out, in one sentence."""

    why: str


News = Told | Progress | Shaped | WayFound | Failed


def work(pipe: Connection, document: dict[str, Any]) -> None:
    """Work everything out for one piece, then answer questions until the other end closes.

    Args:
        pipe: where news go and questions come from.
        document: the piece.
    """
    try:
        shapes = _shapes(pipe, document)
    except MemoryError:
        pipe.send(Failed("there is not enough memory for a shape of this size"))
        return
    try:
        while True:
            asked: WayWanted = pipe.recv()
            way = way_between(shapes[asked.frame], asked.start, asked.end)
            pipe.send(WayFound(asked.number, way))
    except (EOFError, OSError):
        # The window is gone, or shows another piece.
        return


def _shapes(pipe: Connection, document: dict[str, Any]) -> Sequence[Shape]:
    piece = Piece.read(document)
    procedure = compile_piece(piece)
    pipe.send(tell(finish_plan(piece, procedure)))
    told = 0.0

    def tell_progress(done: float) -> None:
        nonlocal told
        if abs(done - told) >= _LEAST_NEWS:
            told = done
            pipe.send(Progress(done))

    shapes = closing_shapes(piece, procedure, FRAMES, progress=tell_progress)
    for shape in shapes:
        # Kept in the shape, so that the window need not work them out.
        _ = shape.triangles, shape.strain
    pipe.send(Shaped(tuple(shapes)))
    return shapes
