"""Pass numbers that follow an edit: where rows came in or went out, edges lie at the same rows of fabric.

Seams and hung edges name passes by their number. An edit moves rows up or down; each number then goes to
where the row it meant is now: the same row of the same part, and the last row of a part to its last row.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Any, Final

from pydantic import TypeAdapter

from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.seams_file import SeamList
from bedview.plan.segments.base import Segment
from bedview.plan.segments.hang import HangSegment

_SEAMS: Final[TypeAdapter[Any]] = TypeAdapter(SeamList)
Moved = Callable[[int], int]


@dataclass(frozen=True, slots=True)
class RowsOfParts:
    """How many rows each part of a piece makes.

    Attributes:
        parts: the parts.
        rows: of each.
    """

    parts: tuple[Segment, ...]
    rows: tuple[int, ...]

    def starts(self) -> list[int]:
        """Passes made before each part, and at the end."""
        return list(accumulate(self.rows, initial=0))


def rows_of_parts(procedure: Procedure, piece: Piece, before: RowsOfParts | None = None) -> RowsOfParts:
    """The rows of each part; of one that was not reached, as many as it had before."""
    timeline = procedure.timeline
    rows = []
    for span in procedure.top_spans()[: procedure.finished]:
        lines = (timeline.line_of_action(each) - 1 for each in (span.start, span.stop))
        first, last = (timeline.pass_of_line(line) for line in lines)
        rows.append(last - first)
    missing = len(piece.segments) - len(rows)
    if missing and before is not None:
        known = {new: before.rows[old] for old, new in matched(before.parts, piece.segments).items()}
        rows += [known.get(place, 0) for place in range(len(rows), len(piece.segments))]
    else:
        rows += [0] * missing
    return RowsOfParts(piece.segments, tuple(rows))


def matched(old: Sequence[Segment], new: Sequence[Segment]) -> dict[int, int]:
    """Which part became which: the same ones wherever they stand now, then changed ones in their order."""
    free = list(range(len(new)))
    found: dict[int, int] = {}
    by_part: dict[int, list[int]] = {}
    for place, part in enumerate(new):
        by_part.setdefault(id(part), []).append(place)
    for place, part in enumerate(old):
        if by_part.get(id(part)):
            found[place] = by_part[id(part)].pop(0)
    free = sorted(set(free).difference(found.values()))
    for place, part in enumerate(old):
        if place in found:
            continue
        like = next((other for other in free if new[other].kind == part.kind), None)  # type: ignore[attr-defined]
        if like is not None:
            found[place] = like
            free.remove(like)
    return found


def seams_followed(piece: Piece, before: RowsOfParts, after: RowsOfParts) -> Piece:
    """The piece with its seams at the rows they meant before the edit.

    Args:
        piece: as it was edited, its pass numbers still the old ones.
        before: the rows before the edit.
        after: the rows now.
    """
    if not piece.seams or _same(before, after):
        return piece
    moved = _Moved(before, after)
    written = [seam.model_dump(exclude_unset=True) for seam in piece.seams]
    for seam in written:
        for side in ("a", "b"):
            seam[side] = _edge_moved(seam[side], moved)
    return piece.model_copy(update={"seams": _SEAMS.validate_python(written)})


def hung_followed(piece: Piece, before: RowsOfParts, after: RowsOfParts) -> Piece:
    """The piece with the edges that its parts hang at the rows they meant, as :func:`seams_followed`."""
    if _same(before, after) or not any(isinstance(part, HangSegment) for part in piece.segments):
        return piece
    moved = _Moved(before, after)
    return piece.model_copy(update={"segments": tuple(_hang_moved(part, moved) for part in piece.segments)})


def _same(before: RowsOfParts, after: RowsOfParts) -> bool:
    return before.rows == after.rows and len(before.parts) == len(after.parts)


class _Moved:
    """Where a pass went."""

    def __init__(self, before: RowsOfParts, after: RowsOfParts) -> None:
        self._became = matched(before.parts, after.parts)
        self._old, self._new = before.starts(), after.starts()
        self._rows = after.rows

    def last(self, number: int) -> int:
        """Where a pass went; of a part that is gone, the last pass of what stood before it."""
        place = self._part_of(number)
        if place is None:
            return number
        offset, of = number - self._old[place], self._old[place + 1] - self._old[place]
        now = self._became.get(place)
        if now is not None and self._rows[now]:
            return self._new[now] + (self._rows[now] if offset == of else min(offset, self._rows[now]))
        earlier = [self._became[each] for each in range(place) if each in self._became]
        return self._new[earlier[-1] + 1] if earlier else 0

    def first(self, number: int) -> int:
        """Where a pass went; of a part that is gone, the first pass of what stood behind it."""
        place = self._part_of(number)
        if place is None:
            return number
        now = self._became.get(place)
        if now is not None and self._rows[now]:
            return self._new[now] + min(number - self._old[place], self._rows[now])
        later = [self._became[each] for each in range(place, len(self._old)) if each in self._became]
        return self._new[later[0]] + 1 if later else self._new[-1]

    def _part_of(self, number: int) -> int | None:
        if number < 1:
            return None
        return next((place for place, end in enumerate(self._old[1:]) if number <= end), None)


def _edge_moved(edge: dict[str, Any], moved: _Moved) -> dict[str, Any]:
    changed = dict(edge)
    for key in ("pass", "made_in_pass"):
        if key in edge:
            changed[key] = max(moved.last(edge[key]), min(edge[key], 1))
    if "passes" in edge:
        first, last = moved.first(edge["passes"][0]), moved.last(edge["passes"][1])
        if 1 <= first <= last:
            changed["passes"] = [first, last]
    return changed


def _hang_moved(part: Segment, moved: _Moved) -> Segment:
    if not isinstance(part, HangSegment) or part.edge is None:
        return part
    edge = _edge_moved(dict(part.edge), moved)
    return part if edge == part.edge else part.altered(edge=edge)
