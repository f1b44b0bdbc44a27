"""The usual wrong way through each lesson fails, and the feedback names the needle and the reason."""

import json
from typing import NamedTuple

import pytest

from bedview.bed.needles import needle_name, parse_needles
from bedview.lessons.grading import try_lesson
from bedview.lessons.lesson_file import lesson_names, parse_lesson_actions, read_lesson
from tests.lessons.writing import (
    CAMS_OFF,
    CAMS_ON,
    CUT,
    Item,
    cast_on,
    hold,
    knit,
    place,
    thread,
    wrap,
)


class WrongWay(NamedTuple):
    """What hands do wrong, the needles it must name, and words it must say."""

    lesson: str
    actions: list[Item]
    needles: str
    says: tuple[str, ...]


def far_side_rows(*needles: str) -> list[Item]:
    """One needle to hold on the far side before each row, none wrapped."""
    return [CAMS_ON, *(item for needle in needles for item in (hold(needle), knit()))]


def heel_down() -> list[Item]:
    """From twelve needles to six, each held on the carriage's side."""
    return [
        CAMS_ON,
        *(item for name in ("R6", "L6", "R5", "L5", "R4", "L4") for item in (hold(name), knit())),
    ]


def heel_back() -> list[Item]:
    """To twelve again, the innermost on the far side before each row, none wrapped by hand."""
    names = ("L4", "R4", "L5", "R5", "L6", "R6")
    return [item for name in names for item in (place(name, "upper"), knit())]


WRONG_WAYS = [
    WrongWay(
        "four-positions",
        [place("L8-L1", "work"), hold("R1-R4")],
        "L4-L1",
        ("Upper working", "L4 to L1 stand in working position"),
    ),
    WrongWay("first-rows", [thread(), place("L6-R6", "work"), knit(6)], "L6-R6", ("only laid across",)),
    WrongWay("first-rows", [place("L6-R6", "work"), knit(6)], "", ("wool", "feeder is empty")),
    WrongWay("first-rows", [thread(), cast_on("L6-R6"), knit(5)], "L6-R6", ("L6 has 5 rows",)),
    WrongWay("hold-cams", [hold("R1-R6"), knit(2)], "R1-R6", ("hold cams are off",)),
    WrongWay(
        "carriage-side",
        far_side_rows("L6", "R6", "L5", "R5"),
        "L6-L5,R5-R6",
        ("L6 went to hold on the far side before row 5",),
    ),
    WrongWay(
        "far-side",
        [CAMS_ON, hold("L6"), knit(), wrap("L6"), knit(), place("L6", "upper"), knit(2)],
        "L6-L5",
        ("no gap", "wrap laid on L6 by hand after row 5"),
    ),
    WrongWay(
        "hand-wraps",
        [CAMS_ON, hold("L6"), knit(2), place("L6", "upper"), knit(2)],
        "L6-L5",
        ("L6 went to hold on the far side before row 5, and nothing was wrapped",),
    ),
    WrongWay(
        "several-at-a-time",
        [CAMS_ON, *(item for four in ("R9-R12", "R5-R8", "R1-R4") for item in (hold(four), knit(2)))],
        "R1,R5,R9",
        ("No wrap lies on R1, R5 and R9", "R1 went to hold on the far side before row 10"),
    ),
    WrongWay(
        "several-at-a-time",
        [CAMS_ON, knit(), hold("R9-R12"), knit()],
        "R9-R12",
        ("yarn lies across R9 to R12",),
    ),
    WrongWay(
        "hand-wraps",
        [CAMS_ON, hold("L6"), wrap("L6"), knit(2), place("L6", "upper"), knit(2)],
        "L6,R6",
        ("Wrap a needle while the carriage stands beside it. The yarn runs loose between L6 and R6",),
    ),
    WrongWay(
        "hold-cams",
        [CAMS_ON, knit(2)],
        "R1-R6",
        ("should have waited, but they knitted: R1 to R6", "R1 has 6 rows, and 4 are enough"),
    ),
    WrongWay(
        "carriage-side",
        [CAMS_ON, hold("L6,R6"), knit()],
        "L6,R6",
        ("2 needles went or came at once between row 4 and row 5",),
    ),
    WrongWay(
        "carriage-side",
        [
            CAMS_ON,
            *(item for name in ("L6", "R6", "L5", "R5") for item in (hold(name), wrap(name), knit())),
        ],
        "L6,R6",
        ("Wrap a needle while the carriage stands beside it. The yarn runs loose between L6 and R6",),
    ),
    WrongWay("heel", heel_down() + heel_back(), "L5-L4", ("A hole shows between L5 and L4", "L5 waited")),
    WrongWay("heel", heel_down(), "L6-L4,R4-R6", ("Not yet: L6 to L4 and R4 to R6",)),
    WrongWay("heel", [*heel_down(), place("L6-R6", "upper"), knit()], "L6-L4,R4-R6", ("6 needles",)),
    WrongWay("back-into-work", [place("R5-R8", "work"), knit(2)], "R5-R8", ("latch closes on R5 to R8",)),
    WrongWay(
        "both-ends",
        [CAMS_ON, *(item for k in (8, 7, 6, 5) for item in (hold(f"L{k},R{k}"), knit()))],
        "L8,L6,R5,R7",
        ("L8 went to hold on the far side before row 5",),
    ),
    WrongWay("flaps", [CAMS_ON, hold("L12-L7,R7-R12"), knit(8)], "R7-R12", ("lies across R7 to R12",)),
    WrongWay("scrap-off", [CUT, knit()], "L3-R3", ("too soon", "nothing to hold them")),
    WrongWay("scrap-off", [CUT, thread("waste"), knit(2), CUT, knit()], "L3-R3", ("rows of waste",)),
    WrongWay(
        "scrap-off",
        [CUT, CAMS_OFF, thread("waste"), knit(6), CUT, knit()],
        "L8-L4",
        ("waste of its own", "Row 17 dropped it together with L3 to R3"),
    ),
    WrongWay("cams-forgotten", [CAMS_ON, hold("R4-R6"), knit()], "R4-R6", ("R4 has 5 rows",)),
    WrongWay("dropped-group", [thread(), place("L6-R3", "upper"), knit(2)], "R4-R6", ("across R4 to R6",)),
    WrongWay(
        "flat-bootee", [thread(), cast_on("L9-R9"), knit(6), hold("R9"), knit()], "R9", ("hold cams are off",)
    ),
]


IDS = [f"{way.lesson}: {way.says[0]}" for way in WRONG_WAYS]


@pytest.mark.parametrize("way", WRONG_WAYS, ids=IDS)
def test_usual_wrong_way_is_told_with_needle_and_reason(way: WrongWay) -> None:
    lesson = read_lesson(way.lesson)
    bed = lesson.bed.needles
    verdict = try_lesson(lesson, parse_lesson_actions(json.dumps(way.actions).encode(), bed))
    expected = [needle_name(needle, bed) for needle in parse_needles(way.needles, bed, empty=True)]
    assert not verdict["reached"]
    assert verdict["needles"] == expected, verdict["says"]
    for words in way.says:
        assert words in verdict["says"]


def test_every_lesson_has_a_wrong_way() -> None:
    assert {way.lesson for way in WRONG_WAYS} == set(lesson_names())
