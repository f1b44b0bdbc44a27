"""What was missed comes back soon, what was known much later; and nothing is asked twice before."""

import json
from datetime import UTC, datetime, timedelta

import pytest

from bedview.lessons.deck import Deck, prompts_of, timeline_of
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
