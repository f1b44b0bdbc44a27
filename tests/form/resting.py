"""Shapes of pieces, and lengths along them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from bedview.form.resting import resting_shape
from bedview.form.shape import Shape
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece


def shape_of(piece: Piece, *, open_seams: bool = False) -> Shape:
    return resting_shape(piece, compile_piece(piece), open=open_seams)


def way_mm(shape: Shape, nodes: npt.NDArray[np.integer], *, round_it: bool = False) -> float:
    """Length of the way through nodes, one after the other, and back to the first if it goes round."""
    places = shape.places_mm[np.append(nodes, nodes[:1]) if round_it else nodes]
    return float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())
