"""Shaping in closed forms: rows, stitches, final needles and notes of thousands of random segments.

Every sound one is done from either side of the carriage, gives nothing to warn of, is a document by the
schema and the same file again after two mirrors.
"""

from __future__ import annotations

import json
from collections import Counter
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from bedview.bed.actions import Note
from bedview.bed.needles import Position, format_needles
from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from tests.plan.making import Segments, document, rows_of, stitches_of, widths_of

BED = 60
SHAPED = 2  # the index of the shaping, behind a cast-on and plain rows
SCHEMA = Draft202012Validator(Piece.model_json_schema())
sides = st.sampled_from(["left", "right"])
ends = st.sampled_from(["both", "left", "right"])


def cast_on(first: int, count: int, **more: Any) -> dict[str, Any]:  # noqa: ANN401 - as a file
    """Stitches on ``count`` needles from the index ``first``."""
    where = format_needles(range(first, first + count), BED)
    return {"kind": "cast_on", "needles": where, "yarn": "main", "tension": 6, **more}


def knitted(segments: Segments, carriage: str) -> Procedure:
    """Compile a piece that must be good in every way that does not depend on what it is."""
    written = document(BED, segments, carriage=carriage)
    SCHEMA.validate(written)
    piece = Piece.read(written)
    image = mirror_piece(piece)
    assert json.dumps(mirror_piece(image).to_document()) == json.dumps(piece.to_document())
    made, mirrored = compile_piece(piece), compile_piece(image)
    one, other = made.timeline.state, mirrored.timeline.state
    assert np.array_equal(one.position, other.position[::-1])
    assert np.array_equal(one.level, other.level[::-1])
    assert made.timeline.openings.sizes() == mirrored.timeline.openings.sizes()
    return made


def told(procedure: Procedure) -> Counter[str]:
    """Rules of the findings but for stitches left on the bed; none may be worse than a note."""
    found = [each for each in judge(procedure.timeline) if each.rule != "stitches-left"]
    assert all(each.severity is Severity.NOTE for each in found), found
    return Counter(each.rule for each in found)


def bearing(procedure: Procedure) -> list[int]:
    """Needles with stitches, all of which must work; the empty ones must be out of work."""
    state = procedure.timeline.state
    bears = state.height > 0
    assert (state.position[bears] == Position.WORK).all()
    assert (state.position[~bears] == Position.OUT).all()
    found: list[int] = np.flatnonzero(bears).tolist()
    return found


# -- where the stitches go or come with a transfer tool ---------------------------------------------------


class Shape(NamedTuple):
    """A shaping by transfers: what stands before it, its fields, and what is known of it."""

    first: int
    width: int
    rows_before: int
    carriage: str
    fields: dict[str, Any]
    times: int
    rows: int

    @property
    def sides(self) -> int:
        return 2 if self.fields.get("ends", "both") == "both" else 1

    def left_end(self, moved: int) -> int:
        """The outermost needle on the left, if each end goes so many out (in if less than 0)."""
        return self.first - (0 if self.fields.get("ends") == "right" else moved)

    def right_end(self, moved: int) -> int:
        """The outermost needle on the right."""
        return self.first + self.width - 1 + (0 if self.fields.get("ends") == "left" else moved)


@st.composite
def shapes(draw: st.DrawFn, *, wider: bool) -> Shape:
    where = draw(ends)
    both = where == "both"
    times = draw(st.integers(1, 12))
    # The tool needs a neighbour; narrowing has to leave one stitch.
    fewest = (3 if both else 2) if wider else times * (1 + both) + 1
    count = draw(st.integers(fewest, 34))
    first = draw(st.integers(12, 48 - count) if wider else st.integers(0, BED - count))
    fields: dict[str, Any] = {"stitches": times}
    if where != "both" or draw(st.booleans()):
        fields["ends"] = where
    match draw(st.sampled_from(["rows", "every", "nothing"])):
        case "rows":
            rows = fields["rows"] = draw(st.integers(times, times * 6))
        case "every":
            fields["every"] = draw(st.integers(1, 6))
            rows = times * fields["every"]
        case _:
            rows = times * 2
    if draw(st.booleans()):
        fields["at_once"] = draw(st.booleans())
    if draw(st.booleans()):
        fields["tool"] = draw(st.integers(1, 3))
    return Shape(first, count, draw(st.integers(1, 4)), draw(sides), fields, times, rows)


