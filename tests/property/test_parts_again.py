"""Parts that come again are what they would be if each were worked out, in lists and in repeats."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from random import Random
from typing import Any
from unittest.mock import patch

import pytest

from bedview.bed.actions import Action
from bedview.bed.events import Event
from bedview.bed.timeline import Timeline
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.segments import in_a_row
from bedview.plan.segments.maker import Maker
from tests.property.procedures import known, known_state
from tests.property.test_done_again import Parts, as_far, edited, noting, piece_of, plain, random_part

DART = {"kind": "short_rows", "down_to": 6, "back": {"wraps": "hand"}}


def worked_out(piece: Piece) -> Procedure:
    """The procedure with every part worked out."""
    with patch.object(Maker, "may_do_again", new=False):
        return as_far(piece)


def see_that_it_is_right(procedure: Procedure, piece: Piece) -> None:
    """See that all in it is as if every part were worked out."""
    fresh = worked_out(piece)
    assert known(procedure.timeline) == known(fresh.timeline)
    assert procedure.spans == fresh.spans
    assert procedure.reasons == fresh.reasons
    assert procedure.finished == fresh.finished
    assert [step.hands for step in procedure.steps] == [step.hands for step in fresh.steps]
    for line in range(-1, fresh.timeline.lines, 5):
        state, other = procedure.timeline.state_at(line), fresh.timeline.state_at(line)
        assert known_state(state) == known_state(other)


def with_titles(parts: Parts, dice: Random) -> Parts:
    """The same parts, some of them with titles of their own."""
    titles: tuple[dict[str, str], ...] = ({"title": "Here"}, {"title": "There"}, {}, {}, {})
    return [{**part, **dice.choice(titles)} for part in parts]


def lasting_part(dice: Random) -> dict[str, Any]:
    """A part after which as many needles work as before it."""
    dart = {
        "kind": "short_rows",
        "down_to": dice.randint(5, 9),
        "ends": dice.choice(["in_turn", "both_each_row", "left", "right"]),
        "wraps": dice.choice(["automatic", "hand", "none"]),
        "back": dice.choice([{}, {"wraps": "hand"}, {"all_at_once": True}]),
    }
    reminder = {"row": 1, "text": "look", "needles": "L3"}
    return dice.choice(
        [
            plain(dice.randint(1, 9)),
            plain(dice.randint(1, 9), tension=dice.choice([6, 7])),
            {**plain(dice.randint(1, 9)), "reminders": [reminder]},
            {"kind": "actions", "actions": [{"do": "note", "text": "look"}]},
            dart,
            dart,
            {**dart, "reminders": [reminder]},
        ]
    )


def random_parts(dice: Random) -> Parts:
    """Some parts again and again, now and then another between them."""
    unit = [lasting_part(dice) for _ in range(dice.randint(1, 3))]
    parts: Parts = []
    for _ in range(dice.randint(3, 8)):
        parts += with_titles(unit, dice)
        if dice.random() < 0.1:
            parts.append(random_part(dice))
    if dice.random() < 0.3:
        return [{"kind": "repeat", "times": dice.randint(2, 6), "segments": parts[:4]}, *unit, *unit]
    return parts


@contextmanager
def however_few(actions: int) -> Iterator[None]:
    """Do parts again even if they have few actions."""
    with patch.object(in_a_row, "FEWEST_ACTIONS", actions):
        yield


@pytest.mark.parametrize("fewest", [1, in_a_row.FEWEST_ACTIONS])
@pytest.mark.parametrize("block", range(3))
def test_random_pieces(block: int, fewest: int) -> None:
    with noting() as taken, however_few(fewest):
        for seed in range(block * 10, block * 10 + 10):
            dice = Random(seed)  # noqa: S311 - a test, no secret
            parts = random_parts(dice)
            procedure: Procedure | None = None
            for _ in range(3):
                piece = piece_of(parts)
                procedure = as_far(piece, procedure)
                see_that_it_is_right(procedure, piece)
                parts = edited(parts, dice)
    assert sum(taken) >= 10


def copies(parts: Parts, previous: Procedure | None = None) -> tuple[list[bool], Procedure]:
    """Which attempts to do parts again came off, and what became of it."""
    piece = piece_of(parts)
    with noting() as taken:
        procedure = as_far(piece, previous)
    see_that_it_is_right(procedure, piece)
    return taken, procedure


def test_twenty_darts_take_five_copies() -> None:
    """The first is worked out; then 1, 2, 4, 8 and the other 4 come again."""
    taken, _ = copies([plain(4), DART] * 20)
    assert taken == [True] * 5


def test_rounds_of_a_repeat_come_again() -> None:
    taken, _ = copies([{"kind": "repeat", "times": 20, "segments": [plain(4), DART]}])
    assert taken == [True] * 5


def test_with_the_carriage_on_the_other_side_one_dart_is_worked_out() -> None:
    """After a row more nothing stands as it stood, but the parts behind it are like each other."""
    _, procedure = copies([plain(4), DART] * 9)
    actions: list[int] = []
    append = Timeline.append

    def counted(timeline: Timeline, action: Action) -> Event:
        actions.append(1)
        return append(timeline, action)

    with patch.object(Timeline, "append", counted):
        as_far(piece_of([plain(5), DART, *[plain(4), DART] * 8]), procedure)
    dart = next(span for span in procedure.spans if span.path == (2,))
    # Plain rows are one action; the dart behind the changed rows and one that comes again are worked out.
    assert len(actions) <= 2 + 2 * (dart.stop - dart.start + 2)


def test_a_reminder_in_a_repeat_comes_in_its_row_only() -> None:
    reminder = {"row": 40, "text": "hang a marker"}
    rounds = {"kind": "repeat", "times": 6, "segments": [plain(4), DART], "reminders": [reminder]}
    taken, procedure = copies([rounds])
    assert not taken
    assert sum("marker" in "".join(step.hands) for step in procedure.steps) == 1


def test_a_reminder_in_each_part_comes_with_each() -> None:
    part = {**plain(4), "reminders": [{"row": 2, "text": "hang a marker"}]}
    taken, procedure = copies([part, DART] * 6)
    assert any(taken)
    assert sum("marker" in "".join(step.hands) for step in procedure.steps) == 6


def test_between_drops_the_rest_is_taken_over() -> None:
    """What drops is worked out; the parts between the edit and it are not."""
    scrap = {"kind": "scrap_off", "rows": 6}
    _, procedure = copies([plain(4), DART, plain(30), DART, scrap])
    taken, _ = copies([plain(6), DART, plain(30), DART, scrap], procedure)
    assert taken == [True]


def test_parts_that_do_nothing_are_soon_done() -> None:
    """Like parts without actions are compared a few times each, not each with all before it."""
    nothing = [{"kind": "repeat", "times": 1, "segments": []}] * 400
    looked: list[int] = []
    key = in_a_row.PartsInARow._key

    def counted(row: in_a_row.PartsInARow, number: int) -> int:
        looked.append(number)
        return key(row, number)

    with patch.object(in_a_row.PartsInARow, "_key", counted):
        as_far(piece_of([plain(2), *nothing, *[plain(1)] * 30, *nothing]))
    assert len(looked) < 50 * 2 * len(nothing)
