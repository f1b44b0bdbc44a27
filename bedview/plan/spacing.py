"""Even spacing: so many events over so many rows or stitches.

With ``q, r = divmod(total, events)`` there are ``events - r`` gaps of ``q`` and ``r`` gaps of ``q + 1``.
Handbooks print the two sorts as blocks, which is easy to count; a spread mixes them, which looks even.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from bedview.language import gettext
from bedview.language import gettext as _


class Gap(NamedTuple):
    """``times`` gaps of ``size`` rows or stitches each."""

    size: int
    times: int


def spread(total: int, events: int, every: int = 1) -> tuple[int, ...]:
    """Where events fall if they are spread evenly.

    Args:
        total: rows or stitches there are.
        events: how many events, at most one every ``every`` rows.
        every: events fall on multiples of it only: 2 where the carriage must be back on the same side.

    Returns:
        Numbers from 1 to ``total``, ascending; the last event falls on the last row that is allowed. None
        lies a whole ``every`` or more before its place on the ideal line to that row, and none after it.

    Raises:
        ValueError: if the events do not fit, or a number is negative.
    """
    places = _places(total, events, every)
    return tuple(event * places // events * every for event in range(1, events + 1))


def spread_inside(total: int, events: int) -> tuple[int, ...]:
    """Where events fall among stitches if neither edge is to have one: half a gap stays at each end.

    Returns:
        Numbers of stitches from 1, ascending: the event falls after that stitch.

    Raises:
        ValueError: if the events do not fit, or a number is negative.
    """
    _places(total, events, 1)
    return tuple((2 * event - 1) * total // (2 * events) for event in range(1, events + 1))


def gaps(places: Sequence[int]) -> tuple[int, ...]:
    """The distances between events, the first counted from 0."""
    return tuple(after - before for before, after in pairwise((0, *places)))


def blocks(total: int, events: int, every: int = 1) -> tuple[Gap, ...]:
    """The two sizes of gap and how often each comes, the smaller first, as handbooks print them.

    Raises:
        ValueError: as :func:`spread`.
    """
    places = _places(total, events, every)
    if not events:
        return ()
    size, longer = divmod(places, events)
    both = (Gap(size * every, events - longer), Gap((size + 1) * every, longer))
    return tuple(gap for gap in both if gap.times)


def say_blocks(parts: Sequence[Gap]) -> str:
    """Gaps as a handbook prints them: "every 3 rows 4 times, every 4 rows 32 times"."""
    each, one = gettext("every {size} rows {times} times"), gettext("every row {times} times")
    said = [(each if part.size > 1 else one).format(size=part.size, times=part.times) for part in parts]
    return ", ".join(said)


def _places(total: int, events: int, every: int) -> int:
    """How many rows an event may fall on."""
    if events < 0 or total < 0 or every < 1:
        raise ValueError(_("rows and events are counted from 0"))
    places = total // every
    if events > places:
        text = _("{events} events do not fit into {total} rows")
        if every > 1:
            text = _("{events} events do not fit into {total} rows, one every {every}")
        raise ValueError(text.format(events=events, total=total, every=every))
    return places