def shaped(shape: Shape, kind: str, **more: str) -> Procedure:
    segments: Segments = [
        cast_on(shape.first, shape.width),
        {"kind": "plain", "rows": shape.rows_before},
        {"kind": kind, **shape.fields, **more},
        {"kind": "plain", "rows": 3},
    ]
    return knitted(segments, shape.carriage)


def must_be_spread(shape: Shape, made: Procedure, change: int) -> None:
    """Check rows, widths, stitches and spacing of a shaping that adds ``change`` stitches each time."""
    widths = widths_of(made, SHAPED)
    assert len(widths) == shape.rows == rows_of(made, SHAPED)
    steps = [after - before for before, after in pairwise([shape.width, *widths])]
    assert Counter(steps) == Counter({change: shape.times}) + Counter({0: shape.rows - shape.times})
    events = [row for row, step in enumerate(steps, 1) if step]
    late = not shape.fields.get("at_once", False)
    if not late:
        events = [shape.rows + 1 - row for row in reversed(events)]
    assert events[-1] == shape.rows
    small, longer = divmod(shape.rows, shape.times)
    gaps = Counter(after - before for before, after in pairwise([0, *events]))
    assert gaps == Counter({small: shape.times - longer}) + Counter({small + 1: longer})
    # An even spread: no event lies a row or more from its ideal place.
    assert all(
        abs(row * shape.times - (place + 1) * shape.rows) < shape.times for place, row in enumerate(events)
    )
    if not longer:
        n, q = shape.times, small
        rows_after = (
            n * shape.rows + n - q * n * (n + 1) // 2 if late else n * shape.rows - q * n * (n - 1) // 2
        )
        assert stitches_of(made, SHAPED) == shape.width * shape.rows + change * rows_after


@given(shapes(wider=False))
@settings(deadline=None, max_examples=500)
def test_narrowing(shape: Shape) -> None:
    made = shaped(shape, "narrow")
    must_be_spread(shape, made, -shape.sides)
    left, right = shape.left_end(-shape.times), shape.right_end(-shape.times)
    assert bearing(made) == list(range(left, right + 1))
    assert told(made) == Counter()
    # Where both ends meet in the middle a face may be smaller than in plain knitting; none is larger.
    assert max(made.timeline.openings.sizes()) == 2


@given(shapes(wider=True), st.sampled_from(["heel", "eyelet"]))
@settings(deadline=None, max_examples=500)
def test_widening_by_transfers(shape: Shape, how: str) -> None:
    made = shaped(shape, "widen", how=how)
    must_be_spread(shape, made, shape.sides)
    left, right = shape.left_end(shape.times), shape.right_end(shape.times)
    assert bearing(made) == list(range(left, right + 1))
    # The eyelets of one row are one finding.
    assert told(made) == Counter({"laid-in": shape.times if how == "eyelet" else 0}) + Counter()
    assert made.timeline.openings.sizes().keys() == {2}


# -- where new needles come at the carriage ---------------------------------------------------------------


class AtTheYarn(NamedTuple):
    """A widening by new edge needles."""

    shape: Shape
    how: str


@st.composite
def at_the_yarn(draw: st.DrawFn) -> AtTheYarn:
    where = draw(ends)
    times, count = draw(st.integers(1, 10)), draw(st.integers(1, 30))
    fields: dict[str, Any] = {"stitches": times, "ends": where, "at_once": draw(st.booleans())}
    match draw(st.sampled_from(["rows", "every", "nothing"])):
        case "rows":
            rows = fields["rows"] = draw(st.integers(2 * times, 8 * times))
        case "every":
            fields["every"] = draw(st.integers(2, 8) if where == "both" else st.sampled_from([2, 4, 6]))
            rows = times * fields["every"]
        case _:
            rows = times * 2
    first = draw(st.integers(12, 48 - count))
    shape = Shape(first, count, draw(st.integers(1, 4)), draw(sides), fields, times, rows)
    return AtTheYarn(shape, draw(st.sampled_from(["laid_in", "e_wrap"])))


