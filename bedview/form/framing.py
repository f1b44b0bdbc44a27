"""How a shape stands: which way is up, and where its parts lie.

A sewn piece stands as it is worn, as far as its openings tell. What lies all round behind its widest opening
is worn over something from above, like a hat, a mitt on a raised hand or a vest: it stands on that opening.
What reaches far aside of it, like a foot, is put down with the opening up and tips until it stands, as a foot
does on its sole; a tube, open alike at both ends, stands upright. A sewn piece without an opening, like the
two feet of a lined bootee before one is pushed into the other, is put down at its full length, what was
knitted first below. Anything else lies as it hangs on the bed, wales up and courses across, with the purl
side towards the viewer. x runs to the right, y up, z towards the viewer.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.form.grounding import tip_radians
from bedview.form.lids import rim_labels
from bedview.form.links import LinkKind
from bedview.form.net import Net
from bedview.form.stitch_sizes import Floats

GAP_OF_SIZE: Final = 0.1
"""Between parts, as a share of the widest of them."""
CLEAR: Final = 0.3
"""A mean of unit directions shorter than this points nowhere."""
OPENING: Final = 0.01
"""A rim that spans less than this share of the piece's surface is a hole, no opening."""
ALIKE: Final = 0.9
"""Openings that span at least this share of the widest are much of its size."""
ASIDE: Final = 1.5
"""What is at most so many times as far from the axis of its opening as the rim lies all round behind it."""


def stand_up(net: Net, places: Floats, parts: npt.NDArray[np.int32]) -> Floats:
    """Places turned upright, every part beside the one before it, the whole about the origin."""
    stood = np.zeros_like(places)
    edge = 0.0
    count = int(parts.max(initial=-1)) + 1
    order = [np.flatnonzero(parts == part) for part in range(count)]
    turned = [_upright(net, places, mine) for mine in order]
    gap = GAP_OF_SIZE * max((float(np.ptp(each[:, 0])) for each in turned), default=0.0)
    gap = max(gap, 2 * float(net.width_mm.max(initial=0.0)))
    for mine, each in zip(order, turned, strict=True):
        low = each.min(axis=0)
        stood[mine] = each - (low + each.max(axis=0)) / 2
        stood[mine, 0] += edge - float(stood[mine, 0].min())
        edge = float(stood[mine, 0].max()) + gap
    if count:
        stood[:, 0] -= (stood[:, 0].min() + stood[:, 0].max()) / 2
    return stood


def _upright(net: Net, places: Floats, mine: npt.NDArray[np.intp]) -> Floats:
    """Places of one part, turned (never mirrored)."""
    inside = np.zeros(len(net), np.bool_)
    inside[mine] = True
    here = places[mine] - places[mine].mean(axis=0)
    if len(mine) < 2:
        return np.zeros_like(here)
    sewn = inside[net.links.one[net.links.kind == LinkKind.SEAM]].any()
    if not sewn:
        return _turned(here, *_as_on_the_bed(net, places, inside, here))
    up, tips = _up_by_openings(net, places, inside)
    if up is None:
        up = _axes(here)[0]
        up = up if float((here @ up) @ (net.row[mine] - net.row[mine].mean())) >= 0 else -up
    # The longer end, a foot's toe, points to the right.
    across = _axes(here - np.outer(here @ up, up))[0]
    reach = here @ across
    across = across if reach.max() >= -reach.min() else -across
    if tips:
        angle = tip_radians(np.stack((here @ across, here @ up), axis=1))
        across, up = (
            across * np.cos(angle) + up * np.sin(angle),
            up * np.cos(angle) - across * np.sin(angle),
        )
    return _turned(here, up, across)


