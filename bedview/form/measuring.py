"""Pointing at the shape, and measuring along it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.csgraph import dijkstra

from bedview.form.links import Nodes
from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats

POINTS_A_SIDE: Final = 5
"""Points put on each side of a triangle: enough to find the triangles that the shortest way crosses."""
TIGHTENINGS: Final = 100
LEEWAY: Final = 1.1
"""A way along sides of triangles is at most so much longer than the shortest one, on faces like ours."""


@dataclass(frozen=True)
class Way:
    """The shortest way found along the surface.

    Attributes:
        length_mm: its length.
        places_mm: shape (k, 3): the points it goes through.
    """

    length_mm: float
    places_mm: Floats


def node_at(shape: Shape, origin: Floats, direction: Floats) -> int | None:
    """The node nearest to where a ray first meets the surface; None where it misses.

    Args:
        shape: the shape.
        origin: where the ray begins, shape (3,).
        direction: where it goes, shape (3,); any length but 0.
    """
    triangles = shape.triangles
    corners = shape.surface.places_mm[triangles]
    hit, shares = _meet(corners, np.asarray(origin, float), np.asarray(direction, float))
    if hit is None:
        return None
    corner = int(triangles[hit][int(np.argmax(shares))])
    return int(shape.surface.node[corner])


def _meet(corners: Floats, origin: Floats, direction: Floats) -> tuple[int | None, Floats]:
    """The first triangle a ray meets and the weights of its corners there (Möller and Trumbore 1997)."""
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    across = np.cross(direction, two)
    scale = np.einsum("ij,ij->i", one, across)
    safe = np.where(np.abs(scale) > 1e-12, scale, np.inf)
    away = origin - corners[:, 0]
    u = np.einsum("ij,ij->i", away, across) / safe
    over = np.cross(away, one)
    v = over @ direction / safe
    far = np.einsum("ij,ij->i", two, over) / safe
    # A hair beyond the sides counts too, or a ray could slip through between two triangles.
    good = (u >= -1e-9) & (v >= -1e-9) & (u + v <= 1 + 1e-9) & (far > 0) & np.isfinite(safe)
    if not good.any():
        return None, np.empty(0)
    hit = int(np.flatnonzero(good)[np.argmin(far[good])])
    return hit, np.array((1 - u[hit] - v[hit], u[hit], v[hit]))


def way_between(shape: Shape, start: int, end: int) -> Way | None:
    """The shortest way along the surface of a shape between two nodes; None where there is none."""
    return way_on(shape.surface.places_mm, shape.triangles, start, end)


def way_on(places_mm: Floats, triangles: Nodes, start: int, end: int) -> Way | None:
    """The shortest way along triangles between two of their corners; None where there is none.

    Found by Dijkstra's rule among points on the sides of the triangles that lie near enough to matter
    (Lanthier, Maheshwari and Sack 1997), and drawn tight.
    """
    if start == end:
        return Way(0.0, places_mm[[start]])
    rough = _lengths(places_mm, _sides(triangles), len(places_mm))
    from_start, from_end = dijkstra(rough, directed=False, indices=[start, end])
    if not np.isfinite(from_start[end]):
        return None
    near = from_start + from_end <= LEEWAY * from_start[end] + 2 * float(rough.data.max())
    return _fine_way(places_mm, triangles[near[triangles].all(axis=1)], start, end)


def _fine_way(places: Floats, triangles: Nodes, start: int, end: int) -> Way:
    """The shortest way through points on the sides of some triangles, drawn tight."""
    sides = _sides(triangles)
    share = np.arange(1, POINTS_A_SIDE + 1) / (POINTS_A_SIDE + 1)
    low, high = places[sides[:, 0]], places[sides[:, 1]]
    between = low[:, None] + (high - low)[:, None] * share[None, :, None]
    points = np.concatenate((places, between.reshape(-1, 3)))
    links = _links_across(triangles, sides, len(places))
    # A way that turned at corners could not be drawn tight.
    ours = (links >= len(places)) | (links == start) | (links == end)
    graph = _lengths(points, links[ours.all(axis=1)], len(points))
    _, before = dijkstra(graph, directed=False, indices=[start], return_predecessors=True)
    way = [end]
    while way[-1] != start:
        way.append(int(before[0, way[-1]]))
    turns = np.array(way[-2:0:-1], np.int64)
    ends = sides[(turns - len(places)) // POINTS_A_SIDE]
    tight = _drawn_tight(points[way[::-1]], places[ends[:, 0]], places[ends[:, 1]])
    return Way(float(np.linalg.norm(np.diff(tight, axis=0), axis=1).sum()), tight)


def _drawn_tight(points: Floats, low: Floats, high: Floats) -> Floats:
    """A way drawn tight: each of its inner points slides along its side, from ``low`` to ``high``.

    With the triangles before and behind unfolded into one plane, the shortest way crosses a side where the
    straight line does.
    """
    points = points.copy()
    along = high - low
    length = np.maximum(np.linalg.norm(along, axis=1), 1e-12)
    unit = along / length[:, None]
    # Each point goes beyond where it would rest among still neighbours, as far as is best for a chain (Young
    # 1954): so a long way takes no more sweeps than a short one.
    beyond = 2 / (1 + np.sin(np.pi / max(len(points), 2)))
    for sweep in range(2 * TIGHTENINGS):
        # Every other point, so that the neighbours of each stand still.
        here = np.arange(1 + sweep % 2, len(points) - 1, 2)
        if not len(here):
            continue
        base, way = low[here - 1], unit[here - 1]
        before, behind = points[here - 1] - base, points[here + 1] - base
        at_before, at_behind = (np.einsum("ij,ij->i", each, way) for each in (before, behind))
        off_before = np.linalg.norm(before - at_before[:, None] * way, axis=1)
        off_behind = np.linalg.norm(behind - at_behind[:, None] * way, axis=1)
        apart = off_before + off_behind
        crossing = (at_before * off_behind + at_behind * off_before) / np.maximum(apart, 1e-12)
        crossing = np.where(apart > 1e-9, crossing, (at_before + at_behind) / 2)
        now = np.einsum("ij,ij->i", points[here] - base, way)
        crossing = now + beyond * (crossing - now)
        points[here] = base + np.clip(crossing, 0.0, length[here - 1])[:, None] * way
    return points


def _sides(triangles: Nodes) -> npt.NDArray[np.int64]:
    """All sides of triangles once, the lower end first."""
    ends = np.sort(triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    return np.unique(ends, axis=0).astype(np.int64)


def _links_across(triangles: Nodes, sides: npt.NDArray[np.int64], nodes: int) -> npt.NDArray[np.int64]:
    """Pairs of points that see each other across a triangle: all on its three sides with one another."""
    keys = sides[:, 0] * nodes + sides[:, 1]
    on_side = np.arange(POINTS_A_SIDE)
    points = [triangles.astype(np.int64)]
    for a, b in ((0, 1), (1, 2), (2, 0)):
        low, high = np.minimum(triangles[:, a], triangles[:, b]), np.maximum(triangles[:, a], triangles[:, b])
        side = np.searchsorted(keys, low.astype(np.int64) * nodes + high)
        points.append(nodes + side[:, None] * POINTS_A_SIDE + on_side)
    there = np.concatenate(points, axis=1)
    one, other = np.triu_indices(there.shape[1], 1)
    pairs = np.stack((there[:, one].ravel(), there[:, other].ravel()), axis=1)
    return np.unique(np.sort(pairs, axis=1), axis=0)


def _lengths(places: Floats, pairs: npt.NDArray[np.integer], count: int) -> sparse.csr_array:
    """Distances between pairs of points, as a graph."""
    apart = np.linalg.norm(places[pairs[:, 0]] - places[pairs[:, 1]], axis=1)
    # Dijkstra's rule takes a length of 0 for no link at all.
    return sparse.csr_array((np.maximum(apart, 1e-12), (pairs[:, 0], pairs[:, 1])), shape=(count, count))
