import json
from typing import Any

import jsonschema
import pytest
from pydantic import TypeAdapter, ValidationError

from bedview.bed import actions as bed
from bedview.bed.needles import Bed, NeedleError, Position, Side
from bedview.plan.actions_file import ActionItem, to_action
from bedview.plan.actions_written import to_item
from bedview.plan.edges_file import to_edge_item
from bedview.plan.piece import Piece

KITE: dict[str, Any] = {
    "format": 1,
    "bed": {"needles": 8, "pitch_mm": 4.5, "carriage": "left"},
    "yarns": [{"id": "main", "role": "fabric"}, {"id": "cord", "role": "ravel"}],
    "segments": [{"kind": "actions", "actions": [{"do": "cast_on", "needles": "L2-R2"}]}],
}
# On a bed of 8 the needles from L4 to R4 are numbered from 0 to 7.
BOTH_WAYS = [
    ({"do": "thread", "yarn": "main"}, bed.Thread("main")),
    ({"do": "cut", "tail_cm": 40}, bed.Cut(40)),
    ({"do": "cut"}, bed.Cut()),
    ({"do": "park"}, bed.Park()),
    ({"do": "resume", "yarn": "main"}, bed.Resume("main")),
    ({"do": "note", "text": "hang a weight", "needles": "L4,R4"}, bed.Note("hang a weight", (0, 7))),
    ({"do": "note", "text": ""}, bed.Note("")),
    ({"do": "hold_cams", "on": True}, bed.HoldCams(on=True)),
    ({"do": "tension", "dial": 6.5}, bed.Tension(6.5)),
    ({"do": "counter", "value": 0}, bed.SetCounter(0)),
    ({"do": "place", "needles": "L2-R1", "position": "hold"}, bed.Place((2, 3, 4), Position.HOLD)),
    ({"do": "place", "needles": "R1", "position": "out"}, bed.Place((4,), Position.OUT)),
    ({"do": "place", "needles": "R1", "position": "work"}, bed.Place((4,), Position.WORK)),
    ({"do": "place", "needles": "R1", "position": "upper"}, bed.Place((4,), Position.UPPER)),
    ({"do": "cast_on", "needles": "L4-R4"}, bed.CastOn(tuple(range(8)))),
    ({"do": "wrap", "needle": "R4"}, bed.Wrap(7)),
    ({"do": "transfer", "from": "L4", "to": "L3"}, bed.Transfer(0, 1)),
    ({"do": "bind_off", "needles": "L1-R1"}, bed.BindOff((3, 4))),
    ({"do": "free_move"}, bed.FreeMove()),
    ({"do": "knit", "rows": 4}, bed.Knit(4)),
    ({"do": "knit", "rows": 4, "from": "right"}, bed.Knit(4, Side.RIGHT)),
    (
        {"do": "hang", "needles": "L1", "edge": {"open": "R4", "pass": 3}, "turned": True},
        bed.Hang((3,), bed.OpenEdge((7,), 3), turned=True),
    ),
    ({"do": "hang", "needles": "L1", "edge": {"open": "R4"}}, bed.Hang((3,), bed.OpenEdge((7,)))),
    (
        {"do": "hang", "needles": "L1", "edge": {"made_in_pass": 0, "needles": "R4", "by": "bind_off"}},
        bed.Hang((3,), bed.MadeEdge(0, (7,), bed.Maker.BIND_OFF)),
    ),
    (
        {"do": "hang", "needles": "L1", "edge": {"made_in_pass": 2, "needles": "R4"}},
        bed.Hang((3,), bed.MadeEdge(2, (7,))),
    ),
    (
        {"do": "hang", "needles": "L1", "edge": {"side": "left", "passes": [2, 9]}},
        bed.Hang((3,), bed.SideEdge(Side.LEFT, 2, 9)),
    ),
]


@pytest.mark.parametrize(("item", "action"), BOTH_WAYS)
def test_an_action_of_a_file_and_of_the_bed(item: dict[str, Any], action: bed.Action) -> None:
    read = TypeAdapter[Any](ActionItem).validate_python(item)

    assert read == item
    assert to_action(read, 8) == action
    assert to_item(action, 8) == item


def test_every_action_of_the_bed_is_in_the_list() -> None:
    said = {type(action) for _, action in BOTH_WAYS}

    assert said == set(bed.Action.__args__)


def test_a_list_is_held_against_the_bed_when_the_action_is_done() -> None:
    item = TypeAdapter[Any](ActionItem).validate_python({"do": "wrap", "needle": "R5"})

    with pytest.raises(NeedleError, match="R5 is beyond the bed, which ends at R4"):
        to_action(item, 8)


def test_a_made_edge_of_everything_cannot_be_written() -> None:
    with pytest.raises(ValueError, match="names its needles"):
        to_edge_item(bed.MadeEdge(3), 8)


def test_bed_and_yarns_for_the_simulator() -> None:
    piece = Piece.read(KITE)

    assert piece.to_bed() == Bed(8, 4.5, Side.LEFT)
    assert piece.yarn_roles() == (("main", bed.YarnRole.FABRIC), ("cord", bed.YarnRole.RAVEL))


def test_what_may_be_left_out() -> None:
    piece = Piece.read({"format": 1, "bed": {"needles": 2, "pitch_mm": 20}, "segments": []})

    assert piece.to_bed() == Bed(2, 20, Side.RIGHT)
    assert (piece.title, piece.yarns, piece.gauges, piece.seams) == ("", (), (), ())


def test_only_what_was_said_is_said_again() -> None:
    assert json.loads(json.dumps(Piece.read(KITE).to_document())) == KITE


def test_an_edit_is_a_new_piece_checked_in_full() -> None:
    piece = Piece.read(KITE)

    edited = piece.revised(title="Kite tail")

    assert (piece.title, edited.title) == ("", "Kite tail")
    assert edited.segments == piece.segments
    with pytest.raises(ValidationError):
        piece.revised(title="x" * 2001)
    with pytest.raises(ValidationError, match="beyond the bed"):
        piece.revised(bed=piece.bed.model_copy(update={"needles": 2}))


def test_a_piece_cannot_be_changed() -> None:
    piece = Piece.read(KITE)

    with pytest.raises(ValidationError, match="frozen"):
        piece.title = "other"


def test_the_schema_agrees_on_good_and_bad() -> None:
    schema = Piece.model_json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    judge = jsonschema.Draft202012Validator(schema)

    assert judge.is_valid(KITE)
    assert not judge.is_valid(KITE | {"format": 2})
    assert not judge.is_valid(KITE | {"colour": "red"})
    for bad in ({"do": "knit", "rows": 0}, {"do": "wrap", "needle": "L2-L1"}, {"do": "tension", "dial": 21}):
        assert not judge.is_valid(KITE | {"segments": [{"kind": "actions", "actions": [bad]}]})
    for good, _ in BOTH_WAYS:
        assert judge.is_valid(KITE | {"segments": [{"kind": "actions", "actions": [good]}]})
