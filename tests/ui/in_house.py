"""A workshop that works in the test's own process, so that every answer comes when the test lets Qt work."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QTimer

from bedview.finish.body_in_shape import body_in_shape
from bedview.finish.finish_plan import finish_plan
from bedview.finish.telling import tell
from bedview.form.resting import closing_shapes
from bedview.form.shape import LEFT_OUT
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.ui.finish.messages import Picture, PictureWanted, Question, Shaped, WayFound
from bedview.ui.finish.shape_process import Answering
from bedview.ui.finish.workshop import Workshop

FRAMES = 3


class InHouse(Workshop):
    """Answers what the process would.

    Attributes:
        begun: the pieces worked on, in order.
        pictures: the pictures asked for, in order.
    """

    def __init__(self) -> None:
        super().__init__()
        self.begun: list[Piece] = []
        self.pictures: list[PictureWanted] = []
        self.answering: Answering | None = None

    def begin(self, piece: Piece) -> None:
        self.stop()
        self.begun.append(piece)
        procedure = compile_piece(piece)
        self.told.emit(tell(finish_plan(piece, procedure)))
        shapes = tuple(closing_shapes(piece, procedure, FRAMES))
        body = body_in_shape(piece, procedure, shapes[-1])
        self.answering = Answering(piece, shapes, body)
        frames, notes = len(shapes) if len(shapes[0]) else 0, (LEFT_OUT, *shapes[-1].notes)
        self.shaped.emit(Shaped(frames, notes, body.what if body else None, body.says if body else ""))

    def _ask(self, question: Question) -> None:
        if isinstance(question, PictureWanted):
            self.pictures.append(question)
        QTimer.singleShot(0, self, partial(self._answer, question))

    def _answer(self, question: Question) -> None:
        if self.answering is None:
            return
        match self.answering.answer(question):
            case Picture() as picture:
                self.picture_painted.emit(picture)
            case WayFound(_, length_mm):
                self.way_found.emit(length_mm)
            case found:
                (self.loop_passed if found.passing else self.loop_found).emit(found.loop)
