"""Even spacing: so many events over so many rows or stitches.

With ``q, r = divmod(total, events)`` there are ``events - r`` gaps of ``q`` and ``r`` gaps of ``q + 1``.
Handbooks print the two sorts as blocks, which is easy to count; a spread mixes them, which looks even.
"""

from __future__ import annotations

from typing import NamedTuple


class Gap(NamedTuple):
    """``times`` gaps of ``size`` rows or stitches each."""

    size: int
    times: int


def spread(total: int, events: int) -> tuple[int, ...]:
    """Where events fall if they are spread evenly.

    Args:
        total: rows or stitches there are.
        events: how many events, at most ``total``.

    Returns:
        Numbers from 1 to ``total``, ascending; the last event falls on the last row. None lies more than one
        row before its place on the ideal line, and none after it.

    Raises:
        ValueError: if there are more events than rows, or a number is negative.
    """
    _check(total, events)
    return tuple(event * total // events for event in range(1, events + 1))


def blocks(total: int, events: int) -> tuple[Gap, ...]:
    """The two sizes of gap and how often each comes, the smaller first, as handbooks print them.

    Raises:
        ValueError: as :func:`spread`.
    """
    _check(total, events)
    if not events:
        return ()
    size, longer = divmod(total, events)
    gaps = (Gap(size, events - longer), Gap(size + 1, longer))
    return tuple(gap for gap in gaps if gap.times)


def _check(total: int, events: int) -> None:
    if events < 0 or total < 0:
        raise ValueError("rows and events are counted from 0")
    if events > total:
        raise ValueError(f"{events} events do not fit into {total} rows")
