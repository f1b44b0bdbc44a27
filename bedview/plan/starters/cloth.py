"""A rule laid on the compiled fabric: widths and heights of its own loops, by the swatches of the piece.

Nothing here knows how a piece was reckoned. A width is the sum of the widths of the loops one pass drew, a
length the sum of the heights of the loops along one wale.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from math import hypot
from typing import Final, NamedTuple, cast

import numpy as np
import numpy.typing as npt

from bedview.bed.edges import EdgeError
from bedview.bed.fabric import LoopKind
from bedview.language import gettext as _
from bedview.plan.edges_file import SeamEdgeItem, SeamSideItem, to_edge
from bedview.plan.gauge import find_gauge
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.seams_file import Graft, Mattress, Seam
from bedview.plan.yarn_use import YarnUse

Floats = npt.NDArray[np.float64]
_STITCHES: Final = (LoopKind.KNIT, LoopKind.LAID_IN)


class Missing(Exception):
    """A part of the piece that is not there (any more), or has no gauge."""


class Course(NamedTuple):
    """What one pass knitted of fabric.

    Attributes:
        needles: indices, from left to right.
        mm: width of its loops together.
    """

    needles: list[int]
    mm: float


class Cloth:
    """Measures the fabric of a procedure.

    Args:
        piece: the piece.
        procedure: the same, compiled.
    """

    def __init__(self, piece: Piece, procedure: Procedure) -> None:
        self.piece = piece
        self._procedure = procedure
        self._fabric = procedure.timeline.fabric

    # -- where ----------------------------------------------------------------------------------------------

    def passes(self, *titles: str) -> list[int]:
        """The passes that segments with these titles make, in order; passes of waste too.

        Raises:
            Missing: if a title is not there.
        """
        timeline = self._procedure.timeline
        found: list[int] = []
        for title in titles:
            spans = [span for span in self._procedure.spans if span.segment.title == title]
            if not spans:
                raise Missing(title)
            for span in spans:
                before = timeline.pass_of_line(timeline.line_of_action(span.start) - 1)
                after = timeline.pass_of_line(timeline.line_of_action(span.stop) - 1)
                found.extend(range(before + 1, after + 1))
        return sorted(set(found))

    def fabric_passes(self, *titles: str) -> list[int]:
        """Those of the passes that knitted fabric."""
        knitted = set(np.unique(self._pass[self._stitch]).tolist())
        return [each for each in self.passes(*titles) if each in knitted]

    # -- how wide and how long ------------------------------------------------------------------------------

    def course(self, pass_number: int) -> Course:
        """What one pass knitted."""
        start, stop = self._fabric.loops_of_pass(pass_number)
        loops = start + np.flatnonzero(self._stitch[start:stop])
        return Course(np.sort(self._fabric.needle[loops]).tolist(), float(self._sizes[0][loops].sum()))

    def widest(self, *titles: str) -> Course:
        """The widest course of some segments; of equally wide ones the first.

        Raises:
            Missing: if they knit no fabric.
        """
        return max(self.courses(*titles), key=lambda course: len(course.needles))

    def narrowest(self, *titles: str) -> Course:
        """The narrowest course of some segments; of equally narrow ones the first.

        Raises:
            Missing: if they knit no fabric.
        """
        return min(self.courses(*titles), key=lambda course: len(course.needles))

    def courses(self, *titles: str) -> list[Course]:
        """All courses of fabric of some segments, in order.

        Raises:
            Missing: if they knit no fabric.
        """
        found = [self.course(each) for each in self.fabric_passes(*titles)]
        if not found:
            raise Missing(", ".join(titles))
        return found

    def stitch_mm(self, *titles: str) -> float:
        """Width of a stitch in the first course of some segments."""
        course = self.courses(*titles)[0]
        return course.mm / len(course.needles)

    def row_mm(self, *titles: str) -> float:
        """Height of a row in the first course of some segments."""
        number = self.fabric_passes(*titles)[0]
        loops = np.flatnonzero((self._pass == number) & self._stitch)
        return float(self._sizes[1][loops].mean())

    def all_courses(self) -> list[Course]:
        """Every course of fabric of the piece, in order."""
        return [self.course(each) for each in np.unique(self._pass[self._stitch]).tolist()]

    def wale(self, needle: int, *titles: str) -> int:
        """Rows that some segments knitted on a needle."""
        return len(self._wale(needle, titles))

    def wale_mm(self, needle: int, *titles: str) -> float:
        """Height of what some segments knitted on a needle, along its wale."""
        return float(self._sizes[1][self._wale(needle, titles)].sum())

    def _wale(self, needle: int, titles: Iterable[str]) -> npt.NDArray[np.intp]:
        inside = np.isin(self._pass, self.passes(*titles))
        return np.flatnonzero(inside & self._stitch & (self._fabric.needle == needle))

    def slant_mm(self, before: Course, *titles: str) -> float:
        """Length of the two lines along which a turn narrows, from the course before it to its narrowest.

        Each line runs over the ends of the courses: so many stitches in, so many rows up.

        Raises:
            Missing: if the titles knit no fabric.
        """
        courses = self.courses(*titles)
        narrow = self.narrowest(*titles).needles
        up_mm = len(courses) * self.row_mm(*titles)
        stitch_mm = self.stitch_mm(*titles)
        left, right = narrow[0] - before.needles[0], before.needles[-1] - narrow[-1]
        return sum(hypot(across * stitch_mm, up_mm) for across in (left, right))

    # -- seams ----------------------------------------------------------------------------------------------

    def in_seams(self, pass_number: int) -> int:
        """Stitches of a course that lie in side seams, at both its ends together."""
        edges = [
            (edge, seam.stitches_in)
            for seam in self.piece.seams
            if isinstance(seam, Mattress)
            for edge in (seam.a, seam.b)
        ]
        return sum(inside for edge, inside in edges if _covers(edge, pass_number))

    def seamed_mm(self, *titles: str) -> float:
        """Width of the widest course of some segments, without the stitches that lie in side seams.

        Raises:
            Missing: if they knit no fabric.
        """
        numbers = self.fabric_passes(*titles)
        if not numbers:
            raise Missing(", ".join(titles))
        widest = max(numbers, key=lambda number: len(self.course(number).needles))
        course = self.course(widest)
        return course.mm * (1 - self.in_seams(widest) / len(course.needles))

    def grafts(self) -> list[tuple[int, int, int]]:
        """Each graft of the piece: its place among the seams, and the loops of its two edges."""
        found = []
        for place, seam in enumerate(self.piece.seams):
            if isinstance(seam, Graft):
                a, b = self._edges(seam)
                found.append((place, a, b))
        return found

    def _edges(self, seam: Seam) -> tuple[int, int]:
        needles, timeline = self.piece.bed.needles, self._procedure.timeline
        counts = []
        for item in (seam.a, seam.b):
            try:
                counts.append(len(timeline.edge_loops(to_edge(item, needles))))
            except EdgeError:
                counts.append(0)
        return counts[0], counts[1]

    # -- loops ----------------------------------------------------------------------------------------------

    @cached_property
    def _pass(self) -> npt.NDArray[np.int32]:
        return self._fabric.pass_of(np.arange(len(self._fabric)))

    @cached_property
    def _stitch(self) -> npt.NDArray[np.bool_]:
        """Which loops are stitches of fabric that a pass made."""
        made: npt.NDArray[np.bool_] = np.isin(self._fabric.kind, _STITCHES)
        return made & ~self._fabric.waste(np.arange(len(self._fabric)))

    @cached_property
    def _sizes(self) -> tuple[Floats, Floats]:
        """Width and height of every loop; not a number for waste without a swatch.

        Raises:
            Missing: if a yarn of the fabric has no swatch.
        """
        use = YarnUse(self._procedure)
        of_group = np.array([self._size_of(group.yarn, group.dial) for group in use.groups]).reshape(-1, 2)
        groups = [batch.group for batch in use.batches()]
        of_loop = of_group[np.concatenate(groups)] if groups else np.empty((0, 2))
        if np.isnan(of_loop[self._stitch]).any():
            raise Missing(_("a swatch"))
        return of_loop[:, 0], of_loop[:, 1]

    def _size_of(self, yarn: int, dial: float | None) -> tuple[float, float]:
        name = self.piece.yarns[yarn].id
        gauge = find_gauge(self.piece.gauges, name, dial)
        if gauge is None:
            of_yarn = [each for each in self.piece.gauges if each.yarn == name]
            if not of_yarn:
                return np.nan, np.nan
            # A row or two at another dial, to fold at or to close with, is taken as the swatch nearest to it.
            gauge = min(of_yarn, key=lambda each: 0.0 if dial is None else abs(each.tension - dial))
        return gauge.over_mm / gauge.stitches, gauge.over_mm / gauge.rows


def _covers(edge: SeamEdgeItem, pass_number: int) -> bool:
    if "side" not in edge:
        return False
    first, last = cast(SeamSideItem, edge)["passes"]
    return first <= pass_number <= last
