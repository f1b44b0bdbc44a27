"""The mirrored piece is the same piece in a mirror: positions the other way round, and the same gaps."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.bed.needles import format_needles
from bedview.plan.edges_file import to_edge
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.segments.mirroring import mirrored_needles
from bedview.resources import resource_path
from tests.plan.making import PLAIN_4, Segments, cast_on, document

DEMOS = sorted(resource_path("demos").glob("*.piece.json"))
WORKED = sorted((Path(__file__).parents[1] / "reference" / "worked").glob("*.json"))

KINDS: Segments = [
    {"kind": "cast_on", "needles": "L6-R6", "how": "waste"},
    PLAIN_4,
    {"kind": "short_rows", "down_to": 5, "back": {"wraps": "automatic"}},
    {"kind": "short_rows", "down_to": 8, "ends": "left", "needles_a_step": 2, "back": {"all_at_once": True}},
    {"kind": "set_aside", "groups": ["R4-R6"], "wraps": "hand"},
    {"kind": "bring_back", "needles": "R4-R6", "ends": "right", "needles_a_step": 2},
    {"kind": "set_aside", "groups": ["L6-L3"]},
    {"kind": "scrap_off", "needles": "L2-R6", "old_yarn": "park"},
    {"kind": "bring_back", "ends": "all_at_once"},
    {"kind": "plain", "rows": 2, "yarn": "main"},
    {"kind": "repeat", "times": 2, "segments": [{"kind": "short_rows", "down_to": 2, "ends": "left",
                                                 "back": {"wraps": "hand"}}]},
    {"kind": "bind_off", "needles": "L6-L3"},
]  # fmt: skip
SHAPED: Segments = [
    {"kind": "cast_on", "needles": "L9-R6", "tension": 6, "group": "edge"},
    {"kind": "hem", "rows": 3, "reminders": [{"row": 2, "text": "hang weights", "needles": "L9,R6"}]},
    {"kind": "narrow", "stitches": 2, "tool": 3},
    {"kind": "narrow", "stitches": 1, "ends": "left", "tool": 1, "rows": 3, "at_once": True},
    {"kind": "widen", "stitches": 2, "tool": 2},
    {"kind": "widen", "stitches": 1, "ends": "right", "how": "laid_in", "rows": 4},
    {"kind": "widen", "stitches": 2, "how": "e_wrap", "every": 3},
    {"kind": "widen", "stitches": 1, "how": "eyelet", "ends": "left"},
    {"kind": "cast_on", "needles": "L13-L12,R10-R11"},
    {"kind": "bind_off", "needles": "L13-L12"},
    {"kind": "scrap_off", "needles": "L11-L7", "group": "flap"},
    {"kind": "bring_back", "ends": "all_at_once"},
    {"kind": "hang", "edge": {"side": "left", "passes": [3, 6]}, "needles": "L10-L7", "turned": True},
    {"kind": "hang", "group": "flap", "needles": "R2-R6", "yarn": "main", "rows": 2},
]  # fmt: skip


def pieces() -> list[Any]:
    """Every demo, every worked procedure, and two pieces with every kind of segment."""
    found = [pytest.param(json.loads(path.read_text("utf-8")), id=path.name) for path in DEMOS]
    found += [
        pytest.param(json.loads(path.read_text("utf-8"))["piece"], id=f"worked-{path.stem}")
        for path in WORKED
    ]
    found.append(pytest.param(document(12, KINDS), id="kinds of straight pieces"))
    return [*found, pytest.param(document(40, SHAPED), id="kinds of shaped pieces")]


@pytest.mark.parametrize("written", pieces())
def test_twice_mirrored_is_the_same_file(written: dict[str, Any]) -> None:
    piece = Piece.read(written)
    twice = mirror_piece(mirror_piece(piece))
    assert json.dumps(twice.to_document()) == json.dumps(piece.to_document())
    assert mirror_piece(piece).to_document() != piece.to_document()


@pytest.mark.parametrize("written", pieces())
def test_the_timeline_is_the_mirror_image(written: dict[str, Any]) -> None:
    piece = Piece.read(written)
    here, there = compile_piece(piece), compile_piece(mirror_piece(piece))
    assert here.timeline.lines == there.timeline.lines
    for line in range(here.timeline.lines):
        a, b = here.timeline.state_at(line), there.timeline.state_at(line)
        assert np.array_equal(a.position, b.position[::-1])
        assert np.array_equal(a.height, b.height[::-1])
        assert np.array_equal(a.level, b.level[::-1])
        assert a.carriage is b.carriage.other
    assert here.timeline.openings.sizes() == there.timeline.openings.sizes()


def pairs(procedure: Procedure, piece: Piece, *, mirrored: bool) -> list[list[tuple[int, int]]]:
    """For each seam the columns that its loops join, in any order; of a mirrored piece, as before it."""
    needles = piece.bed.needles
    found = []
    for seam in piece.seams:
        columns = []
        for edge in (seam.a, seam.b):
            loops = procedure.timeline.edge_loops(to_edge(edge, needles))
            if edge.get("reverse", False):
                loops.reverse()
            at = procedure.timeline.fabric.needle[loops].astype(int)
            columns.append((needles - 1 - at if mirrored else at).tolist())
        found.append(sorted(zip(*columns, strict=True)))
    return found


SEAMS = [
    {"kind": "graft", "a": {"open": "L6-L1"}, "b": {"open": "R1-R6", "reverse": True}},
    {"kind": "graft", "a": {"made_in_pass": 0, "needles": "L6-R6"}, "b": {"open": "L6-R6"}},
    {"kind": "mattress", "a": {"side": "left", "passes": [1, 12]}, "b": {"side": "right", "passes": [1, 12]}},
    {"kind": "graft", "a": {"side": "left", "passes": [1, 12]}, "b": {"open": "L6-R6"}},
    {"kind": "overcast", "a": {"made_in_pass": 3, "needles": "L6-R6"},
     "b": {"side": "right", "passes": [1, 12], "reverse": True}},
]  # fmt: skip


def test_seams_join_the_same_loops() -> None:
    piece = Piece.read(document(12, [cast_on(12), {"kind": "plain", "rows": 12}], seams=SEAMS))
    image = mirror_piece(piece)
    assert pairs(compile_piece(image), image, mirrored=True) == pairs(
        compile_piece(piece), piece, mirrored=False
    )
    assert [("reverse" in seam.a, "reverse" in seam.b) for seam in image.seams] == [
        (False, True),
        (False, False),
        (False, False),
        (True, False),
        (False, False),
    ]


def test_a_hung_side_edge_lies_the_other_way_round() -> None:
    off = [{"do": "cut"}, {"do": "thread", "yarn": "waste"}, {"do": "knit", "rows": 4}, {"do": "cut"}]
    hang = {"do": "hang", "needles": "L6-L1", "edge": {"side": "left", "passes": [1, 6]}}
    actions = [{"do": "knit", "rows": 6}, *off, {"do": "knit", "rows": 1}, hang]
    piece = Piece.read(document(12, [cast_on(12), {"kind": "actions", "actions": actions}]))
    image = mirror_piece(piece)
    assert image.to_document()["segments"][1]["actions"][-1] == {
        "do": "hang",
        "needles": "R1-R6",
        "edge": {"side": "right", "passes": [1, 6]},
        "turned": True,
    }
    levels = [compile_piece(each).timeline.state.level for each in (piece, image)]
    assert levels[0].tolist() == levels[1][::-1].tolist() == [1, 2, 3, 4, 5, 6] + [0] * 6


@given(st.sets(st.integers(0, 39), min_size=1))
def test_needle_lists_name_the_needles_across(needles: set[int]) -> None:
    text = format_needles(needles, 40)
    assert mirrored_needles(text) == format_needles({39 - needle for needle in needles}, 40)
    assert mirrored_needles(mirrored_needles(text)) == text


def test_needle_lists_keep_the_order_they_were_written_in() -> None:
    assert mirrored_needles("R7,L10-R4") == "L4-R10,L7"
    assert mirrored_needles(mirrored_needles("R7,L10-R4,R5-R5")) == "R7,L10-R4,R5-R5"
