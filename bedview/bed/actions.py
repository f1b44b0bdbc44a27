"""What hands and carriage can do: a closed union of frozen actions.

Needles are indices from 0 at the left end. The words of the piece file (`do` and its keys) are the business
of :mod:`bedview.plan.piece`; here stands what the machine understands.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bedview.bed.needles import Position, Side
from bedview.bed.yarn_role import YarnRole as YarnRole  # noqa: PLC0414 - to be had from here too

Needles = tuple[int, ...]
"""Needle indices from 0 at the left end of the bed."""


class Maker(StrEnum):
    """What made the loops of an edge."""

    PASS = "pass"
    CAST_ON = "cast_on"
    BIND_OFF = "bind_off"


@dataclass(frozen=True, slots=True)
class OpenEdge:
    """Loops that stand on needles, or dropped from them (in pass ``in_pass``, if named)."""

    needles: Needles
    in_pass: int | None = None


@dataclass(frozen=True, slots=True)
class MadeEdge:
    """Loops made by a pass, or by a cast-on or bind-off after ``in_pass`` passes.

    ``needles`` None: all that were made. ``by`` None: the pass, or the cast-on for pass 0.
    """

    in_pass: int
    needles: Needles | None = None
    by: Maker | None = None


@dataclass(frozen=True, slots=True)
class SideEdge:
    """The outermost loops of the passes from ``first`` to ``last``, both included."""

    side: Side
    first: int
    last: int


Edge = OpenEdge | MadeEdge | SideEdge


@dataclass(frozen=True, slots=True)
class Thread:
    """Thread ``yarn``: a new strand begins."""

    yarn: str


@dataclass(frozen=True, slots=True)
class Cut:
    """Cut the strand in the feeder, leaving ``tail_cm``."""

    tail_cm: float | None = None


@dataclass(frozen=True, slots=True)
class Park:
    """Take the strand out of the feeder without cutting it; it waits."""


@dataclass(frozen=True, slots=True)
class Resume:
    """Put the last parked strand of ``yarn`` back into the feeder."""

    yarn: str


@dataclass(frozen=True, slots=True)
class Note:
    """Words for the knitter; nothing happens on the bed."""

    text: str
    needles: Needles = ()


@dataclass(frozen=True, slots=True)
class HoldCams:
    """Set the hold cams."""

    on: bool


@dataclass(frozen=True, slots=True)
class Tension:
    """Set the tension dial, 0 to 20, fractions allowed."""

    dial: float


@dataclass(frozen=True, slots=True)
class SetCounter:
    """Set the row counter, 0 to 9999."""

    value: int


@dataclass(frozen=True, slots=True)
class Place:
    """Move needles to a position by hand; loops stay on them."""

    needles: Needles
    position: Position


@dataclass(frozen=True, slots=True)
class CastOn:
    """E-wrap one closed loop on each of these empty needles."""

    needles: Needles


@dataclass(frozen=True, slots=True)
class Wrap:
    """Lay the strand round a held needle by hand."""

    needle: int


@dataclass(frozen=True, slots=True)
class Transfer:
    """Move all loops of ``source`` on top of those of ``target``."""

    source: int
    target: int


@dataclass(frozen=True, slots=True)
class BindOff:
    """Close the stacks of these needles, from the carriage's side to the far end."""

    needles: Needles


@dataclass(frozen=True, slots=True)
class Hang:
    """Hang the loops of an edge on needles, the k-th on the k-th from the left."""

    needles: Needles
    edge: Edge
    turned: bool = False


@dataclass(frozen=True, slots=True)
class FreeMove:
    """Lift the carriage off and set it on the other side."""


@dataclass(frozen=True, slots=True)
class Knit:
    """``rows`` passes, 1 to 9999; ``start`` is the side the carriage is meant to stand on first."""

    rows: int
    start: Side | None = None


HandAction = (
    Thread
    | Cut
    | Park
    | Resume
    | Note
    | HoldCams
    | Tension
    | SetCounter
    | Place
    | CastOn
    | Wrap
    | Transfer
    | BindOff
    | Hang
    | FreeMove
)
Action = HandAction | Knit
