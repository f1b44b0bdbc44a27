"""The same work at a bed with left and right exchanged."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bedview.bed.actions import (
    Action,
    BindOff,
    CastOn,
    Edge,
    Hang,
    Knit,
    MadeEdge,
    Note,
    OpenEdge,
    Place,
    SideEdge,
    Transfer,
    Wrap,
)
from tests.property.procedures import Procedure


def mirrored(procedure: Procedure) -> Procedure:
    """The procedure with left and right exchanged."""
    needles = procedure.bed.needles
    return Procedure(
        replace(procedure.bed, carriage=procedure.bed.carriage.other),
        procedure.yarns,
        tuple(mirrored_action(action, needles) for action in procedure.actions),
    )


def _all(needles: tuple[int, ...], bed_needles: int) -> tuple[int, ...]:
    return tuple(bed_needles - 1 - needle for needle in reversed(needles))


def mirrored_action(action: Action, needles: int) -> Action:
    """One action with left and right exchanged."""
    last = needles - 1
    match action:
        case Place() | CastOn() | BindOff() | Note():
            return replace(action, needles=_all(action.needles, needles))
        case Wrap():
            return Wrap(last - action.needle)
        case Transfer():
            return Transfer(last - action.source, last - action.target)
        case Hang():
            # A side's loops run from the first pass to the last whichever way one looks, the needles do not.
            turned = action.turned ^ isinstance(action.edge, SideEdge)
            return Hang(_all(action.needles, needles), _edge(action.edge, needles), turned)
        case Knit(rows=rows, start=start):
            return Knit(rows, start and start.other)
        case _:
            return action


def _edge(edge: Edge, needles: int) -> Edge:
    match edge:
        case OpenEdge():
            return replace(edge, needles=_all(edge.needles, needles))
        case MadeEdge(needles=None):
            return edge
        case MadeEdge(needles=some):
            return replace(edge, needles=_all(some or (), needles))
        case SideEdge():
            return replace(edge, side=edge.side.other)


def mirrored_line(line: dict[str, Any]) -> dict[str, Any]:
    """A line of a trace with left and right exchanged."""
    turned = dict(line)
    turned["carriage"] = {"left": "right", "right": "left"}[line["carriage"]]
    for key in ("positions", "loops"):
        turned[key] = line[key][::-1]
    for key in ("knit", "wrapped", "dropped", "laid_in"):
        turned[key] = [{"L": "R", "R": "L"}[name[0]] + name[1:] for name in reversed(line[key])]
    return turned
