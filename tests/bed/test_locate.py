"""Finding one's place: a short row by hand, and every line of random procedures against its trace."""

from __future__ import annotations

import pytest

from bedview.bed.actions import CastOn, HoldCams, Knit, SetCounter, Thread, YarnRole
from bedview.bed.actions import Place as Bring
from bedview.bed.locate import NEAREST, Place, locate
from bedview.bed.needles import Bed, Position, Side, parse_needles
from bedview.bed.timeline import Timeline
from bedview.export.trace import trace_lines
from tests.bed.running import run
from tests.reference.procedures import random_piece
from tests.reference.sound import sound_piece


def short_rows() -> Timeline:
    """Ten needles, two rows, R5 to hold and a row, R4 to hold too and a row, both back and a row."""
    timeline = Timeline(Bed(10, 9.0, Side.RIGHT), [("main", YarnRole.FABRIC)])
    for action in (
        Thread("main"),
        CastOn(tuple(range(10))),
        HoldCams(on=True),
        Knit(2),
        Bring((9,), Position.HOLD),
        Knit(1),
        Bring((8,), Position.HOLD),
        Knit(1),
        Bring((8, 9), Position.UPPER),
        Knit(1),
    ):
        timeline.append(action)
    return timeline


def needles(text: str) -> tuple[int, ...]:
    return parse_needles(text, 10, empty=True)


def test_the_first_line_that_looks_so() -> None:
    timeline = short_rows()
    # Lines: thread, cast on, cams, 3, 4 rows, 5 R5 to hold, 6 row, 7 R4 to hold, 8 row, 9 both back, 10 row.
    assert locate(timeline, needles("R5"), Side.RIGHT).matches == (Place(5, 2, 2),)
    assert locate(timeline, needles("R5"), Side.LEFT).matches == (Place(6, 3, 3),)
    assert locate(timeline, needles("R4-R5"), Side.LEFT).matches == (Place(7, 3, 3),)
    assert locate(timeline, needles("R4-R5"), Side.RIGHT).matches == (Place(8, 4, 4),)


def test_nothing_held_is_a_place_too_once_for_each_pass() -> None:
    found = locate(short_rows(), (), Side.RIGHT)
    assert found.matches == (Place(0, 0, 0), Place(4, 2, 2), Place(9, 4, 4))
    assert found.nearest == ()


def test_a_counter_set_anew_is_another_place_of_the_same_pass() -> None:
    timeline = short_rows()
    timeline.append(SetCounter(0))
    assert locate(timeline, (), Side.LEFT).matches[-2:] == (Place(10, 5, 5), Place(11, 5, 0))


def test_without_a_match_the_nearest() -> None:
    found = locate(short_rows(), needles("R3-R5"), Side.LEFT)
    assert found.matches == ()
    first, second, third, fourth, fifth = found.nearest
    assert (first.place, first.carriage, first.differ) == (Place(7, 3, 3), Side.LEFT, needles("R3"))
    assert (second.place, second.carriage, second.differ) == (Place(8, 4, 4), Side.RIGHT, needles("R3"))
    assert (third.place, third.carriage, third.differ) == (Place(5, 2, 2), Side.RIGHT, needles("R3-R4"))
    assert (fourth.place, fourth.carriage) == (Place(3, 1, 1), Side.LEFT)
    assert (fifth.place, fifth.carriage) == (Place(10, 5, 5), Side.LEFT)


def test_empty_needles_in_hold_do_not_count() -> None:
    timeline = Timeline(Bed(4), [("main", YarnRole.FABRIC)])
    for action in (Thread("main"), CastOn((0, 1)), Bring((3,), Position.HOLD)):
        timeline.append(action)
    assert locate(timeline, (), Side.RIGHT).matches == (Place(0, 0, 0),)
    assert locate(timeline, (3,), Side.RIGHT).matches == ()


@pytest.mark.parametrize("seed", range(30))
def test_against_the_trace(seed: int) -> None:
    """Every combination that occurs is found at each pass and row where it does, and nowhere else."""
    timeline = run(random_piece(seed) if seed % 2 else sound_piece(seed))
    looks: dict[tuple[tuple[int, ...], str], dict[tuple[int, int], int]] = {}
    for line in trace_lines(timeline):
        held = [
            needle
            for needle, (letter, loops) in enumerate(zip(line["positions"], line["loops"], strict=True))
            if letter == "h" and loops
        ]
        first_lines = looks.setdefault((tuple(held), line["carriage"]), {})
        first_lines.setdefault((line["pass"], line["row"]), line["n"])
    for (held_needles, carriage), first_lines in looks.items():
        found = locate(timeline, held_needles, Side(carriage))
        assert {(place.passes, place.row): place.line for place in found.matches} == first_lines
        assert not found.nearest
        unheard_of = tuple({*range(timeline.bed.needles)} - {*held_needles})
        if (unheard_of, carriage) not in looks:
            near = locate(timeline, unheard_of, Side(carriage))
            assert not near.matches
            assert 0 < len(near.nearest) <= NEAREST
            fewest = min(len({*other} ^ {*unheard_of}) for other, _ in looks)
            assert len(near.nearest[0].differ) == fewest
            for each in near.nearest:
                assert (tuple({*each.differ} ^ {*unheard_of}), str(each.carriage)) in looks


def test_thousands_of_like_rows_are_places_each() -> None:
    timeline = short_rows()
    timeline.append(Knit(9999))
    found = locate(timeline, (), Side.RIGHT)
    assert [place.passes for place in found.matches] == [0, 2, *range(4, 5 + 9999 + 1, 2)]
