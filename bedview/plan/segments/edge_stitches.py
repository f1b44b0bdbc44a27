"""Stitches moved at the edges of the fabric with a transfer tool, one needle in or out."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from bedview.bed import actions as do
from bedview.bed.actions import MadeEdge
from bedview.bed.actions import Maker as MadeBy
from bedview.bed.fabric import LoopKind
from bedview.bed.needles import Position, Side
from bedview.language import gettext as _
from bedview.plan.segments.base import SegmentError

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker

_MAKERS = {
    LoopKind.KNIT: MadeBy.PASS,
    LoopKind.LAID_IN: MadeBy.PASS,
    LoopKind.CAST_ON: MadeBy.CAST_ON,
    LoopKind.BIND: MadeBy.BIND_OFF,
}


def edge_needles(maker: Maker, side: Side, count: int) -> list[int]:
    """The ``count`` outermost working needles of a side, the edge first.

    Raises:
        SegmentError: if needles with loops that do not work stand between them.
    """
    working = maker.working()
    edge = working[:count] if side is Side.LEFT else working[: -count - 1 : -1]
    first, last = min(edge), max(edge)
    height = maker.state.height
    between = [needle for needle in range(first, last) if height[needle] and needle not in edge]
    if between:
        raise SegmentError(
            _(
                "loops on {needles} do not work and stand between the edge needles {edge}; bring them "
                "back first"
            ).format(needles=maker.names(between), edge=maker.names(edge))
        )
    return edge


def move_in(maker: Maker, side: Side, stitches: int) -> int:
    """Move the outermost stitches of a side one needle in, so that the innermost meets its neighbour.

    Returns:
        The edge needle, which is empty now.
    """
    path = edge_needles(maker, side, stitches + 1)
    for outer, inner in reversed(list(pairwise(path))):
        maker.do(do.Transfer(outer, inner))
    return path[0]


def move_out(maker: Maker, side: Side, stitches: int) -> tuple[int, int]:
    """Move the outermost stitches of a side one needle out, onto a new edge needle.

    Returns:
        The needle inside of them, which is empty now, and the one beside it with the innermost of them.
    """
    path = [next_out(maker, side), *edge_needles(maker, side, stitches)]
    maker.place(path[:1], Position.WORK)
    for outer, inner in pairwise(path):
        maker.do(do.Transfer(inner, outer))
    return path[-1], path[-2]


def next_out(maker: Maker, side: Side) -> int:
    """The needle right outside the ones that work; whether it can be used is told by :func:`room`."""
    working = maker.working()
    return working[0] - 1 if side is Side.LEFT else working[-1] + 1


def room(maker: Maker, side: Side) -> tuple[int, int | None]:
    """How many empty needles lie outside those that work.

    Returns:
        The number, and the needle with loops that ends them, or None where the bed ends.
    """
    height, needle = maker.state.height, next_out(maker, side)
    step = -1 if side is Side.LEFT else 1
    free = 0
    while 0 <= needle < len(height):
        if height[needle]:
            return free, needle
        needle += step
        free += 1
    return free, None


def stitch_on(maker: Maker, needle: int) -> int | None:
    """The uppermost loop on a needle that is no wrap; None if it bears wraps alone or nothing."""
    fabric = maker.fabric
    stack = fabric.stack(int(maker.state.top[needle]))
    return next((loop for loop in stack if not fabric.is_wrap(loop)), None)


def heel(maker: Maker, needle: int) -> MadeEdge | None:
    """The loop that the stitch on a needle was drawn through, as an edge to hang.

    Returns:
        The edge; None where the stitch is new, or grew out of waste.
    """
    fabric, stitch = maker.fabric, stitch_on(maker, needle)
    if stitch is None or fabric.is_waste(stitch):
        return None
    below = next((loop for loop in fabric.parents(stitch) if not fabric.is_wrap(loop)), None)
    return None if below is None or fabric.is_waste(below) else made(maker, [below])


def made(maker: Maker, loops: list[int]) -> MadeEdge | None:
    """Loops of one making as an edge; None if they are of several, or their columns do not tell them apart.

    Args:
        maker: the hand.
        loops: loops that are no wraps, from left to right.
    """
    fabric, ids = maker.fabric, np.array(loops)
    columns = fabric.needle[ids].tolist()
    passes = set(fabric.pass_of(ids).tolist())
    makers = {_MAKERS[LoopKind(kind)] for kind in fabric.kind[ids].tolist()}
    if len(passes) > 1 or len(makers) > 1 or any(right <= left for left, right in pairwise(columns)):
        return None
    return MadeEdge(passes.pop(), tuple(columns), makers.pop())
