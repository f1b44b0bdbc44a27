"""What an action did: one event a hand action, one a pass (or a block of like passes)."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np
import numpy.typing as npt

Indices = npt.NDArray[np.intp]

NONE: Final[Indices] = np.empty(0, np.intp)
NONE.flags.writeable = False


def _none() -> Indices:
    return NONE


@dataclass(frozen=True, slots=True)
class Facts:
    """What a judge will ask about, noted while it happens. Needle indices, ascending.

    Attributes:
        wrong_side: the carriage did not stand on the side that the action named.
        no_yarn_left: the strand in the feeder was cut by threading another.
        unsecured: needles that dropped fabric loops which nothing secures.
        held_knitted: needles in hold that bore loops and knitted or dropped though nobody meant it.
        unformed: needles that were laid in or drawn only through wraps.
        outside: needles wrapped outside the stretch, if there is anything to note.
        many_wraps: needles that came to bear more than four wraps.
        many_loops: needles that came to bear more than three loops, wraps aside.
        waste_caught: needles on which a fabric loop was drawn through a waste wrap.
        short_waste: needles that dropped a group on fewer than four rows of waste.
        latch_closed: needles with loops placed from hold or upper to work or out.
        put_out: needles with loops put out of work.
    """

    wrong_side: bool = False
    no_yarn_left: bool = False
    unsecured: Indices = field(default_factory=_none)
    held_knitted: Indices = field(default_factory=_none)
    unformed: Indices = field(default_factory=_none)
    outside: Indices = field(default_factory=_none)
    many_wraps: Indices = field(default_factory=_none)
    many_loops: Indices = field(default_factory=_none)
    waste_caught: Indices = field(default_factory=_none)
    short_waste: Indices = field(default_factory=_none)
    latch_closed: Indices = field(default_factory=_none)
    put_out: Indices = field(default_factory=_none)


NO_FACTS: Final = Facts()


@dataclass(slots=True)
class Event:
    """What one action did; a ``knit`` of many rows may give several events, each a block of like passes.

    Attributes:
        action: number of the action, from 0.
        line: its first line in the timeline.
        lines: how many lines it stands for; more than one only for passes that all knit the same needles.
        passes: passes made after its first line.
        yarn: index of the yarn in the feeder during it, -1 for none.
        knit: needles that drew a loop, ascending.
        wrapped: needles wrapped.
        dropped: needles that lost at least one loop by dropping.
        laid_in: needles that knitted on an empty hook; they are in ``knit`` too.
        facts: what only judges ask; of the first line.
        is_pass: whether the carriage crossed.
    """

    action: int
    line: int
    lines: int
    passes: int
    yarn: int
    knit: Indices = field(default_factory=_none)
    wrapped: Indices = field(default_factory=_none)
    dropped: Indices = field(default_factory=_none)
    laid_in: Indices = field(default_factory=_none)
    facts: Facts = field(default=NO_FACTS)
    is_pass: bool = False
