import json
from typing import Any

import pytest

from bedview.bed.fabric import is_wrap
from bedview.export.briefing import brief
from bedview.export.stepping.page import json_for_page
from bedview.export.stepping.page_data import digest_of, letters, page_data
from bedview.export.stepping.wales import DEPTH
from bedview.export.trace import trace_lines
from tests.export.pieces import Compiled, demo, little_heel, many_wedges, random_one, small
from tests.export.told import cells_of, setting_of, wales_of

PIECES = ["harbour-bootee", "mountain-hut-hat", *range(12)]


def data_of(compiled: Compiled) -> dict[str, Any]:
    piece, procedure = compiled
    return page_data(piece, procedure, brief(piece, procedure)).told


def piece_of(name: str | int) -> Compiled:
    return demo(name) if isinstance(name, str) else random_one(name)


@pytest.mark.parametrize("name", PIECES)
def test_every_state_is_that_of_the_trace(name: str | int) -> None:
    piece, procedure = compiled = piece_of(name)
    told = data_of(compiled)
    trace = list(trace_lines(procedure.timeline))
    lines = [step.first_line - 1 for step in procedure.steps] + [len(trace) - 1]
    assert len(told["steps"]) == len(lines)
    for number, line in enumerate(lines):
        bed = piece.bed.needles
        start = {
            "positions": "o" * bed,
            "loops": [0] * bed,
            "carriage": piece.bed.carriage,
            "hold_cams": False,
        }
        expected = trace[line] if line >= 0 else {**start, "tension": None, "yarn": None}
        cells = cells_of(told, number)
        out = told["first"], bed - 1 - told["last"]
        assert "o" * out[0] + "".join(cell[0] for cell in cells) + "o" * out[1] == expected["positions"]
        heights = [0] * out[0] + [cell[1] + cell[2] for cell in cells] + [0] * out[1]
        assert heights == expected["loops"]
        dial, cams, feeder, side = setting_of(told, number)
        yarn = piece.yarns[feeder].id if feeder >= 0 else None
        assert (dial, cams, yarn, side) == tuple(
            expected[key] for key in ("tension", "hold_cams", "yarn", "carriage")
        )


@pytest.mark.parametrize("name", PIECES)
def test_wales_hang_as_the_fabric_says(name: str | int) -> None:
    _, procedure = compiled = piece_of(name)
    told = data_of(compiled)
    timeline = procedure.timeline
    fabric = timeline.fabric
    made = [timeline.state_at(step.first_line - 1).next_loop for step in procedure.steps]
    lines = [step.first_line - 1 for step in procedure.steps] + [timeline.lines - 1]
    for line, wales in zip(lines, wales_of(told, DEPTH), strict=True):
        state = timeline.state_at(line)
        for needle, wale in enumerate(wales, told["first"]):
            expected: list[int] = []
            node = int(state.top[needle])
            while node >= 0 and len(expected) < DEPTH:
                loop = next((loop for loop in fabric.stack(node) if not is_wrap(fabric.kind[loop])), None)
                if loop is None:
                    break
                expected.append(max(step for step, count in enumerate(made) if count <= loop))
                node = int(fabric.under[loop])
            assert wale == expected


def test_states_take_forty_bytes_a_step_at_most() -> None:
    told = data_of(many_wedges(10))
    assert len(told["steps"]) > 2000
    written = json.dumps(
        {"states": told["states"], "bed": [step[0] for step in told["steps"]]}, separators=(",", ":")
    )
    assert len(written) <= 40 * len(told["steps"])


def test_a_sentence_is_kept_once() -> None:
    told = data_of(little_heel())
    assert len(set(told["texts"])) == len(told["texts"])
    assert told["texts"].count("Knit to the left") == 1


def test_rows_of_a_reset_counter_are_counted_from_there() -> None:
    counter = {"kind": "actions", "actions": [{"do": "counter", "value": 100}]}
    cast_on = {"kind": "cast_on", "needles": "L2-R2", "yarn": "main"}
    rows = {"kind": "plain", "rows": 2}
    told = data_of(small(cast_on, rows, counter, rows))
    # Steps: cast on, two rows, the counter (two passes made then), two rows.
    assert told["counters"] == [[0, 0], [4, 98]]


@pytest.mark.parametrize(("number", "text"), [(0, "a"), (25, "z"), (26, "ba"), (27, "bb"), (26 * 26, "baa")])
def test_numbers_become_letters(number: int, text: str) -> None:
    assert letters(number) == text


def test_nothing_in_json_ends_the_script_it_stands_in() -> None:
    said = {"title": "</script><!-- & \u2028"}
    text = json_for_page(said)
    assert not set("<>&\u2028") & set(text)
    assert json.loads(text) == said


def test_the_digest_follows_what_the_piece_says() -> None:
    piece, _ = little_heel()
    assert digest_of(piece) == digest_of(little_heel()[0])
    assert digest_of(piece) != digest_of(piece.revised(title="Another"))
