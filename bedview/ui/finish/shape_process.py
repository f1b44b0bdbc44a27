"""What a process of its own works out for the page Finish: the making up, the shape, and pictures of it.

Solving and painting hold the interpreter for long stretches, so a thread beside the window would make it
stutter; and a process can be stopped at once. Shapes stay here; the window gets pictures.
"""

from __future__ import annotations

from multiprocessing.connection import Connection
from typing import Any, Final

import numpy as np

from bedview.finish.body_in_shape import PlacedBody, body_in_shape, stood_with_body
from bedview.finish.finish_plan import finish_plan
from bedview.finish.telling import tell
from bedview.form.measuring import way_between
from bedview.form.resting import closing_shapes
from bedview.form.shape import LEFT_OUT, Shape
from bedview.form.stitch_sizes import Floats
from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.ui.finish.messages import (
    Failed,
    LoopFound,
    LoopWanted,
    Picture,
    PictureWanted,
    Progress,
    Question,
    Shaped,
    WayFound,
    WayWanted,
)
from bedview.ui.finish.shape_painting import PaintedShape, loop_seen_at, paint_shape

FRAMES: Final = 9
"""Shapes from flat to made up."""
_LEAST_NEWS: Final = 0.01
"""Progress smaller than this is not told."""


def work(pipe: Connection, document: dict[str, Any]) -> None:
    """Work everything out for one piece, then answer questions until the other end closes.

    Args:
        pipe: where answers go and questions come from.
        document: the piece.
    """
    try:
        answering = _solve(pipe, document)
        while True:
            question: Question = pipe.recv()
            pipe.send(answering.answer(question))
    except MemoryError:
        pipe.send(Failed(_("there is not enough memory for a shape of this size")))
    except (EOFError, OSError):
        # The window is gone, or shows another piece.
        return


def _solve(pipe: Connection, document: dict[str, Any]) -> Answering:
    piece = Piece.read(document)
    procedure = compile_piece(piece)
    pipe.send(tell(finish_plan(piece, procedure)))
    told = 0.0

    def tell_progress(done: float) -> None:
        nonlocal told
        if abs(done - told) >= _LEAST_NEWS:
            told = done
            pipe.send(Progress(done))

    shapes = tuple(closing_shapes(piece, procedure, FRAMES, progress=tell_progress))
    frames = len(shapes) if len(shapes[0]) else 0
    shapes, body = stood_with_body(shapes, body_in_shape(piece, procedure, shapes[-1]))
    told_of_body = (None, "") if body is None else (body.what, body.says)
    pipe.send(Shaped(frames, (_(LEFT_OUT), *shapes[-1].notes), *told_of_body))
    return Answering(piece, shapes, body)


class Answering:
    """Answers questions about the shapes of a piece.

    Args:
        piece: the piece.
        shapes: from flat to made up.
        body: whom the piece is for, in the last of them.
    """

    def __init__(self, piece: Piece, shapes: tuple[Shape, ...], body: PlacedBody | None = None) -> None:
        self._piece = piece
        self._shapes = shapes
        self._body = body
        self._painted: PaintedShape | None = None
        self._way: Floats | None = None

    def answer(self, question: Question) -> Picture | LoopFound | WayFound:
        """Answer a question."""
        match question:
            case PictureWanted():
                way = self._way if question.with_way else None
                self._painted = paint_shape(question, self._shapes, self._piece, way, self._body)
                return self._painted.picture
            case LoopWanted(x, y, passing):
                loop = None if self._painted is None else loop_seen_at(self._painted, x, y)
                return LoopFound(loop, passing)
            case WayWanted():
                return self._measured(question)

    def _measured(self, asked: WayWanted) -> WayFound:
        shape = self._shapes[asked.frame]
        start, end = shape.nodes_of_loops(np.array((asked.start, asked.end), np.int32)).tolist()
        way = way_between(shape, start, end) if min(start, end) >= 0 else None
        self._way = None if way is None else way.places_mm
        return WayFound(asked.number, None if way is None else way.length_mm)
