"""Plays a rehearsal by itself, so many steps a second."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from bedview.session.rehearsal import Rehearsal


class Player(QObject):
    """The player.

    Args:
        rehearsal: what it plays.
        steps_a_second: how fast.
        parent: as ever.
    """

    playing_changed = Signal(bool)
    """It began or stopped."""

    def __init__(self, rehearsal: Rehearsal, steps_a_second: float, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rehearsal = rehearsal
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._tick)
        self.set_speed(steps_a_second)

    @property
    def playing(self) -> bool:
        """Whether it plays."""
        return self._timer.isActive()

    def set_speed(self, steps_a_second: float) -> None:
        """Play faster or slower from now on."""
        self._timer.setInterval(round(1000 / steps_a_second))

    def toggle(self) -> None:
        """Begin, from the start again if all is done; or stop."""
        if self.playing:
            self.stop()
            return
        if self._rehearsal.at_end:
            self._rehearsal.go_to(self._rehearsal.first)
        if not self._rehearsal.at_end:
            self._timer.start()
            self.playing_changed.emit(True)

    def stop(self) -> None:
        """Stop, if it plays."""
        if self.playing:
            self._timer.stop()
            self.playing_changed.emit(False)

    def _tick(self) -> None:
        self._rehearsal.on()
        if self._rehearsal.at_end:
            self.stop()
