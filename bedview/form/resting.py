"""From a piece to its shape at rest, and from flat to made up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from time import perf_counter
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.form.beginning import as_on_the_bed
from bedview.form.framing import stand_up
from bedview.form.levels import net_level
from bedview.form.links import LinkKind
from bedview.form.net import FabricGraph, Net, fabric_graph, make_net
from bedview.form.relaxing import Load
from bedview.form.settling import BEND_AT_REST, make_relaxer, settle
from bedview.form.shape import Shape, facts_of, segments_of
from bedview.form.stitch_sizes import Floats
from bedview.form.strains import link_strains
from bedview.form.watching import Progress, Stop, Stopped, Watch
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure

__all__ = ["Stopped", "closing_shapes", "resting_shape"]

STEPS_A_FRAME: Final = 12
"""Steps from one frame of the closing to the next: they begin near their end."""
FLAT_DONE: Final = 0.15
MADE_UP_DONE: Final = 0.4
"""Shares of the work for all frames that are done when the first and the last shape are there."""


def resting_shape(
    piece: Piece,
    procedure: Procedure,
    *,
    open: bool = False,  # noqa: A002 - the command's own word
    closed: float = 1.0,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> Shape:
    """The shape of a piece at rest.

    The same piece gives the same shape on every run.

    Args:
        piece: the piece, for its gauges and seams.
        procedure: its procedure.
        open: leave all seams open.
        closed: how far the seams are closed, 0 to 1.
        progress: told the share done, 0 to 1.
        stop: asked at every step whether to give up.

    Raises:
        Stopped: if ``stop`` said so.
    """
    began = perf_counter()
    watch = Watch(progress, stop)
    graph = fabric_graph(piece, procedure)
    if open or closed <= 0 or not graph.seams.joins:
        return _settled(graph, procedure, make_net(graph, closed=False), watch, began)
    if closed >= 1:
        return _settled(graph, procedure, make_net(graph, closed=True), watch, began)
    flat, made_up = _ends(graph, procedure, watch, began)
    return next(_opening(graph, made_up, flat, [closed], watch.part(MADE_UP_DONE, 1.0), began))


def closing_shapes(
    piece: Piece,
    procedure: Procedure,
    frames: int = 9,
    *,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> list[Shape]:
    """Shapes for a slider, from flat (``closed`` 0) to made up (1), at equal distances.

    Raises:
        Stopped: if ``stop`` said so.
    """
    began = perf_counter()
    watch = Watch(progress, stop)
    graph = fabric_graph(piece, procedure)
    if not graph.seams.joins:
        return [_settled(graph, procedure, make_net(graph, closed=False), watch, began)]
    flat, made_up = _ends(graph, procedure, watch, began)
    shares = np.linspace(1, 0, max(frames, 2))[1:-1].tolist()
    between = _opening(graph, made_up, flat, shares, watch.part(MADE_UP_DONE, 1.0), began)
    shapes = [made_up, *between]
    watch.at(1.0)
    return [_turned_like(flat, shapes[-1]), *reversed(shapes)]


def _ends(graph: FabricGraph, procedure: Procedure, watch: Watch, began: float) -> tuple[Shape, Shape]:
    """The shapes with all seams open and with all closed."""
    flat, made_up = make_net(graph, closed=False), make_net(graph, closed=True)
    return (
        _settled(graph, procedure, flat, watch.part(0.0, FLAT_DONE), began),
        _settled(graph, procedure, made_up, watch.part(FLAT_DONE, MADE_UP_DONE), began),
    )


def _opening(
    graph: FabricGraph, made_up: Shape, flat: Shape, shares: Sequence[float], watch: Watch, began: float
) -> Iterator[Shape]:
    """Shapes on the way from made up to flat, at each share of closing, one going on from the other."""
    net = make_net(graph, closed=True, drawn_near=True)
    relaxer = make_relaxer(net)
    seams = np.flatnonzero(net.links.kind == LinkKind.SEAM)
    closed_mm = net.links.rest_mm[seams]
    one, other = (flat.nodes_of_loops(made_up.loop[ends[seams]]) for ends in (net.links.one, net.links.other))
    open_mm = np.linalg.norm(flat.places_mm[one] - flat.places_mm[other], axis=1)
    places = made_up.places_mm
    for place, share in enumerate(shares):
        relaxer.rest_mm[seams] = share * closed_mm + (1 - share) * open_mm
        steps = relaxer.steps(places, Load(BEND_AT_REST))
        for step in range(STEPS_A_FRAME):
            watch.at((place + step / STEPS_A_FRAME) / len(shares))
            places = next(steps)
        strains = link_strains(net, relaxer.lengths_mm(places)[: len(net.links)])
        strains[seams] = 0.0
        yield replace(
            made_up,
            places_mm=places,
            net=net,
            link_strain=strains,
            closed=share,
            seconds=perf_counter() - began,
        )


def _turned_like(shape: Shape, model: Shape) -> Shape:
    """A shape turned (never mirrored) to lie as near as can be to another of the same piece (Kabsch 1976)."""
    mine = shape.nodes_of_loops(model.loop)
    here, there = shape.places_mm[mine], model.places_mm
    middle, goal = here.mean(axis=0), there.mean(axis=0)
    left, _, right = np.linalg.svd((here - middle).T @ (there - goal))
    turn = left @ np.diag((1.0, 1.0, float(np.sign(np.linalg.det(left @ right))))) @ right
    return replace(shape, places_mm=(shape.places_mm - middle) @ turn + goal)


def _settled(graph: FabricGraph, procedure: Procedure, net: Net, watch: Watch, began: float) -> Shape:
    """The shape of a net."""
    watch.at(0.0)
    level = net_level(net)
    places = as_on_the_bed(net)
    if places is None:
        places = settle(net, level, watch)
    watch.at(1.0)
    return _shape(graph, procedure, net, stand_up(net, places, level.parts), level.parts, began)


def _shape(
    graph: FabricGraph,
    procedure: Procedure,
    net: Net,
    places: Floats,
    parts: npt.NDArray[np.int32],
    began: float,
) -> Shape:
    facts = facts_of(graph.loops, net.node)
    starts = np.array([span.start for span in procedure.top_spans()], np.int64)
    actions = graph.loops.fabric.action_of(facts["loop"]) if len(net) else facts["loop"]
    links = net.links
    lengths = np.linalg.norm(places[links.one] - places[links.other], axis=1)
    return Shape(
        places_mm=places,
        net=net,
        segment=segments_of(starts, actions),
        part=parts,
        link_strain=link_strains(net, lengths),
        closed=1.0 if net.is_sewn else 0.0,
        notes=(*graph.loops.sizes.notes, *graph.seams.notes),
        seconds=perf_counter() - began,
        **facts,
    )
