from dataclasses import replace

import numpy as np
import pytest

from bedview.bed.needles import Position, Side
from bedview.picture.bed_scene import Touch, TouchKind, View, empty_scene
from bedview.picture.words import bed_in_words, needle_in_words, needles_in_words, yarns_in_words
from tests.picture.examples import YARNS, standing


def test_the_whole_bed() -> None:
    scene = replace(
        standing("oowwwwhhoo", loops="0011111100", wraps="0000001100"),
        carriage=Side.RIGHT,
        row=37,
        hold_cams=True,
        feeder=0,
    )
    assert bed_in_words(scene) == (
        "L3 to R1 working, R2 to R3 hold, wraps on R2 to R3, carriage on the right, hold cams on, "
        "sea blue in the feeder, row 37"
    )


def test_an_empty_bed() -> None:
    assert bed_in_words(empty_scene(10, Side.LEFT)) == (
        "all needles out of work, carriage on the left, hold cams off, no yarn in the feeder, row 0"
    )


def test_single_needles_and_gaps() -> None:
    assert needles_in_words([0, 1, 2, 5], 8) == "L4 to L2, R2"
    assert needles_in_words([], 8) == "no needles"
    assert "L4 working, L2 upper working, L1 to R1 working" in bed_in_words(standing("wouwwooo"))


def test_what_is_missing_or_too_much_is_said() -> None:
    scene = standing("owwwuhoo", loops="01021010")
    assert bed_in_words(scene) == (
        "L3 to L1 working, R1 upper working, R2 hold, no loop on L2, R2, a loop on R3 all the same, "
        "several loops on L1, carriage on the right, hold cams off, no yarn in the feeder, row 0"
    )


def test_yarn_dial_and_where_the_yarn_leaves_are_said() -> None:
    said = bed_in_words(replace(standing("wwww", loops="1111"), feeder=0, tip=3, dial=6.5))
    assert said.endswith("sea blue in the feeder, the yarn leaves from R2, dial at 6.5, row 0")


def test_of_several_yarns_each_is_named_with_its_needles() -> None:
    scene = standing("wwww", loops="1121")
    scene = replace(scene, loop_yarn=np.array([0, 0, 1, 1], np.int32))
    assert f"loops of sea blue on L2 to L1, loops of {YARNS[1].name} on R1 to R2" in bed_in_words(scene)
    assert needle_in_words(scene, 0) == "L2, working, one loop of sea blue"
    assert needle_in_words(scene, 2) == f"R1, working, 2 loops of {YARNS[1].name}"


def test_the_yarn_of_a_needle_can_always_be_asked_for() -> None:
    scene = standing("wwoh", loops="1001", wraps="0002")
    assert yarns_in_words(scene, 0) == "one loop of sea blue"
    assert yarns_in_words(scene, 3) == "one loop of sea blue, 2 wraps of sea blue"
    assert yarns_in_words(scene, 2) == ""


def test_one_needle() -> None:
    scene = replace(
        standing("wwhh", loops="1112", wraps="0003"),
        tip=3,
        touches=(Touch(TouchKind.PLACE, (1,), to=Position.HOLD),),
    )
    assert needle_in_words(scene, 0) == "L2, working, one loop"
    assert needle_in_words(scene, 1) == "L1, working, one loop, to be touched now"
    assert needle_in_words(scene, 3) == "R2, hold, 2 loops, 3 wraps, the yarn leaves from here"
    assert needle_in_words(standing("oo"), 0) == "L1, out of work, no loop"


def test_positions_are_called_as_the_machine_calls_them() -> None:
    view = View(labels=("park", "work", "upper", "front"))
    scene = replace(standing("oowhhhoo", loops="00111100"), view=view)
    assert bed_in_words(scene).startswith("L2 working, L1 to R2 front,")
    assert needle_in_words(scene, 0).startswith("L4, park,")
    assert needle_in_words(scene, 3).startswith("L1, front,")


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        (TouchKind.CHOOSE, "chosen"),
        (TouchKind.POINT, "pointed out"),
        (TouchKind.WRAP, "to be touched now"),
    ],
)
def test_what_is_marked_is_told_apart(kind: TouchKind, said: str) -> None:
    scene = replace(standing("owwo", loops="0110"), touches=(Touch(kind, (1,)),))
    assert needle_in_words(scene, 1) == f"L1, working, one loop, {said}"
    assert needle_in_words(scene, 2) == "R1, working, one loop"
