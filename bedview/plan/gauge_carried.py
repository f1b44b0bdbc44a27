"""A piece carried over to another yarn or bed: every count keeps its measure, and nothing is typed twice.

Needles keep their distance from the middle of the bed, edge by edge; rows keep their length, and whether they
are even or odd, so that the carriage stands where it stood. Lengths stay as they are written. What was
written action by action is carried over as far as it only names stretches of needles and rows, or only wraps.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import numpy.typing as npt
from pydantic import ValidationError

from bedview.bed.needles import NeedleError, Position, format_needles, parse_needles
from bedview.language import gettext as _
from bedview.language import number
from bedview.plan.gauge import Rounding
from bedview.plan.gauge_passes import follow_passes
from bedview.plan.gauge_places import follow_needles, names_places
from bedview.plan.piece import BedPlan, Gauge, Piece
from bedview.plan.problems import first_problem
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.regauge import Regauge
from bedview.plan.segments.shaping import EVERY
from bedview.plan.segments.span import Span

Document = dict[str, Any]
MOST_DIAL: Final = 20
_STRETCHES: Final = ("cast_on", "bind_off", "place")
_SINGLE: Final = ("wrap", "transfer", "hang")
"""Actions whose needles are meant one by one; a part with one of them is not carried over."""
_AT_THE_YARN: Final = ("laid_in", "e_wrap")


class CarryError(ValueError):
    """A piece that has no place on the bed by the new gauge, with the reason in one sentence."""


@dataclass(frozen=True, slots=True)
class NewGround:
    """What a piece is to be knitted with, and on.

    Attributes:
        gauge: the new gauge, under the yarn's id in the piece.
        bed: the bed.
        yarn: other fields of the yarn, as a file writes them: its name, tex, colour.
    """

    gauge: Gauge
    bed: BedPlan
    yarn: Document


@dataclass(frozen=True, slots=True)
class Carried:
    """A piece by another gauge.

    Attributes:
        piece: the piece.
        procedure: the piece compiled, as far as it can be knitted.
        trouble: why it cannot be knitted to its end; empty if it can.
        left: what was not carried over, a sentence each.
    """

    piece: Piece
    procedure: Procedure
    trouble: str
    left: tuple[str, ...]


def carried(procedure: Procedure, old: Gauge, ground: NewGround) -> Carried:
    """Carry a piece over.

    Args:
        procedure: the piece as it is planned, compiled.
        old: its gauge of the yarn that is to be another; the piece is measured by it.
        ground: the new yarn and bed.

    Raises:
        CarryError: if it has no place on the new bed.
    """
    carrier = _Carrier(procedure, old, ground)
    document = carrier.document()
    piece = _read(document)
    for _turn in range(_followed_parts(document) + 1):
        new, trouble = _compiled(piece)
        document = follow_passes(document, procedure, new)
        document, lost = follow_needles(document, procedure, new)
        document["segments"] = carrier.with_times(document["segments"], new)
        if (followed := _read(document)) == piece:
            break
        piece = followed
    new, trouble = _compiled(piece)
    for place in sorted(lost):
        carrier.leave(document["segments"][place], place)
    return Carried(piece, new, trouble, tuple(carrier.left))


def _read(document: Document) -> Piece:
    try:
        return Piece.read(document)
    except ValidationError as error:
        raise CarryError(first_problem(error, document, Piece.model_json_schema).what) from None


def _compiled(piece: Piece) -> tuple[Procedure, str]:
    try:
        return compile_piece(piece), ""
    except PlanError as error:
        return error.procedure, error.message


def _followed_parts(document: Document) -> int:
    """Parts that can only be carried over when those before them are."""
    return sum("edge" in segment or names_places(segment) for segment in document["segments"])


class _Carrier:
    """Goes through the segments of one piece."""

    def __init__(self, procedure: Procedure, old: Gauge, ground: NewGround) -> None:
        self._procedure, self._old, self._ground = procedure, old, ground
        self._gauge = Regauge(old, ground.gauge)
        self._beds = procedure.piece.bed.needles, ground.bed.needles
        self._row_ratio = (ground.gauge.rows / ground.gauge.over_mm) / (old.rows / old.over_mm)
        self._stitch_ratio = (ground.gauge.stitches / ground.gauge.over_mm) / (old.stitches / old.over_mm)
        self.left: list[str] = []

    def document(self) -> Document:
        """The piece, its passes still the old ones."""
        written = self._procedure.piece.to_document()
        written.pop("made_by", None)
        written["bed"] = self._ground.bed.model_dump(exclude_unset=True)
        ours = self._ground.gauge.yarn
        written["yarns"] = [
            {**yarn, **self._ground.yarn} if yarn["id"] == ours else yarn for yarn in written["yarns"]
        ]
        written["gauges"] = self._gauges(written.get("gauges", []))
        written["segments"] = [
            self._segment(segment, (place,)) for place, segment in enumerate(written["segments"])
        ]
        if "seams" in written:
            written["seams"] = [self._seam(seam) for seam in written["seams"]]
        return written

    def _gauges(self, gauges: list[Document]) -> list[Document]:
        """The new gauge; other dials of the yarn reckoned from it, since nobody counted them."""
        found: list[Document] = []
        names = {yarn.id: yarn.name or yarn.id for yarn in self._procedure.piece.yarns}
        for gauge in gauges:
            if gauge["yarn"] != self._old.yarn:
                found.append(gauge)
                said = _("{yarn} keeps its own gauge; see that it goes with the new one")
                self.left.append(said.format(yarn=names[gauge["yarn"]]))
            elif gauge["tension"] == self._old.tension:
                found.append(self._ground.gauge.model_dump(exclude_unset=True))
            else:
                dial = self._dial(gauge["tension"])
                by = {"rows": self._row_ratio, "stitches": self._stitch_ratio}
                found.append(
                    {**gauge, "tension": dial, **{key: round(gauge[key] * by[key], 3) for key in by}}
                )
                said = _("The gauge at tension {dial} is reckoned from the other one; knit a swatch at it")
                self.left.append(said.format(dial=number(dial)))
        return found

    # -- counts -------------------------------------------------------------------------------------------

    def _rows(self, count: int) -> int:
        """As many rows as measure the same, even or odd as they were, one at least."""
        return max(self._gauge.rows(count, Rounding(2, count % 2)).count, 2 - count % 2)

    def _needles(self, text: str) -> str:
        """A needle list, stretch by stretch."""
        try:
            return ",".join(self._gauge.needles(part, *self._beds) for part in text.split(","))
        except NeedleError as error:
            raise CarryError(str(error)) from None

    def _near(self, text: str) -> str:
        """Needles that words point at: those at the same places of the fabric, stretch by stretch."""
        old, new = self._beds
        found: set[int] = set()
        for part in text.split(","):
            ends = parse_needles(part, old)
            across = [(end + 0.5 - old / 2) * self._stitch_ratio + new / 2 for end in (ends[0], ends[-1])]
            first, last = (max(0, min(int(place), new - 1)) for place in across)
            found.update(range(first, last + 1))
        return format_needles(sorted(found), new)

    def _dial(self, dial: float) -> float:
        """A dial as far from the new one as it was from the old one."""
        if dial == self._old.tension:
            return self._ground.gauge.tension
        moved = round(min(max(dial + self._ground.gauge.tension - self._old.tension, 0), MOST_DIAL), 2)
        return int(moved) if float(moved).is_integer() else moved

    def _step(self, needles: int) -> int:
        """Needles held each time, so that a slope stays as steep."""
        return max(1, round(needles * self._stitch_ratio / self._row_ratio))

    def _edges(self, action: int) -> tuple[int, int]:
        """The new edges of the needles that work before an action, from the middle; 0, 0 if none does."""
        working = _working(self._procedure, action)
        if not len(working):
            return 0, 0
        middle = self._beds[0] // 2
        edges = int(working[0]) - middle, int(working[-1]) + 1 - middle
        left, right = (self._gauge.stitches(abs(edge)).count * (1 if edge >= 0 else -1) for edge in edges)
        return left, right

    # -- segments -----------------------------------------------------------------------------------------

    def _segment(self, segment: Document, path: tuple[int, ...]) -> Document:
        kinds: dict[str, Callable[[Document, tuple[int, ...]], Document]] = {
            "plain": self._with_rows,
            "hem": self._with_rows,
            "hang": self._with_rows,
            "narrow": self._shaping,
            "widen": self._shaping,
            "short_rows": self._short_rows,
            "bring_back": self._bring_back,
            "repeat": self._repeat,
            "actions": self._actions,
        }
        if len(path) == 1 and names_places(segment):
            # Where they are is found out when the parts before it are carried over.
            kinds |= {"actions": self._as_it_is}
        change = kinds.get(segment["kind"])
        new = dict(segment) if change is None else change(dict(segment), path)
        if segment["kind"] != "actions":
            if new.get("needles") is not None:
                places = new["kind"] == "bring_back" and len(path) == 1
                new["needles"] = (self._near if places else self._needles)(new["needles"])
            if "groups" in new:
                new["groups"] = [self._needles(group) for group in new["groups"]]
        if "edge" in new:
            new["edge"] = self._edge(new["edge"])
        for key in ("tension", "turning", "closing"):
            if new.get(key) is not None:
                new[key] = self._dial(new[key])
        if "reminders" in new:
            new["reminders"] = [self._reminder(each) for each in new["reminders"]]
        return new

    def _reminder(self, reminder: Document) -> Document:
        new: Document = {**reminder, "row": round(reminder["row"] * self._row_ratio)}
        if "needles" in new:
            new["needles"] = self._near(new["needles"])
        return new

    def _with_rows(self, segment: Document, _path: tuple[int, ...]) -> Document:
        for key in ("rows", "inside_rows"):
            if segment.get(key) is not None:
                segment[key] = self._rows(segment[key])
        return segment

    def _shaping(self, segment: Document, path: tuple[int, ...]) -> Document:
        old_stitches = segment["stitches"]
        stitches = self._stitches_of(segment, path)
        segment["stitches"] = stitches
        if segment.get("length_cm") is not None:
            return segment
        every = segment.pop("every", None)
        rows = self._rows(segment.pop("rows", None) or old_stitches * (every or EVERY))
        rows = max(rows, 2 * stitches if segment.get("how") in _AT_THE_YARN else stitches)
        if every is not None and rows % stitches == 0:
            return segment | {"every": rows // stitches}
        return segment | {"rows": rows}

    def _stitches_of(self, segment: Document, path: tuple[int, ...]) -> int:
        """Stitches that come or go at an end, by where the edges were before and after."""
        span = next((each for each in self._procedure.spans if each.path == path), None)
        if span is None:
            return max(1, self._gauge.stitches(segment["stitches"]).count)
        before, after = self._edges(span.start), self._edges(span.stop)
        left, right = abs(before[0] - after[0]), abs(before[1] - after[1])
        return max(1, left if segment.get("ends") == "left" else right)

    def _short_rows(self, segment: Document, path: tuple[int, ...]) -> Document:
        span = next((each for each in self._procedure.spans if each.path == path), None)
        ends = segment.get("ends", "in_turn")
        down = max(1, self._gauge.stitches(segment["down_to"]).count)
        if span is not None:
            left, right = self._edges(span.start)
            down = self._down_to(segment, span, right - left)
        segment["down_to"] = down
        if ends != "both_each_row" and "needles_a_step" in segment:
            segment["needles_a_step"] = self._step(segment["needles_a_step"])
        back = segment.get("back")
        if back and back.get("needles_a_step") and ends != "both_each_row":
            segment["back"] = {**back, "needles_a_step": self._step(back["needles_a_step"])}
        return segment

    def _down_to(self, segment: Document, span: Span, working: int) -> int:
        """Needles left at the turn, of so many that work by the new gauge."""
        if segment.get("back") is None:
            # They stay in hold, and later parts may name them: where the edges are then decides.
            left, right = self._edges(span.stop)
            return max(1, min(right - left, working - 1))
        down = max(1, self._gauge.stitches(segment["down_to"]).count)
        held = len(_working(self._procedure, span.start)) - segment["down_to"]
        both = segment.get("ends", "in_turn") in ("in_turn", "both_each_row")
        if both and (working - down) % 2 != held % 2:
            # As many at both ends as before, or one more on the same side.
            down += 1 if down + 1 < working else -1
        return max(1, min(down, working - 1))

    def _bring_back(self, segment: Document, _path: tuple[int, ...]) -> Document:
        if segment.get("ends") != "both_each_row" and "needles_a_step" in segment:
            segment["needles_a_step"] = self._step(segment["needles_a_step"])
        return segment

    def _repeat(self, segment: Document, path: tuple[int, ...]) -> Document:
        segment["segments"] = [
            self._segment(inner, (*path, place)) for place, inner in enumerate(segment["segments"])
        ]
        return segment

    def _actions(self, segment: Document, path: tuple[int, ...]) -> Document:
        if any(item["do"] in _SINGLE for item in segment["actions"]):
            self.leave(segment, path[0])
            return segment
        segment["actions"] = [self._action(item) for item in segment["actions"]]
        return segment

    def _as_it_is(self, segment: Document, _path: tuple[int, ...]) -> Document:
        return segment

    def leave(self, segment: Document, place: int) -> None:
        """Say that a part, the place-th of the piece, was not carried over."""
        title = segment.get("title") or _("Part {number}").format(number=place + 1)
        said = _("{part} is written action by action, and stays as it is; look at it yourself")
        self.left.append(said.format(part=title))

    def _action(self, item: Document) -> Document:
        if item["do"] == "knit":
            return {**item, "rows": self._rows(item["rows"])}
        if item["do"] == "tension":
            return {**item, "dial": self._dial(item["dial"])}
        if item["do"] in _STRETCHES:
            return {**item, "needles": self._needles(item["needles"])}
        return {**item, "needles": self._near(item["needles"])} if "needles" in item else item

    # -- edges and seams ----------------------------------------------------------------------------------

    def _edge(self, edge: Document) -> Document:
        return {
            key: self._needles(value) if key in ("open", "needles") else value for key, value in edge.items()
        }

    def _seam(self, seam: Document) -> Document:
        new = {**seam, "a": self._edge(seam["a"]), "b": self._edge(seam["b"])}
        if new.get("open_rows") is not None:
            new["open_rows"] = max(1, self._gauge.rows(new["open_rows"]).count)
        return new

    # -- repeats ------------------------------------------------------------------------------------------

    def with_times(self, segments: list[Document], new: Procedure) -> list[Document]:
        """Repeats as often as their rows make the length they made before, however each is rounded."""
        before = {span.path[0]: span for span in self._procedure.top_spans()}
        found = list(segments)
        for span in new.top_spans()[: new.finished]:
            place = span.path[0]
            segment = segments[place]
            if segment["kind"] != "repeat" or not _only_rows(segment) or place not in before:
                continue
            wanted = self._row_ratio * rows_between(self._procedure, before[place].start, before[place].stop)
            one = rows_between(new, span.start, span.stop) / segment["times"]
            if one:
                found[place] = {**segment, "times": max(1, round(wanted / one))}
        return found


def _only_rows(repeat: Document) -> bool:
    """Whether repeating it makes it longer and nothing else."""
    return all(
        _only_rows(inner) if inner["kind"] == "repeat" else inner["kind"] in ("plain", "short_rows")
        for inner in repeat["segments"]
    )


def _working(procedure: Procedure, action: int) -> npt.NDArray[np.intp]:
    """Needles that bear loops and stand in work or upper working before an action."""
    timeline = procedure.timeline
    state = timeline.state_at(timeline.line_of_action(action) - 1)
    ready = (state.position == Position.WORK) | (state.position == Position.UPPER)
    return np.flatnonzero(ready & (state.height > 0))


def rows_between(procedure: Procedure, start: int, stop: int) -> int:
    """Passes made from one action to before another."""
    timeline = procedure.timeline
    first, last = (timeline.pass_of_line(timeline.line_of_action(each) - 1) for each in (start, stop))
    return last - first
