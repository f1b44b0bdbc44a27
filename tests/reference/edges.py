"""Edges: lists of fabric loops that a hang takes up or a seam joins.

Decisions where the wording could be read two ways:

* ``open`` on a needle that bears wraps alone: no loop stands there and the needle is not empty, so
  there is no edge.
* ``open`` looks at the uppermost loop that is no wrap, and at no other of its stack; if that is
  waste with no fabric under it, the edge is not there.
* Under a waste loop its parents are looked at from the top; one that is waste with no fabric under
  it is passed by.
* A dropped waste loop stays the loop of its stack although the fabric under it was hung elsewhere
  meanwhile.
* ``made_in_pass`` 0 can only mean a hand action; loops of a waste yarn are passed by, so an earlier
  fabric loop of the same needle is taken.
* ``side`` counts a needle as bearing fabric when any fabric loop or fabric wrap lies on it after
  the pass.
"""

from typing import Any

from tests.reference.fabric import Loop, fabric_under, without_wraps
from tests.reference.needles import BadNeedles, needle_name, read_needles
from tests.reference.steps import CannotDo, Step


def edge_loops(
    edge: dict[str, Any], needles_on_bed: int, stacks: list[list[Loop]], loops: list[Loop], steps: list[Step]
) -> list[Loop]:
    """The fabric loops of an edge, from left to right or from the first pass to the last.

    Args:
        edge: the edge as the piece writes it.
        needles_on_bed: how many needles the bed has.
        stacks: what lies on the needles now.
        loops: every loop made so far, in order of making.
        steps: every step so far.

    Raises:
        CannotDo: the edge is not there.
    """
    try:
        if "open" in edge:
            return [
                open_loop(needle, edge.get("pass"), needle_name(needle, needles_on_bed), stacks, steps)
                for needle in read_needles(edge["open"], needles_on_bed)
            ]
        if "made_in_pass" in edge:
            return [
                made_loop(needle, edge, needle_name(needle, needles_on_bed), loops)
                for needle in read_needles(edge["needles"], needles_on_bed)
            ]
    except BadNeedles as reason:
        raise CannotDo(str(reason)) from reason
    return side_loops(edge["side"], edge["passes"][0], edge["passes"][1], steps)


def open_loop(
    needle: int, in_pass: int | None, name: str, stacks: list[list[Loop]], steps: list[Step]
) -> Loop:
    """The fabric loop that is open at one needle, on it or dropped from it."""
    if stacks[needle] and in_pass is None:
        candidates = without_wraps(stacks[needle])
    else:
        candidates = dropped_from(needle, in_pass, steps)
    if not candidates:
        raise CannotDo(f"no open loop at {name}")
    top = candidates[-1]
    found = top if top.is_fabric else fabric_under(top)
    if found is None:
        raise CannotDo(f"no fabric loop under the waste of {name}")
    if any(drawn.is_fabric for drawn in found.children):
        raise CannotDo(f"the loop at {name} has fabric drawn through it")
    return found


def dropped_from(needle: int, in_pass: int | None, steps: list[Step]) -> list[Loop]:
    """Loops, no wraps, of the stack dropped from a needle in that pass, or in the last that left any."""
    for step in reversed(steps):
        if needle not in step.dropped or in_pass not in (None, step.passes):
            continue
        left = [
            loop for loop in without_wraps(step.dropped[needle]) if loop.latest_drop == (needle, step.passes)
        ]
        if left:
            return left
    return []


def made_loop(needle: int, edge: dict[str, Any], name: str, loops: list[Loop]) -> Loop:
    """The last fabric loop made on a needle by a pass, or by hand after so many passes."""
    made_in: int = edge["made_in_pass"]
    by = edge.get("by", "cast_on" if made_in == 0 else "pass")
    kinds = ("knit", "laid_in") if by == "pass" else ("cast_on",) if by == "cast_on" else ("bind",)
    found = [
        loop
        for loop in loops
        if loop.column == needle and loop.passes == made_in and loop.kind in kinds and loop.is_fabric
    ]
    if not found:
        raise CannotDo(f"no loop was made on {name} by {by} {made_in}")
    return found[-1]


def side_loops(side: str, first: int, last: int, steps: list[Step]) -> list[Loop]:
    """Of each pass that knits at that side of the fabric, the outermost loop."""
    outermost = min if side == "left" else max
    edge: list[Loop] = []
    for step in steps:
        if not step.is_pass or not first <= step.passes <= last:
            continue
        drawn = [loop for loop in step.made if not loop.is_wrap and loop.is_fabric]
        if not drawn:
            continue
        bearing = [k for k, stack in enumerate(step.after) if any(loop.is_fabric for loop in stack)]
        loop = outermost(drawn, key=lambda made: made.column)
        if loop.column == outermost(bearing):
            edge.append(loop)
    if not edge:
        raise CannotDo(f"no pass from {first} to {last} knits at the {side} side")
    return edge
