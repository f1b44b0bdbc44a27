"""The window's end of the process that works out making up and shape."""

from __future__ import annotations

import multiprocessing
import threading
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from PySide6.QtCore import QObject, Signal

from bedview import catalogue, language
from bedview.finish.told import Told
from bedview.plan.piece import Piece
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

_LONGEST_WAIT_S = 2.0


def _work(pipe: Connection, document: dict[str, Any], code: str, decimal_sign: str) -> None:
    """What the process does; imported only there, for the window has no use for the solver."""
    from bedview.ui.finish.shape_process import work

    # A new process speaks English until it is told otherwise.
    catalogue.speak(code, decimal_sign)
    work(pipe, document)


class Workshop(QObject):
    """Works on one piece at a time; another one, or closing, stops what is under way at once."""

    told = Signal(object)
    """The making up in words: :class:`~bedview.finish.told.Told`."""
    progressed = Signal(float)
    """How far the shape has come, 0 to 1."""
    shaped = Signal(object)
    """The shape is there: :class:`~bedview.ui.finish.messages.Shaped`."""
    picture_painted = Signal(object)
    """A :class:`~bedview.ui.finish.messages.Picture` that was asked for."""
    loop_found = Signal(object)
    """The loop at a point that was pressed; None beside the shape."""
    loop_passed = Signal(object)
    """The loop at a point the pointer is over; None beside the shape."""
    way_found = Signal(object)
    """The length in millimetres of the way that was asked for last; None where none leads there."""
    failed = Signal(str)
    """It could not be worked out; one sentence says why."""
    _arrived = Signal(int, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._number = 0
        self._asked = 0
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._shaped = False
        self._listeners: list[threading.Thread] = []
        self._arrived.connect(self._take)

    def begin(self, piece: Piece) -> None:
        """Work on a piece."""
        self.stop()
        spawning = multiprocessing.get_context("spawn")
        mine, theirs = spawning.Pipe()
        given = (theirs, piece.to_document(), language.code(), language.decimal_sign())
        process = spawning.Process(target=_work, args=given, daemon=True)
        process.start()
        theirs.close()
        self._process, self._pipe, self._shaped = process, mine, False
        listener = threading.Thread(
            target=self._listen, args=(self._number, mine, process), name="bedview-workshop", daemon=True
        )
        listener.start()
        self._listeners = [each for each in self._listeners if each.is_alive()] + [listener]

    def stop(self) -> None:
        """Give up what is under way."""
        self._number += 1
        if self._process is not None:
            self._process.terminate()
        self._process = self._pipe = None

    def close(self) -> None:
        """Stop, and wait until nothing of it is left; for the end of the program, or of a piece."""
        self.stop()
        for listener in self._listeners:
            listener.join(_LONGEST_WAIT_S)
        self._listeners.clear()

    def ask_picture(self, wanted: PictureWanted) -> None:
        """Ask for a picture of the shape."""
        self._ask(wanted)

    def ask_loop(self, x: float, y: float) -> None:
        """Ask which loop is seen at a point of the last picture that was pressed."""
        self._ask(LoopWanted(x, y))

    def ask_passed(self, x: float, y: float) -> None:
        """Ask which loop is seen at a point of the last picture that the pointer is over."""
        self._ask(LoopWanted(x, y, passing=True))

    def ask_way(self, frame: int, start: int, end: int) -> None:
        """Ask for the shortest way between two loops on one of the shapes; only the last answer is told."""
        self._asked += 1
        self._ask(WayWanted(self._asked, frame, start, end))

    def _ask(self, question: Question) -> None:
        if self._pipe is None or not self._shaped:
            return
        try:
            self._pipe.send(question)
        except OSError:
            # The process has ended; the listener says so.
            return

    def _listen(self, number: int, pipe: Connection, process: BaseProcess) -> None:
        """Hand news on until the process ends; on a thread of its own."""
        news: object = None
        try:
            while True:
                news = pipe.recv()
                self._arrived.emit(number, news)
        except (EOFError, OSError):
            process.join()
            self._hand_on_end(number)
        except RuntimeError:
            return  # The window is gone, and so is everyone who would want to know.

    def _hand_on_end(self, number: int) -> None:
        try:
            self._arrived.emit(number, None)
        except RuntimeError:
            return  # As above.

    def _take(self, number: int, news: object) -> None:
        if number != self._number:
            return
        match news:
            case Told():
                self.told.emit(news)
            case Progress(done):
                self.progressed.emit(done)
            case Shaped():
                self._shaped = True
                self.shaped.emit(news)
            case Picture():
                self.picture_painted.emit(news)
            case LoopFound(loop, passing):
                (self.loop_passed if passing else self.loop_found).emit(loop)
            case WayFound(asked, length_mm):
                if asked == self._asked:
                    self.way_found.emit(length_mm)
            case Failed(why):
                self.stop()
                self.failed.emit(why)
            case _:
                self._process = self._pipe = None
                self.failed.emit(self.tr("the program that works it out has ended"))
