"""The handout of a lesson, read back from the PDF by a reader that did not write it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import numpy as np
import pytest

from bedview.export.handout.lesson_sheet import lesson_pages
from bedview.export.handout.questions import MOST_ROWS, answer_words, rows_asked
from bedview.export.handout.tick_boxes import TickBoxes
from bedview.export.paper.bed_on_paper import bed_on_paper
from bedview.export.paper.pages import PAPERS
from bedview.export.printing import paper_measure, pdf_of
from bedview.lessons.foretell import Asks
from bedview.lessons.grading import started
from bedview.lessons.lesson_file import lesson_names, read_lesson
from bedview.picture.bed_scene import YarnSeen
from bedview.picture.marks import Box, Shape
from tests.export.pdf import Pdf, read_pdf

pytestmark = pytest.mark.usefixtures("qapp")

NAMES = list(lesson_names())
YARNS = (YarnSeen("wool", "#2f6690"),)


@contextmanager
def handout(name: str, paper: str = "a4") -> Iterator[Pdf]:
    lesson = read_lesson(name)
    with read_pdf(pdf_of(lesson_pages(lesson, PAPERS[paper], paper_measure()), lesson.title)) as pdf:
        yield pdf


def squeezed(text: str) -> str:
    """Letters and digits alone: a reader of PDF guesses blanks, and takes a raised colon for a picture."""
    return "".join(each for each in text if each.isalnum())


def words_of(pdf: Pdf, page: int) -> str:
    return squeezed(pdf.text(page))


def answers_begin(pdf: Pdf, title: str) -> int:
    return next(page for page in range(pdf.pages) if squeezed(f"Answers: {title}") in words_of(pdf, page))


@pytest.mark.parametrize("name", NAMES)
def test_the_first_page_has_all_that_the_learner_needs_and_no_answer(name: str) -> None:
    lesson = read_lesson(name)
    with handout(name) as pdf:
        first = words_of(pdf, 0)
        for text in (lesson.title, *lesson.says, lesson.task, "Name:", "Day:", "Your task"):
            assert squeezed(text) in first
        begin = answers_begin(pdf, lesson.title)
        given_out = " ".join(words_of(pdf, page) for page in range(begin))
        assert squeezed(lesson.hint) not in given_out
        assert squeezed(lesson.done) not in given_out
        assert "Answers" not in given_out
        kept = " ".join(words_of(pdf, page) for page in range(begin, pdf.pages))
        assert squeezed(lesson.hint) in kept
        assert squeezed(lesson.done) in kept


def test_the_answers_tell_the_steps_of_the_way() -> None:
    with handout("carriage-side") as pdf:
        begin = answers_begin(pdf, "Holding on the carriage’s side")
        told = " ".join(words_of(pdf, page) for page in range(begin, pdf.pages))
    # Four needles, the carriage's side by turns, from the right.
    places = [told.index(squeezed(f"Bring {needle} to hold")) for needle in ("R6", "L6", "R5", "L5")]
    assert places == sorted(places)


def test_rows_taken_back_are_told_before_the_way() -> None:
    with handout("cams-forgotten") as pdf:
        told = words_of(pdf, pdf.pages - 1)
    assert told.index(squeezed("Take the last row back, loop by loop.")) < told.index(
        squeezed("Bring R4 to R6 to hold")
    )


def test_dangers_to_hands_stand_on_the_first_page() -> None:
    with handout("scrap-off") as pdf:
        assert squeezed("What drops falls with its weights") in words_of(pdf, 0)
    with handout("carriage-side") as pdf:
        assert squeezed("Mind your fingers") not in words_of(pdf, 0), "nobody touches a hook there"


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_it_fits_both_papers_and_the_margins_stay_white(paper: str, size: tuple[float, float]) -> None:
    with handout("flat-bootee", paper) as pdf:
        for page in range(pdf.pages):
            assert pdf.size_mm(page) == pytest.approx(size, abs=0.2)
            grey = pdf.grey(page, 2.0)
            edge = round(2.0 * 8)
            for strip in (grey[:edge], grey[-edge:], grey[:, :edge], grey[:, -edge:]):
                assert strip.min() == 255
            assert grey.min() < 100, "no page is empty"


def test_nothing_foretold_nothing_asked() -> None:
    with handout("first-rows") as pdf:
        assert all("Foretell" not in words_of(pdf, page) for page in range(pdf.pages))


# -- questions --------------------------------------------------------------------------------------------


def test_a_few_rows_are_asked_about_the_first_and_the_last_among_them() -> None:
    asked = rows_asked(read_lesson("carriage-side"))
    assert [each.row for each in asked] == [5, 8]
    assert len(asked) <= MOST_ROWS
    assert [question.asks for question in asked[0].questions] == [Asks.KNIT, Asks.WRAPPED, Asks.GAP]


def test_answers_name_the_needles_and_the_reason() -> None:
    lesson = read_lesson("carriage-side")
    knit, wrapped, gap = rows_asked(lesson)[0].questions
    assert answer_words(knit, lesson.words()).startswith("Row 5 knits L6 to R5.")
    assert answer_words(wrapped, lesson.words()).startswith("Row 5 wraps R6. R6 is in hold")
    why = "R6 is in hold where the yarn comes from, so the row wraps it."
    assert answer_words(gap, lesson.words()) == f"No gap shows. {why}"


def test_boxes_stand_under_their_needles_and_gaps_between_them() -> None:
    timeline = started(read_lesson("carriage-side"))
    bed = bed_on_paper(timeline, timeline.lines - 1, YARNS, 1840.0, paper_measure())
    figure = TickBoxes(bed)
    assert figure.bearing == tuple(range(4, 16)), "L6 to R6 of twenty"
    assert figure.fit
    boxes = [mark for mark in figure.marks(Asks.KNIT) if isinstance(mark, Box)]
    centres = [box.x + box.width / 2 for box in boxes]
    needles = [bed.layout.x_of(needle) * bed.placed.scale for needle in figure.bearing]
    assert centres == pytest.approx(needles)
    gaps = [mark.x + mark.width / 2 for mark in figure.marks(Asks.GAP) if isinstance(mark, Box)]
    assert gaps == pytest.approx(((np.array(needles)[1:] + np.array(needles)[:-1]) / 2).tolist())
    ticked = [mark for mark in figure.marks(Asks.KNIT, {5, 7}) if isinstance(mark, Shape)]
    assert len(ticked) == 2


def test_needles_too_narrow_for_boxes_get_a_line() -> None:
    lesson = read_lesson("carriage-side")
    wide = lesson.model_copy(update={"bed": lesson.bed.model_copy(update={"needles": 400})})
    timeline = wide.new_timeline()
    assert not TickBoxes(bed_on_paper(timeline, -1, YARNS, 1840.0, paper_measure())).fit
