"""Colours for the shape: by segment, by strain, by row, by yarn."""

from __future__ import annotations

from typing import Final, Literal

import numpy as np
import numpy.typing as npt

from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats
from bedview.picture.colour import Colour, channels
from bedview.picture.look import Palette
from bedview.plan.piece import Piece

ColourBy = Literal["segment", "strain", "row", "yarn"]
Colours = npt.NDArray[np.uint8]
"""Red, green and blue, 0 to 255; shape (n, 3)."""

FULL_STRAIN: Final = 0.05
"""Strain from which on the colour is full."""
TIGHT: Final[Colour] = "#d55e00"
LOOSE: Final[Colour] = "#0072b2"
"""Vermilion and blue of Okabe and Ito, which colour-blind people tell apart."""
ROWS_A_BAND: Final = 10
UNDYED: Final[Colour] = "#9a9184"


def node_colours(shape: Shape, by: ColourBy, piece: Piece, palette: Palette) -> Colours:
    """A colour for each node.

    By segment the palette's tints; by strain from a quiet colour towards one where links are stretched and
    another where they are pressed together, full from 5 % on; by row light and dark bands of ten rows each,
    fading from the first row to the last; by yarn its own colour.
    """
    if by == "strain":
        return _by_strain(shape.strain)
    if by == "row":
        return _by_row(shape.pass_number, palette)
    if by == "yarn":
        table = [yarn.colour or UNDYED for yarn in piece.yarns]
        return _table(table)[shape.yarn] if len(shape) else _table([])
    table = [palette.tint(segment) for segment in range(len(piece.segments))]
    return _table(table)[shape.segment] if len(shape) else _table([])


def _table(colours: list[Colour]) -> Colours:
    return np.array([channels(colour) for colour in colours], np.uint8).reshape(-1, 3)


def _by_strain(strain: Floats) -> Colours:
    share = np.minimum(np.abs(strain) / FULL_STRAIN, 1.0)[:, None]
    calm, tight, loose = _table([UNDYED, TIGHT, LOOSE]).astype(np.float64)
    full = np.where(strain[:, None] > 0, tight, loose)
    return np.asarray(np.rint(calm + (full - calm) * share), np.uint8)


def _by_row(passes: npt.NDArray[np.int32], palette: Palette) -> Colours:
    first, last = _table([palette.tint(0), palette.tint(1)]).astype(np.float64)
    share = (passes / max(int(passes.max(initial=0)), 1))[:, None]
    band = np.where((passes // ROWS_A_BAND % 2 == 0)[:, None], 1.0, 0.82)
    return np.asarray(np.rint((first + (last - first) * share) * band), np.uint8)
