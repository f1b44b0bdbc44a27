"""Shapes of pieces, and lengths along them."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice

import numpy as np
import numpy.typing as npt

from bedview.form.beginning import as_on_the_bed, first_places
from bedview.form.levels import net_level
from bedview.form.net import fabric_graph, make_net
from bedview.form.relaxing import Relaxer
from bedview.form.resting import resting_shape
from bedview.form.settling import FIRST_STEPS, levels_of, loads_for
from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece


def shape_of(piece: Piece, *, open_seams: bool = False) -> Shape:
    return resting_shape(piece, compile_piece(piece), open=open_seams)


def way_mm(shape: Shape, nodes: npt.NDArray[np.integer], *, round_it: bool = False) -> float:
    """Length of the way through nodes, one after the other, and back to the first if it goes round."""
    places = shape.places_mm[np.append(nodes, nodes[:1]) if round_it else nodes]
    return float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())


def after_many_steps(piece: Piece, procedure: Procedure, steps: int) -> Floats:
    """Places, made up, after so many steps on all nodes alone, from first places there; same loads."""
    net = make_net(fabric_graph(piece, procedure), closed=True)
    laid = as_on_the_bed(net)
    if laid is not None:
        return laid
    levels = levels_of(net_level(net))
    every, fewest = levels[0], levels[-1]
    loads, _ = loads_for(net, fewest, first_places(fewest, sewn=net.is_sewn))
    places = first_places(every, sewn=net.is_sewn)
    relaxer = Relaxer(every.springs)
    for load in loads:
        many = FIRST_STEPS if load is not loads[-1] else steps - FIRST_STEPS * (len(loads) - 1)
        places = next(islice(relaxer.steps(places, replace(load, lids=every.lids)), many - 1, None))
    return places


def apart(one: Floats, other: Floats) -> float:
    """Root mean square distance of two shapes laid on each other, as a share of the second one's size."""
    one, other = one - one.mean(axis=0), other - other.mean(axis=0)
    left, _, right = np.linalg.svd(one.T @ other)
    return float(np.sqrt(((one @ left @ right - other) ** 2).sum() / (other**2).sum()))
