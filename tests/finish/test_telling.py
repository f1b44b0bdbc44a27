import json

from hypothesis import given, settings
from hypothesis import strategies as st

from bedview.finish.telling import finish_json, finish_text
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from tests.finish.pieces import document, graft, toe_and_flaps
from tests.reference.procedures import random_piece
from tests.reference.sound import sound_piece


def test_the_json_names_seams_in_the_order_of_the_hands() -> None:
    plan = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")])
    told = finish_json(plan.piece, plan.procedure)
    assert [(seam["order"], seam["seam"], seam["kind"]) for seam in told["seams"]] == [
        (0, 2, "graft"),
        (1, 1, "graft"),
        (2, 0, "mattress"),
    ]
    assert told["seams"][0]["yarn_cm"] == 19.2
    assert [
        (each["name"], each["loops"], each["in_side_seams"], each["seams"]) for each in told["groups"]
    ] == [
        ("toe", 4, 0, [1, 2]),
        ("one flap", 3, 1, [1]),
        ("other flap", 3, 1, [2]),
    ]
    assert [(tail["needle"], tail["end"], tail["cm"], tail["sews"]) for tail in told["tails"]] == [
        ("L5", "start", None, [0]),
        ("R2", "end", 60, [2, 1]),
    ]
    assert told["does_not_fit"] == []


def test_the_text_tells_groups_misfits_and_steps() -> None:
    plan = toe_and_flaps(3, 4, [graft("L5-L3", "L2-L1"), graft("R3-R4", "R1-R2")])
    text = finish_text(plan.piece, plan.procedure)
    assert "“toe”: 4 loops of L2 to R2, on 8 rows of waste" in text
    assert "3 loops meet 2 loops" in text
    assert "1. Graft “other flap” to “toe”" in text


def test_nothing_is_made_of_nothing() -> None:
    piece = Piece.read(document([]))
    procedure = compile_piece(piece)
    told = finish_json(piece, procedure)
    assert [told[key] for key in ("groups", "seams", "tails", "steps", "does_not_fit")] == [[]] * 5
    assert finish_text(piece, procedure).endswith("Nothing to make up.")


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 100_000), sound=st.booleans())
def test_any_procedure_can_be_told(seed: int, sound: bool) -> None:
    piece = Piece.read({"format": 1, **(sound_piece(seed) if sound else random_piece(seed))})
    procedure = compile_piece(piece)
    told = finish_json(piece, procedure)
    json.dumps(told, allow_nan=False)
    timeline = procedure.timeline
    state, fabric = timeline.state, timeline.fabric
    on_bed = [
        needle
        for needle in range(piece.bed.needles)
        if any(
            not fabric.is_wrap(loop) and not fabric.is_waste(loop)
            for loop in fabric.stack(int(state.top[needle]))
        )
    ]
    assert sum(group["loops"] for group in told["groups"] if group["on"] == "bed") == len(on_bed)
    for group in told["groups"]:
        assert 0 <= group["left_over"] <= group["loops"]