@given(at_the_yarn())
@settings(deadline=None, max_examples=500)
def test_widening_where_the_yarn_is(case: AtTheYarn) -> None:
    shape = case.shape
    made = shaped(shape, "widen", how=case.how)
    widths = [shape.width, *widths_of(made, SHAPED)]
    assert len(widths) == shape.rows + 1
    assert {after - before for before, after in pairwise(widths)} <= {0, 1}
    assert widths[-1] == shape.width + shape.sides * shape.times
    assert bearing(made) == list(range(shape.left_end(shape.times), shape.right_end(shape.times) + 1))
    assert (
        told(made)
        == Counter({"laid-in": shape.sides * shape.times if case.how == "laid_in" else 0}) + Counter()
    )
    timeline = made.timeline
    for row in range(shape.rows):
        if widths[row + 1] == widths[row]:
            continue
        line = timeline.line_of_pass(shape.rows_before + row + 1)
        knit = timeline.event_of(line).knit
        was = timeline.event_of(timeline.line_of_pass(shape.rows_before + row)).knit
        new = set(knit.tolist()) - set(was.tolist())
        starts_left = timeline.state_at(line - 1).carriage.value == "left"
        assert new == {int(knit[0] if starts_left else knit[-1])}


# -- hems, groups, reminders ------------------------------------------------------------------------------


@given(
    st.integers(1, 40), st.integers(1, 9), st.none() | st.integers(1, 9), st.integers(0, 5),
    st.sampled_from(["e_wrap", "waste"]), sides,
)  # fmt: skip
@settings(deadline=None, max_examples=300)
def test_hems(count: int, rows: int, inside: int | None, before: int, how: str, carriage: str) -> None:
    hem = {"kind": "hem", "rows": rows} | ({} if inside is None else {"inside_rows": inside})
    plain: Segments = [{"kind": "plain", "rows": before}] if before else []
    start = cast_on(10, count, how=how, ravel="cord")
    made = knitted([start, *plain, hem, {"kind": "plain", "rows": 2}], carriage)
    segment = len(plain) + 1
    all_rows = rows + (inside or rows) + 2
    assert widths_of(made, segment) == [count] * all_rows
    assert bearing(made) == list(range(10, 10 + count))
    assert told(made) == Counter()
    fabric = made.timeline.fabric
    start_loop, end = fabric.loops_of_pass(made.timeline.passes - 2)
    below = [fabric.parents(loop) for loop in range(start_loop, end)]
    # Each closing loop is drawn through two: one of the row before, one of where the hem began.
    assert [len(loops) for loops in below] == [2] * count
    levels = {tuple(fabric.level[loops].tolist()) for loops in below}
    # On waste alone the first row of the hem is picked up, which is as its level tells one row later.
    began_on_fabric = before > 0 or how == "e_wrap"
    apart = all_rows - 1 if began_on_fabric else all_rows - 2
    assert {upper - lower for lower, upper in (sorted(pair) for pair in levels)} == {apart}


@given(st.integers(2, 30), st.data(), st.booleans(), st.booleans(), sides)
@settings(deadline=None, max_examples=200)
def test_groups_come_back(
    count: int, data: st.DataObject, turned: bool, elsewhere: bool, carriage: str
) -> None:
    """One part is scrapped off, then the other; the first comes back, there or elsewhere."""
    cut = data.draw(st.integers(1, count - 1))
    first, second = (format_needles(range(10 + a, 10 + b), BED) for a, b in ((0, cut), (cut, count)))
    hang: dict[str, Any] = {"kind": "hang", "group": "first", "yarn": "main", "rows": 3}
    hang |= {"turned": True} if turned else {}
    where = list(range(10, 10 + cut))
    if elsewhere:
        where = list(range(25, 25 + cut))
        hang |= {"needles": format_needles(where, BED)}
    segments: Segments = [
        cast_on(10, count),
        {"kind": "plain", "rows": 4},
        {"kind": "scrap_off", "needles": first, "group": "first", "tail_cm": 20},
        {"kind": "scrap_off", "needles": second, "group": "second", "tail_cm": 20},
        hang,
    ]
    made = knitted(segments, carriage)
    assert rows_of(made, 4) == 3
    state = made.timeline.state
    assert np.flatnonzero(state.height).tolist() == where
    assert state.level[where].tolist() == [7] * cut
    assert told(made) == Counter()
    assert made.timeline.openings.sizes().keys() <= {2}


