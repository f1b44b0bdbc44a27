"""What was missed comes back soon, what was known much later; and nothing is asked twice before."""

import json
from datetime import UTC, datetime, timedelta

import pytest

from bedview.bed.actions import CastOn, HoldCams, Knit, Place, Thread, YarnRole
from bedview.bed.needles import Bed, Position
from bedview.bed.timeline import Timeline
from bedview.lessons.deck import Deck, prompts_along, prompts_of, timeline_of
from bedview.lessons.foretell import Asks, worth_asking
from bedview.lessons.lesson_file import lesson_names, read_lesson

NOW = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)
PROMPTS = prompts_of("carriage-side", read_lesson("carriage-side"))


def test_every_short_row_is_asked_about_three_ways() -> None:
    # Four short rows follow the four plain ones of the start.
    assert [prompt.key for prompt in PROMPTS] == [
        f"carriage-side/row {row}/{asks}" for row in (5, 6, 7, 8) for asks in ("knit", "wrapped", "gap")
    ]


def test_a_prompt_finds_its_bed_again() -> None:
    lesson = read_lesson("carriage-side")
    timeline = timeline_of(lesson, PROMPTS[-1])
    assert timeline.passes == 7
    assert PROMPTS[-1].asks in worth_asking(timeline)


def test_new_questions_come_in_their_order() -> None:
    deck = Deck(PROMPTS)
    for prompt in PROMPTS:
        assert deck.next(NOW) == prompt
        deck.answered(prompt, right=True, now=NOW)
    assert deck.next(NOW) is None


def test_a_miss_comes_back_before_what_was_known() -> None:
    deck = Deck(PROMPTS[:2])
    missed, known = PROMPTS[:2]
    deck.answered(missed, right=False, now=NOW)
    deck.answered(known, right=True, now=NOW)
    back, later = deck.due_at(missed), deck.due_at(known)
    assert back is not None
    assert later is not None
    assert NOW < back < later
    assert deck.next(NOW) is None
    assert deck.next(back) == missed


def test_what_is_known_again_and_again_is_spaced_out() -> None:
    deck = Deck(PROMPTS[:1])
    now, waits = NOW, []
    for _ in range(5):
        deck.answered(PROMPTS[0], right=True, now=now)
        due = deck.due_at(PROMPTS[0])
        assert due is not None
        waits.append(due - now)
        now = due
    assert waits == sorted(waits)
    assert waits[-1] > timedelta(days=7)


def test_cards_survive_a_file() -> None:
    deck = Deck(PROMPTS)
    deck.answered(PROMPTS[0], right=False, now=NOW)
    again = Deck(PROMPTS, json.loads(json.dumps(deck.cards)))
    assert again.due_at(PROMPTS[0]) == deck.due_at(PROMPTS[0])


def test_cards_of_questions_that_are_gone_are_passed_over() -> None:
    deck = Deck(PROMPTS)
    deck.answered(PROMPTS[0], right=False, now=NOW)
    assert Deck(PROMPTS[1:], deck.cards).next(NOW + timedelta(days=9)) == PROMPTS[1]


@pytest.mark.parametrize("facts", [{}, {"due": 3}, {"card_id": 1, "state": 9, "due": "soon"}])
def test_a_card_that_cannot_be_read_is_a_new_question(facts: dict[str, object]) -> None:
    deck = Deck(PROMPTS, {PROMPTS[0].key: facts})
    assert deck.next(NOW) == PROMPTS[0]
    assert deck.cards == {}


def test_lessons_ask_about_gaps_that_come_and_gaps_that_do_not() -> None:
    asked = [prompt for name in lesson_names() for prompt in prompts_of(name, read_lesson(name))]
    assert {prompt.asks for prompt in asked} == set(Asks)
    assert len({prompt.key for prompt in asked}) == len(asked)


# -- what is due -----------------------------------------------------------------------------------------


def test_what_is_due_again_is_listed_and_when_the_next_one_is() -> None:
    deck = Deck(PROMPTS)
    assert deck.due(NOW) == []
    assert deck.next_due() is None
    deck.answered(PROMPTS[1], right=False, now=NOW)
    deck.answered(PROMPTS[0], right=True, now=NOW)
    first, later = deck.due_at(PROMPTS[1]), deck.due_at(PROMPTS[0])
    assert first is not None
    assert later is not None
    assert first < later, "what was missed comes back first"
    assert deck.next_due() == first
    assert deck.due(first) == [PROMPTS[1]]
    assert deck.due(later) == [PROMPTS[0], PROMPTS[1]], "in the order to learn them in"


# -- along a piece ---------------------------------------------------------------------------------------


def six_rows() -> Timeline:
    """L4 to R4: two plain rows; R4 held, two rows; L4 held besides, one row; both back, one row."""
    timeline = Timeline(Bed(8), [("main", YarnRole.FABRIC)])
    for action in (
        Thread("main"),
        CastOn(tuple(range(8))),
        HoldCams(on=True),
        Knit(2),
        Place((7,), Position.HOLD),
        Knit(2),
        Place((0,), Position.HOLD),
        Knit(1),
        Place((0, 7), Position.UPPER),
        Knit(1),
    ):
        timeline.append(action)
    return timeline


def test_a_piece_is_asked_about_where_hands_came_before_and_something_is_held() -> None:
    timeline = six_rows()
    prompts = prompts_along("quay", timeline)
    asked = [(prompt.key.split("/")[1], prompt.asks) for prompt in prompts]
    # Not row 1 or 2, where nothing is held, nor row 4, which hands do not change, nor row 6.
    assert asked == [
        (row, asks) for row in ("row 3", "row 5") for asks in (Asks.KNIT, Asks.WRAPPED, Asks.GAP)
    ]
    for prompt in prompts:
        before = timeline.fork(prompt.line)
        assert before.passes == int(prompt.key.split("/")[1].removeprefix("row ")) - 1
        assert before.state.position[7] == Position.HOLD


def test_of_a_long_piece_only_so_much_is_asked() -> None:
    assert len(prompts_along("quay", six_rows(), most=4)) == 4
