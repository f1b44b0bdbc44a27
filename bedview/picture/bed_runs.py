"""Needles that look alike, side by side, as runs of one tile."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
import numpy.typing as npt

from bedview.picture.bed_layout import BedLayout
from bedview.picture.marks import Tile, Tiles

Kind = TypeVar("Kind", bound=np.generic)


def in_columns(values: npt.NDArray[Kind], layout: BedLayout) -> npt.NDArray[Kind]:
    """The part of an array over needles (its last axis) that is shown, in the order of the columns."""
    shown = values[..., layout.first : layout.last + 1]
    return shown[..., ::-1] if layout.turned else shown


def runs_where(mask: npt.NDArray[np.bool_]) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.int64]]:
    """First columns and lengths of the stretches where a mask over columns holds."""
    edges = np.diff(np.concatenate(([0], mask.astype(np.int8), [0])))
    starts = np.flatnonzero(edges == 1)
    return starts, (np.flatnonzero(edges == -1) - starts).astype(np.int64)


def tiles_where(tile: Tile, mask: npt.NDArray[np.bool_], y: float, layout: BedLayout) -> Tiles:
    """One tile on every column where ``mask`` (over the columns shown) holds, its anchor at height ``y``."""
    starts, counts = runs_where(mask)
    x = (layout.left + (starts + 0.5) * layout.cell).astype(np.float64)
    return Tiles(tile, layout.cell, x, np.full(len(starts), float(y)), counts)