def _as_on_the_bed(
    net: Net, places: Floats, inside: npt.NDArray[np.bool_], here: Floats
) -> tuple[Floats, Floats]:
    """Which way is up and which runs to the right for a part that is not sewn."""
    across = _mean_direction(places, net.right, inside)
    up = _mean_direction(places, net.above, inside)
    if up is None:
        up = _axes(here)[0] if across is None else _axes(here - np.outer(here @ across, across))[0]
    if across is not None:
        across = across - up * float(across @ up)
    if across is None or np.linalg.norm(across) < CLEAR:
        across = _axes(here - np.outer(here @ up, up))[0]
        reach = here @ across
        across = across if reach.max() >= -reach.min() else -across
    return up, across


def _turned(here: Floats, up: Floats, across: Floats) -> Floats:
    """Places about the origin turned: ``up`` runs up and ``across``, made square to it, to the right."""
    across = across - up * float(across @ up)
    norm = float(np.linalg.norm(across))
    across = across / norm if norm > 0 else _any_square_to(up)
    return np.asarray(here @ np.stack((across, up, np.cross(across, up))).T)


def _mean_direction(
    places: Floats, further: npt.NDArray[np.int32], inside: npt.NDArray[np.bool_]
) -> Floats | None:
    """Mean direction from the nodes of a part to their neighbours; None where it points nowhere."""
    start = np.flatnonzero(inside & (further >= 0))
    if not len(start):
        return None
    ways = places[further[start]] - places[start]
    lengths = np.linalg.norm(ways, axis=1)
    mean = (ways[lengths > 0] / lengths[lengths > 0, None]).sum(axis=0) / len(start)
    norm = float(np.linalg.norm(mean))
    return mean / norm if norm > CLEAR else None


def _up_by_openings(net: Net, places: Floats, inside: npt.NDArray[np.bool_]) -> tuple[Floats | None, bool]:
    """Which way is up for a sewn part by its openings, None if it has none; and whether it may tip."""
    triangles = net.triangles[inside[net.triangles[:, 0]]]
    edges = net.rim[inside[net.rim[:, 0]]]
    rims, which = rim_labels(edges, len(net))
    if not rims:
        return None, True
    middle = places[inside].mean(axis=0)
    areas = np.zeros((rims, 3))
    np.add.at(areas, which, np.cross(places[edges[:, 0]] - middle, places[edges[:, 1]] - middle) / 2)
    corners = places[triangles]
    whole = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    surface = float(np.linalg.norm(whole, axis=1).sum()) / 2
    sizes = np.linalg.norm(areas, axis=1)
    # Of openings of much the same size the one that was knitted first is up.
    widest = int(np.flatnonzero(sizes >= ALIKE * sizes.max())[0])
    if sizes[widest] < OPENING * surface:
        return None, True
    direction = areas[widest] / sizes[widest]
    rim = places[edges[which == widest, 0]]
    start = rim.mean(axis=0)
    out = np.asarray(direction if float(direction @ (start - middle)) >= 0 else -direction)
    alike = int((sizes >= ALIKE * sizes[widest]).sum()) > 1
    behind = _aside_mm(places[inside] - start, out) <= ASIDE * _aside_mm(rim - start, out)
    return (-out if behind and not alike else out), not behind


def _aside_mm(places: Floats, axis: Floats) -> float:
    """Root mean square distance of places from an axis through the origin."""
    along = places @ axis
    return float(np.sqrt(max(float((places**2).sum() - (along**2).sum()), 0.0) / len(places)))


def _axes(places: Floats) -> Floats:
    """Main axes of some places about the origin, the longest first, each with its largest entry positive."""
    _, vectors = np.linalg.eigh(places.T @ places)
    axes = vectors.T[::-1]
    largest = np.abs(axes).argmax(axis=1)
    return np.asarray(axes * np.sign(axes[np.arange(3), largest])[:, None])


def _any_square_to(direction: Floats) -> Floats:
    """A unit direction square to another."""
    axis = np.eye(3)[int(np.abs(direction).argmin())]
    square = axis - direction * float(axis @ direction)
    return np.asarray(square / float(np.linalg.norm(square)))
