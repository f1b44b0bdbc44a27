"""Edges, hangs and refusals on a bed of eight needles, small enough to follow with a finger."""

from typing import Any

import pytest

from tests.reference.edges import edge_loops
from tests.reference.judge import findings
from tests.reference.simulator import Result, run
from tests.reference.steps import Action, CannotDo, Piece, Refused

START: list[Action] = [
    {"do": "thread", "yarn": "main"},
    {"do": "hold_cams", "on": True},
    {"do": "cast_on", "needles": "L2-R2"},
    {"do": "knit", "rows": 2},
]


def scrap_off(rows: int) -> list[Action]:
    """Everything that works is knitted with so many rows of waste and dropped."""
    return [
        {"do": "cut"},
        {"do": "thread", "yarn": "scrap"},
        {"do": "knit", "rows": rows},
        {"do": "cut"},
        {"do": "knit", "rows": 1},
    ]


def piece(*actions: Action, seams: list[dict[str, Any]] | None = None) -> Piece:
    """A piece on eight needles of 9 mm, the carriage on the right."""
    return {
        "format": 1,
        "bed": {"needles": 8, "pitch_mm": 9.0, "carriage": "right"},
        "yarns": [{"id": "main", "role": "fabric"}, {"id": "scrap", "role": "waste"}],
        "segments": [{"kind": "actions", "actions": list(actions)}],
        "seams": seams or [],
    }


def numbers(result: Result, edge: dict[str, Any]) -> list[int]:
    """The edge's loops, by their place in the order of making."""
    bed = result.bed
    return [loop.number for loop in edge_loops(edge, bed.needles, bed.stacks, bed.loops, bed.steps)]


# Cast on from L2 to R2: 0 1 2 3. First pass, from the right: 4 on R2 to 7 on L2. Second: 8 on L2 to 11 on R2.


def test_open_loops_on_the_bed() -> None:
    assert numbers(run(piece(*START)), {"open": "L2-R2"}) == [8, 9, 10, 11]


def test_open_loops_under_waste() -> None:
    assert numbers(run(piece(*START, *scrap_off(5))), {"open": "L1-R1"}) == [9, 10]


def test_waste_on_the_bed_stands_for_the_fabric_under_it() -> None:
    waste: list[Action] = [{"do": "cut"}, {"do": "thread", "yarn": "scrap"}, {"do": "knit", "rows": 3}]
    assert numbers(run(piece(*START, *waste)), {"open": "L2-R2"}) == [8, 9, 10, 11]


def test_loops_made_by_cast_on_and_in_a_pass() -> None:
    result = run(piece(*START))
    assert numbers(result, {"made_in_pass": 0, "needles": "L2-R2"}) == [0, 1, 2, 3]
    assert numbers(result, {"made_in_pass": 1, "needles": "L2-R2"}) == [7, 6, 5, 4]


def test_side_leaves_short_rows_out() -> None:
    short: list[Action] = [
        {"do": "place", "needles": "L2", "position": "hold"},
        {"do": "knit", "rows": 2},
        {"do": "place", "needles": "L2", "position": "upper"},
        {"do": "knit", "rows": 1},
    ]
    result = run(piece(*START, *short))
    # Passes 3 and 4 knit R2, R1, L1 and back: 12 13 14, 15 16 17. Pass 5 knits 18 on R2 to 21 on L2.
    assert numbers(result, {"side": "right", "passes": [1, 5]}) == [4, 11, 12, 17, 18]
    assert numbers(result, {"side": "left", "passes": [1, 5]}) == [7, 8, 21]
    assert numbers(result, {"side": "left", "passes": [2, 4]}) == [8]


def test_hung_group_lets_go_of_its_waste() -> None:
    back: Action = {"do": "hang", "needles": "L2-R2", "edge": {"open": "L2-R2"}, "turned": True}
    result = run(piece(*START, *scrap_off(5), back))
    assert [[loop.number for loop in stack] for stack in result.bed.stacks[2:6]] == [[11], [10], [9], [8]]
    assert all(not stack[0].children for stack in result.bed.stacks[2:6])
    with pytest.raises(Refused):
        run(piece(*START, *scrap_off(5), back, back))


def test_group_dropped_again_belongs_to_its_latest_drop() -> None:
    moved: Action = {"do": "hang", "needles": "L1-R3", "edge": {"open": "L2-R2"}}
    result = run(piece(*START, *scrap_off(5), moved, {"do": "knit", "rows": 1}))
    assert result.fabric["unsecured"] == 4
    assert numbers(result, {"open": "L1-R3"}) == [8, 9, 10, 11]
    with pytest.raises(CannotDo):
        numbers(result, {"open": "L2-R2"})


def test_loop_with_fabric_through_it_is_not_open() -> None:
    back: Action = {"do": "hang", "needles": "L2-R2", "edge": {"open": "L2-R2"}}
    knitted: list[Action] = [{"do": "thread", "yarn": "main"}, {"do": "knit", "rows": 1}]
    result = run(piece(*START, *scrap_off(5), back, *knitted))
    with pytest.raises(CannotDo):
        numbers(result, {"open": "L2-R2", "pass": 8})


def test_waste_rows_are_counted() -> None:
    for rows, speaks in ((3, True), (4, False)):
        rules = {finding["rule"] for finding in findings(run(piece(*START, *scrap_off(rows))))}
        assert ("waste-too-short" in rules) == speaks


def test_graft_of_unequal_counts() -> None:
    seam = {"kind": "graft", "a": {"made_in_pass": 0, "needles": "L2-R2"}, "b": {"open": "L2-R1"}}
    found = findings(run(piece(*START, *scrap_off(5), seams=[seam])))
    assert [(finding["rule"], finding["severity"]) for finding in found] == [("seam-mismatch", "error")]
    seam["b"] = {"open": "L2-R2"}
    assert findings(run(piece(*START, *scrap_off(5), seams=[seam]))) == []


def test_meant_findings_are_notes() -> None:
    lost = piece(*START, {"do": "cut"}, {"do": "knit", "rows": 1})
    assert [finding["severity"] for finding in findings(run(lost))] == ["error"]
    lost["segments"][0]["meant"] = ["unsecured-stitches"]
    assert [finding["severity"] for finding in findings(run(lost))] == ["note"]


@pytest.mark.parametrize(
    "words",
    [
        {"do": "thread", "yarn": "contrast"},
        {"do": "resume", "yarn": "scrap"},
        {"do": "place", "needles": "L5", "position": "work"},
        {"do": "cast_on", "needles": "L3-L2"},
        {"do": "wrap", "needle": "R2"},
        {"do": "transfer", "from": "L3", "to": "L2"},
        {"do": "transfer", "from": "L2", "to": "L3"},
        {"do": "transfer", "from": "L2", "to": "L2"},
        {"do": "bind_off", "needles": "L3-L2"},
        {"do": "hang", "needles": "L3", "edge": {"open": "L2"}},
        {"do": "hang", "needles": "L4-L3", "edge": {"made_in_pass": 1, "needles": "L2"}},
        {"do": "hang", "needles": "L3", "edge": {"made_in_pass": 2, "needles": "L3"}},
        {"do": "knit", "rows": 0},
    ],
    ids=str,
)
def test_refused_by_the_bed(words: Action) -> None:
    with pytest.raises(Refused) as refusal:
        run(piece(*START, words))
    assert refusal.value.action == len(START)


@pytest.mark.parametrize("words", [{"do": "cut"}, {"do": "park"}, {"do": "cast_on", "needles": "L1"}])
def test_refused_without_yarn(words: Action) -> None:
    with pytest.raises(Refused):
        run(piece(words))
