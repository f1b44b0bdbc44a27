"""The window's end of the process that works out making up and shape."""

from __future__ import annotations

import multiprocessing
import threading
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from PySide6.QtCore import QObject, Signal

from bedview.finish.telling import Told
from bedview.plan.piece import Piece
from bedview.ui.finish.shape_process import Failed, Progress, Shaped, WayFound, WayWanted, work


class Workshop(QObject):
    """Works on one piece at a time; another one, or closing, stops what is under way at once."""

    told = Signal(object)
    """The making up in words: :class:`~bedview.finish.telling.Told`."""
    progressed = Signal(float)
    """How far the shape has come, 0 to 1."""
    shaped = Signal(object)
    """The shapes from flat to made up, a tuple."""
    way_found = Signal(object)
    """The answer to :meth:`ask_way`: a way, or None."""
    failed = Signal(str)
    """The shape could not be worked out; one sentence says why."""
    _arrived = Signal(int, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._number = 0
        self._asked = 0
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._shaped = False
        self._arrived.connect(self._take)

    def begin(self, piece: Piece) -> None:
        """Work on a piece."""
        self.stop()
        spawning = multiprocessing.get_context("spawn")
        mine, theirs = spawning.Pipe()
        process = spawning.Process(target=work, args=(theirs, piece.to_document()), daemon=True)
        process.start()
        theirs.close()
        self._process, self._pipe, self._shaped = process, mine, False
        listener = threading.Thread(
            target=self._listen, args=(self._number, mine, process), name="bedview-workshop", daemon=True
        )
        listener.start()

    def stop(self) -> None:
        """Give up what is under way."""
        self._number += 1
        if self._process is not None:
            self._process.terminate()
        self._process = self._pipe = None

    def ask_way(self, frame: int, start: int, end: int) -> None:
        """Ask for the shortest way between two nodes of one of the shapes; only the last answer is told."""
        self._asked += 1
        if self._pipe is not None and self._shaped:
            self._pipe.send(WayWanted(self._asked, frame, start, end))

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
            case Shaped(shapes):
                self._shaped = True
                self.shaped.emit(shapes)
            case WayFound(asked, way):
                if asked == self._asked:
                    self.way_found.emit(way)
            case Failed(why):
                self.failed.emit(why)
            case _:
                if not self._shaped:
                    self.failed.emit(self.tr("the program that works it out has ended"))
                self._process = self._pipe = None
