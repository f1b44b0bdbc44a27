"""A shape at rest, and what can be asked of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from bedview.form.faces import Triangles
from bedview.form.links import Loops, Nodes
from bedview.form.net import Net
from bedview.form.rims import Surface, faces_of, with_rims
from bedview.form.stitch_sizes import Floats
from bedview.language import marked

LEFT_OUT = marked(
    "The model knows lengths by the gauge, easy shear and a little stiffness, and fills what is sewn lightly "
    "with air; it leaves out curl, drape, felting and the body inside."
)
"""What the model leaves out, in one sentence."""


@dataclass(frozen=True)
class Shape:
    """Where every loop lies.

    A *node* is a loop of fabric yarn (wraps aside), numbered from 0 in the order of making; loops that a seam
    takes inside are left out while it is closed. Arrays by node have length n.

    Attributes:
        places_mm: shape (n, 3); x to the right, y up, z towards the viewer.
        net: links and faces between the nodes.
        loop: loop id in the fabric of each node.
        needle: index of the needle it was made on, from 0 at the left end of the bed.
        pass_number: passes made when it was done; 0 for a cast-on before the first.
        segment: index of the piece's segment that made it.
        yarn: index into the piece's yarns.
        part: which connected part it belongs to, from 0.
        link_strain: by link: stretch as a share of the rest length, below 0 where pressed together.
        closed: whether seams are closed.
        notes: what was assumed or could not be done, a sentence each.
        seconds: what finding it took.
    """

    places_mm: Floats
    net: Net
    loop: npt.NDArray[np.int32]
    needle: npt.NDArray[np.int32]
    pass_number: npt.NDArray[np.int32]
    segment: npt.NDArray[np.int32]
    yarn: npt.NDArray[np.int32]
    part: npt.NDArray[np.int32]
    link_strain: Floats
    closed: float
    notes: tuple[str, ...]
    seconds: float

    def __len__(self) -> int:
        return len(self.places_mm)

    # -- figures ------------------------------------------------------------------------------------------

    @property
    def strain_mean(self) -> float:
        """Mean strain of the links without signs."""
        return float(np.abs(self.link_strain).mean()) if len(self.link_strain) else 0.0

    @property
    def strain_p99(self) -> float:
        """What 99 of 100 links stay under in strain."""
        return float(np.quantile(np.abs(self.link_strain), 0.99)) if len(self.link_strain) else 0.0

    @cached_property
    def seam_gaps_mm(self) -> Floats:
        """How much further apart than its yarn wants each join of a seam stands; 0 where it is nearer."""
        seams = self.net.seams
        apart = np.linalg.norm(self.places_mm[seams.one] - self.places_mm[seams.other], axis=1)
        return np.asarray(np.maximum(apart - seams.rest_mm, 0.0))

    @property
    def seam_gap_mean_mm(self) -> float:
        """Mean of the gaps; 0 for a piece without seams."""
        return float(self.seam_gaps_mm.mean()) if len(self.seam_gaps_mm) else 0.0

    @property
    def extent_mm(self) -> tuple[float, float, float]:
        """Size of the box round the fabric's edges."""
        if not len(self):
            return (0.0, 0.0, 0.0)
        x, y, z = np.ptp(self.surface.places_mm, axis=0).tolist()
        return (x, y, z)

    @property
    def parts(self) -> int:
        """How many parts there are that nothing connects."""
        return int(self.part.max(initial=-1)) + 1

    def figures(self) -> dict[str, object]:
        """What ``bedview form --json`` prints."""
        return {
            "nodes": len(self),
            "edges": len(self.net.links),
            "strain_mean": self.strain_mean,
            "strain_p99": self.strain_p99,
            "seam_gap_mean_mm": self.seam_gap_mean_mm,
            "extent_mm": list(self.extent_mm),
            "seconds": self.seconds,
            "parts": self.parts,
            "notes": list(self.notes),
        }

    # -- by node ------------------------------------------------------------------------------------------

    @cached_property
    def strain(self) -> Floats:
        """Of each node the strain, with its sign, of that of its links which is strained most."""
        worst = np.zeros(len(self))
        order = np.argsort(np.abs(self.link_strain), kind="stable")
        # Where a node stands several times the last, the most strained, stays.
        for ends in (self.net.links.one, self.net.links.other):
            here = np.zeros(len(self))
            here[ends[order]] = self.link_strain[order]
            worst = np.where(np.abs(here) > np.abs(worst), here, worst)
        return worst

    def wale_of(self, needle: int) -> Nodes:
        """Nodes made on a needle (index from 0 at the left end), the oldest first."""
        return np.flatnonzero(self.needle == needle).astype(np.int32)

    def course_of(self, pass_number: int) -> Nodes:
        """Nodes done by a pass, from left to right."""
        nodes = np.flatnonzero(self.pass_number == pass_number)
        return nodes[np.argsort(self.needle[nodes], kind="stable")].astype(np.int32)

    def nodes_of_loops(self, loops: npt.NDArray[np.integer]) -> Nodes:
        """Node of each loop; -1 for wraps, waste and what lies inside a seam."""
        place = np.minimum(np.searchsorted(self.loop, loops), max(len(self) - 1, 0))
        found = np.full(len(loops), -1, np.int32)
        if len(self):
            there = self.loop[place] == loops
            found[there] = place[there]
        return found

    # -- surface ------------------------------------------------------------------------------------------

    @cached_property
    def surface(self) -> Surface:
        """The surface to the edges of the fabric, half a stitch beyond the last loops."""
        return with_rims(self.net, self.places_mm)

    @cached_property
    def triangles(self) -> Triangles:
        """Triangles of the surface by its points; seen from the purl side they go round counter-clockwise."""
        return faces_of(self.surface).triangulated()


def segments_of(starts: npt.NDArray[np.integer], actions: npt.NDArray[np.integer]) -> npt.NDArray[np.int32]:
    """Index of the segment each action lies in, given the first action of each segment, ascending."""
    return (np.searchsorted(starts, actions, side="right") - 1).astype(np.int32)


def facts_of(loops: Loops, nodes: Nodes) -> dict[str, npt.NDArray[np.int32]]:
    """What a shape keeps of each node, by the names of its attributes."""
    ids = loops.ids[nodes]
    return {
        "loop": ids,
        "needle": loops.needle[nodes],
        "pass_number": loops.pass_number[nodes],
        "yarn": loops.fabric.yarn_of(ids) if len(ids) else ids,
    }
