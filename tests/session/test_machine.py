"""A machine as its owner describes it: its dial, its weights, its words."""

import pytest

from bedview.bed.needles import Position
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.session.machine import Machine
from bedview.session.machine_words import MachineWords, dial_doubt, position_labels
from bedview.session.setting_up import set_up_before
from bedview.session.weights import weight_words
from tests.session.knitting_pieces import CAST_ON, a_piece, acts, plain


def spoken(piece: Piece, machine: Machine) -> Procedure:
    procedure = compile_piece(piece)
    return procedure.spoken(MachineWords(piece.bed.needles, piece.yarns, machine))


@pytest.mark.parametrize("dial", [0, 6, 6.33, 6.67, 6.6667, 20])
def test_thirds_are_on_a_dial_of_thirds(dial: float) -> None:
    assert Machine(dial_steps=3).has_dial(dial)
    assert dial_doubt(Machine(dial_steps=3), dial) == ""


@pytest.mark.parametrize(
    ("steps", "dial", "said"),
    [
        (3, 6.5, "Your dial has no 6.5; it has 6.33 and 6.67"),
        (2, 6.33, "Your dial has no 6.33; it has 6 and 6.5"),
        (1, 0.5, "Your dial has no 0.5; it has 0 and 1"),
        (1, 19.9, "Your dial has no 19.9; it has 19 and 20"),
        (4, 7.1, "Your dial has no 7.1; it has 7 and 7.25"),
    ],
)
def test_a_tension_that_the_dial_lacks_is_said(steps: int, dial: float, said: str) -> None:
    assert dial_doubt(Machine(dial_steps=steps), dial) == said


def test_nothing_is_said_while_nobody_described_the_dial() -> None:
    assert dial_doubt(Machine(), 6.123) == ""


def test_the_dial_turns_from_step_to_step() -> None:
    thirds = Machine(dial_steps=3)
    assert [thirds.turned_dial(6, by) for by in (1, 2, 3, -1)] == [6.33, 6.67, 7, 5.67]
    assert thirds.turned_dial(6.33, 1) == 6.67
    assert (thirds.turned_dial(20, 1), thirds.turned_dial(0, -1)) == (20, 0)
    assert Machine().turned_dial(6, 1) == 7


def test_from_a_dial_that_the_machine_lacks_the_nearest_comes_first() -> None:
    # 6.5 lies between two thirds, 6.8 above the setting 6.67 and below 7.
    thirds = Machine(dial_steps=3)
    assert [thirds.turned_dial(6.5, by) for by in (-2, -1, 1, 2)] == [6, 6.33, 6.67, 7]
    assert [thirds.turned_dial(6.8, by) for by in (-2, -1, 1, 2)] == [6.33, 6.67, 7, 7.33]


def test_setting_up_says_where_the_dial_lies_and_the_weights_hang() -> None:
    piece = a_piece(CAST_ON, acts({"do": "tension", "dial": 6.5}), plain(10))
    for machine, dial, weights in (
        (Machine(dial_steps=3), "6.5, between 6.33 and 6.67 on your dial", "below L5 and R5"),
        # L5 to R5 are 10 needles; L1 is the fifth of them.
        (Machine(dial_steps=2, claws=1), "6.5", "below L1"),
        (Machine(claws=0), "6.5", None),
    ):
        procedure = spoken(piece, machine)
        found = {fact.what: fact.how for fact in set_up_before(procedure, procedure.step_of_pass(6).number)}
        assert (found["Tension dial"], found.get("Claw weights")) == (dial, weights)


def test_reminders_about_weights_follow_how_many_there_are() -> None:
    piece = a_piece(CAST_ON, plain(30))
    said = []
    for claws in (0, 1, 2, 8):
        procedure = spoken(piece, Machine(claws=claws))
        said.append(weight_words(procedure, procedure.step_of_pass(4).number))
    assert said == [
        ("", False),
        ("Hang the claw weight below L1", True),
        ("Hang claw weights below L5 and R5", True),
        ("Hang claw weights below L5 and R5", True),
    ]


def test_positions_are_called_what_the_machine_calls_them() -> None:
    machine = Machine(names=("park", "", "", "front"), has_upper=False)
    words = MachineWords(20, (), machine)
    assert [words.position(each) for each in (Position.OUT, Position.HOLD)] == ["park", "front"]
    assert position_labels(words) == ("park", "work", "latch open", "front")
    piece = a_piece(CAST_ON, acts({"do": "place", "needles": "R5", "position": "out"}))
    hands = [sentence for step in spoken(piece, machine).steps for sentence in step.hands]
    assert "Push R5 back to park" in hands


def test_a_step_says_what_lies_beside_a_dial_that_the_machine_lacks() -> None:
    piece = a_piece(CAST_ON, acts({"do": "tension", "dial": 7.5}), plain(1))
    hands = {
        steps: [
            sentence for step in spoken(piece, Machine(dial_steps=steps)).steps for sentence in step.hands
        ]
        for steps in (2, 3)
    }
    assert "Set the tension dial to 7.5" in hands[2]
    assert "Set the tension dial to 7.5, between 7.33 and 7.67 on your dial" in hands[3]
