"""A lesson in another language: its texts are replaced, everything else stays."""

import json

from bedview.lessons.lesson_file import parse_lesson
from tests.lessons.broken_lessons import SOUND

GERMAN = {"Two rows": "Zwei Reihen", "Look at {needles}.": "Sieh dir {needles} an."}
LESSON = parse_lesson(json.dumps(SOUND | {"texts": {"de": GERMAN}}).encode())


def test_texts_are_replaced_where_there_is_a_translation() -> None:
    german = LESSON.translated("de")
    assert german.title == "Zwei Reihen"
    assert german.goals[0].says == "Sieh dir {needles} an."
    assert german.task == LESSON.task
    assert german.solutions == LESSON.solutions


def test_a_country_falls_back_on_its_language() -> None:
    assert LESSON.translated("de_AT").title == "Zwei Reihen"


def test_a_language_without_texts_stays_english() -> None:
    assert LESSON.translated("fr") is LESSON