ANY_KIND: Segments = [
    {"kind": "plain", "rows": 12},
    {"kind": "narrow", "stitches": 6},
    {"kind": "widen", "stitches": 6, "how": "laid_in"},
    {"kind": "short_rows", "down_to": 8},
    {"kind": "hem", "rows": 5},
    {"kind": "repeat", "times": 4, "segments": [{"kind": "plain", "rows": 3}]},
    {"kind": "scrap_off", "rows": 11},
]  # each makes twelve rows over twenty needles


@given(st.sampled_from(ANY_KIND), st.lists(st.integers(0, 12), max_size=5), sides)
@settings(deadline=None, max_examples=150)
def test_reminders_come_at_their_rows_and_change_nothing(
    kind: dict[str, Any], rows: list[int], carriage: str
) -> None:
    start = [cast_on(20, 20), {"kind": "plain", "rows": 2}]
    reminders = [{"row": row, "text": f"{place}", "needles": "L3,R2"} for place, row in enumerate(rows)]
    plainly = knitted([*start, kind], carriage)
    made = knitted([*start, kind | {"reminders": reminders}], carriage)
    timeline = made.timeline
    said = [
        (timeline.pass_of_line(timeline.line_of_action(number)) - 2, action.text)
        for number, action in enumerate(timeline.actions)
        if isinstance(action, Note)
    ]
    assert said == sorted(((row, f"{place}") for place, row in enumerate(rows)), key=lambda each: each[0])
    assert timeline.passes == plainly.timeline.passes == 14
    assert len(timeline.fabric) == len(plainly.timeline.fabric)
    for name in ("needle", "kind", "level"):
        assert np.array_equal(getattr(timeline.fabric, name), getattr(plainly.timeline.fabric, name))


# -- one behind another -----------------------------------------------------------------------------------


@st.composite
def journeys(draw: st.DrawFn) -> tuple[Segments, int, int]:
    """A piece of many shapings one behind another, and the needles it ends on: the first and how many."""
    left, right = 22, 37
    segments: Segments = [cast_on(left, right - left + 1), {"kind": "plain", "rows": draw(st.integers(1, 3))}]
    for _ in range(draw(st.integers(1, 6))):
        width = right - left + 1
        kind = draw(st.sampled_from(["narrow", "widen", "plain", "hem", "short_rows"]))
        if kind in ("narrow", "widen"):
            where, times = draw(ends), draw(st.integers(1, 3))
            moved = times if kind == "widen" else -times
            new_left = left - (moved if where != "right" else 0)
            new_right = right + (moved if where != "left" else 0)
            if new_left < 0 or new_right >= BED or new_right - new_left < 4:
                continue
            fields: dict[str, Any] = {"stitches": times, "ends": where, "tool": draw(st.integers(1, 3))}
            if kind == "widen":
                # An eyelet begins a column anew. Where a narrowing later joins its neighbour to it, the bed's
                # rules see that column rise at once, and tell of a gap.
                fields["how"] = draw(st.sampled_from(["heel", "laid_in", "e_wrap"]))
            segments.append({"kind": kind, **fields})
            left, right = new_left, new_right
        elif kind == "plain":
            segments.append({"kind": "plain", "rows": draw(st.integers(1, 4))})
        elif kind == "hem":
            segments.append({"kind": "hem", "rows": draw(st.integers(1, 4))})
        else:
            down = {"down_to": draw(st.integers(1, width - 1)), "wraps": "hand", "back": {"wraps": "hand"}}
            segments += [{"kind": "short_rows", **down}, {"kind": "plain", "rows": 2}]
    return segments, left, right


@given(journeys(), sides)
@settings(deadline=None, max_examples=200)
def test_any_shaping_behind_any_other(journey: tuple[Segments, int, int], carriage: str) -> None:
    segments, left, right = journey
    made = knitted(segments, carriage)
    assert bearing(made) == list(range(left, right + 1))
    assert told(made).keys() <= {"laid-in"}
