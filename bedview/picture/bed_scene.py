"""What is to be seen of a bed at one moment, as plain values: no sizes, no strokes."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import YarnRole
from bedview.bed.needles import Position, Side
from bedview.language import marked
from bedview.picture.colour import Colour
from bedview.picture.fabric_window import FabricWindow
from bedview.picture.look import DEFAULT_YARNS

Indices = npt.NDArray[np.intp]
NO_NEEDLES: Final[Indices] = np.empty(0, np.intp)

PLAIN_LABELS: Final = (marked("out"), marked("work"), marked("upper"), marked("hold"))
"""Words for the four positions, from the back of the bed to the front."""


@dataclass(frozen=True, slots=True)
class YarnSeen:
    """A yarn as it looks.

    Attributes:
        name: for people.
        colour: ``#rrggbb``.
        role: waste is painted broken, so that it is never taken for fabric.
    """

    name: str
    colour: Colour
    role: YarnRole = YarnRole.FABRIC


def default_yarns(roles: tuple[YarnRole, ...]) -> tuple[YarnSeen, ...]:
    """Yarns that nobody gave a colour, told apart within their role."""
    seen: dict[YarnRole, int] = {}
    yarns = []
    for role in roles:
        place = seen.get(role, 0)
        seen[role] = place + 1
        colours = DEFAULT_YARNS[role]
        yarns.append(YarnSeen(role.value, colours[place % len(colours)], role))
    return tuple(yarns)


class TouchKind(StrEnum):
    """What hands are about to do to needles."""

    PLACE = "place"
    WRAP = "wrap"
    CAST_ON = "cast_on"
    TRANSFER = "transfer"
    BIND_OFF = "bind_off"
    HANG = "hang"
    POINT = "point"
    """They are pointed out."""
    CHOOSE = "choose"
    """They are chosen, for what hands do next."""


@dataclass(frozen=True, slots=True)
class Touch:
    """Needles that hands are about to touch.

    Attributes:
        kind: what is done.
        needles: indices from 0 at the left end.
        to: where they are placed, for ``PLACE``.
        target: where the loops go, for ``TRANSFER``.
    """

    kind: TouchKind
    needles: tuple[int, ...]
    to: Position | None = None
    target: int | None = None


@dataclass(frozen=True, slots=True, eq=False)
class ComingPass:
    """The pass that comes next.

    Attributes:
        towards: the side the carriage goes to.
        knit: needles that will draw a loop, ascending.
        wrapped: needles that it will wrap.
        dropped: needles that will lose their loops.
    """

    towards: Side
    knit: Indices = field(default_factory=lambda: NO_NEEDLES)
    wrapped: Indices = field(default_factory=lambda: NO_NEEDLES)
    dropped: Indices = field(default_factory=lambda: NO_NEEDLES)


@dataclass(frozen=True, slots=True)
class View:
    """How the viewer wants to see it.

    Attributes:
        turned: as a class sees it from across the table: left and right exchanged, needles pointing away.
        depth: courses of fabric to show at most.
        labels: the four positions' names, from out of work to hold.
        show_labels: whether to write them beside the bed.
        stretch: first and last needle to show; None to follow what is in use.
        letters: how much larger than usual names of needles and positions are written.
    """

    turned: bool = False
    depth: int = 40
    labels: tuple[str, str, str, str] = PLAIN_LABELS
    show_labels: bool = True
    stretch: tuple[int, int] | None = None
    letters: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class BedScene:
    """One moment of the bed. Needle arrays have shape (n,), index 0 at the left end.

    Attributes:
        positions: :class:`~bedview.bed.needles.Position` of each needle, uint8.
        loops: loops on each needle, wraps not counted.
        wraps: wraps on each needle.
        loop_yarn: index of the yarn of the uppermost loop on each needle, -1 for none.
        wrap_yarn: index of the yarn of the uppermost wrap on each needle, -1 for none.
        yarns: the piece's yarns.
        carriage: the side the carriage stands on.
        hold_cams: whether they are on.
        dial: tension, None if it was never set.
        feeder: index of the yarn in the feeder, -1 for none.
        tip: needle the yarn leaves from, -1 if it has made no loop yet or that loop left the bed.
        tip_is_wrap: whether it leaves from a wrap.
        row: the row counter.
        passes: passes made.
        used: first and last needle that the piece ever uses.
        fabric: what hangs below the needles.
        touches: what hands do next.
        coming: the pass that follows, None if none does.
        view: how it is looked at.
    """

    positions: npt.NDArray[np.uint8]
    loops: npt.NDArray[np.int32]
    wraps: npt.NDArray[np.int32]
    loop_yarn: npt.NDArray[np.int32]
    wrap_yarn: npt.NDArray[np.int32]
    yarns: tuple[YarnSeen, ...]
    carriage: Side
    hold_cams: bool = False
    dial: float | None = None
    feeder: int = -1
    tip: int = -1
    tip_is_wrap: bool = False
    row: int = 0
    passes: int = 0
    used: tuple[int, int] | None = None
    fabric: FabricWindow = field(default_factory=FabricWindow.empty)
    touches: tuple[Touch, ...] = ()
    coming: ComingPass | None = None
    view: View = field(default_factory=View)

    @property
    def needles(self) -> int:
        """How many needles the bed has."""
        return len(self.positions)

    def touched(self) -> tuple[int, ...]:
        """All needles that hands touch next, ascending."""
        found = {needle for touch in self.touches for needle in touch.needles}
        found.update(touch.target for touch in self.touches if touch.target is not None)
        return tuple(sorted(found))

    def in_use(self) -> tuple[int, int]:
        """First and last needle that is not out of work, bears loops, is touched, or is used by the piece.

        The middle of the bed if there is none.
        """
        busy = np.flatnonzero((self.positions != Position.OUT) | (self.loops > 0) | (self.wraps > 0))
        ends = [*busy[[0, -1]].tolist()] if len(busy) else []
        ends += self.touched()
        ends += self.used or ()
        if not ends:
            return self.needles // 2 - 1, self.needles // 2
        return min(ends), max(ends)


def empty_scene(needles: int, carriage: Side = Side.RIGHT) -> BedScene:
    """A bed of that many needles, all out of work and empty."""

    def column(value: int) -> npt.NDArray[np.int32]:
        return np.full(needles, value, np.int32)

    return BedScene(np.zeros(needles, np.uint8), column(0), column(0), column(-1), column(-1), (), carriage)
