"""Questions for a class: their answers against the trace, and pages that do not give them away."""

import re
from collections.abc import Sequence

import numpy as np
import pytest

from bedview.bed.needles import Position, parse_needles
from bedview.export.class_questions import Asks, ClassQuestion, class_questions
from bedview.export.paper.documents import SheetPart, sheet_pages
from bedview.export.paper.pages import PAPERS
from bedview.export.paper.reach_grid import MOST_NEEDLES, ReachGrid, window
from bedview.export.sheet import SheetOptions, sheet_bytes
from bedview.export.trace import trace_lines
from bedview.picture.marks import Dots, Text, cautious_width
from bedview.plan.words import Words
from tests.export.pdf import read_pdf
from tests.export.pieces import CAST_ON, Compiled, demo, little_heel, small

WORDS = Words(20, ())
DEMOS = ["harbour-heel", "harbour-bootee", "allotment-vest-shoulders", "mountain-hut-hat"]


def asked(compiled: Compiled, asks: Asks) -> list[ClassQuestion]:
    return [question for question in class_questions(compiled[1]) if question.asks is asks]


def needles_in(text: str, bed: int) -> list[int]:
    """Needles that a sentence names: "L10 to R4 and R7"."""
    listed = ",".join(re.findall(r"[LR]\d+(?: to [LR]\d+)?", text)).replace(" to ", "-")
    return list(parse_needles(listed, bed)) if listed else []


def of_trace(names: Sequence[str], bed: int) -> list[int]:
    return [parse_needles(name, bed)[0] for name in names]


@pytest.mark.parametrize("name", DEMOS)
def test_answers_are_what_the_trace_says(name: str) -> None:
    compiled = piece, procedure = demo(name)
    trace = list(trace_lines(procedure.timeline))
    bed = piece.bed.needles
    questions = class_questions(procedure)
    assert len({question.row for question in questions}) == len(questions) >= 4
    for question in questions:
        told = next(line for line in trace if line["pass"] == question.row and line["do"] == "knit")
        last = trace[procedure.steps[question.step].last_line]
        match question.asks:
            case Asks.WRAPPED | Asks.DROPPED:
                assert needles_in(question.answer, bed) == of_trace(told[question.asks], bed)
            case Asks.KNITTING:
                assert needles_in(question.answer, bed) == of_trace(told["knit"], bed)
                assert question.answer.split()[0] == str(len(told["knit"]))
            case Asks.REACH:
                held = [place for place, letter in enumerate(last["positions"]) if letter == "h"]
                full = [place for place in held if last["loops"][place]]
                assert needles_in(question.answer, bed) == full
                assert "".join("owuh"[each] for each in question.after.position) == last["positions"]
            case Asks.STANDS:
                assert f"On the {last['carriage']};" in question.answer
                assert question.answer.endswith(f" {last['row']}")
    assert asked(compiled, Asks.KNITTING)


def test_the_questions_of_a_little_heel() -> None:
    # Three plain rows, six to narrow from ten needles to four, six back, 25 plain ones.
    compiled = little_heel()
    first, last = asked(compiled, Asks.WRAPPED)
    assert (first.row, first.before) == (
        4,
        ("Set the hold cams to on.", "Bring L5 to hold.", "Knit to the right."),
    )
    assert first.answer == "L5"
    assert last.row <= 9
    ends, rest = asked(compiled, Asks.STANDS)
    assert (ends.row, ends.before[0]) == (3, "The carriage stands on the right.")
    assert ends.answer == "On the left; the counter shows 3"
    assert rest.row == 40


def test_a_piece_in_which_nothing_is_held_has_rows_to_count() -> None:
    plain = small(CAST_ON, {"kind": "plain", "rows": 4})
    assert [question.asks for question in class_questions(plain[1])] == [Asks.STANDS]
    assert class_questions(small()[1]) == []


def test_a_picture_does_not_tell_what_the_row_will_do() -> None:
    piece, procedure = little_heel()
    pages = sheet_pages(piece, procedure, PAPERS["a4"], cautious_width, {SheetPart.CLASS})
    pictures = [placed.picture for page in pages for placed in page.pictures]
    assert len(pictures) == len([q for q in class_questions(procedure) if q.asks is not Asks.STANDS])
    assert all(not picture.layer("coming") for picture in pictures)
    assert any(picture.layer("touches") for picture in pictures)


def test_the_grid_is_empty_for_the_class_and_has_a_dot_for_each_needle_in_the_answers() -> None:
    piece, procedure = little_heel()
    found = asked((piece, procedure), Asks.REACH)
    for part, grids in ((SheetPart.CLASS, 0), (SheetPart.ANSWERS, len(found))):
        pages = sheet_pages(piece, procedure, PAPERS["a4"], cautious_width, {part})
        dots = [mark for page in pages for mark in page.marks if isinstance(mark, Dots)]
        assert len(dots) == grids
        for mark, question in zip(dots, found, strict=False):
            # Needles further out stand lower: as many heights as positions among L5 to R5.
            levels = np.unique(mark.centres[:, 1], return_inverse=True)[1]
            positions = np.unique(question.after.position[5:15], return_inverse=True)[1]
            assert levels.tolist() == positions.tolist()


def test_a_needle_that_reaches_further_is_marked_further_down() -> None:
    grid = ReachGrid(20, 5, 14, 1840.0, cautious_width, WORDS)
    levels = [grid.y_of(position) for position in Position]
    assert levels == sorted(levels)
    assert len(set(levels)) == len(levels)


def test_long_names_of_positions_have_room() -> None:
    wide = ReachGrid(20, 5, 14, 1840.0, lambda text, size, bold: 3 * cautious_width(text, size, bold), WORDS)
    usual = ReachGrid(20, 5, 14, 1840.0, cautious_width, WORDS)
    for grid in (usual, wide):
        labels = [mark for mark in grid.empty() if isinstance(mark, Text) and mark.anchor == "end"]
        assert len(labels) == len(Position)
        assert all(mark.x - grid.measure(mark.text, mark.size, False) >= 0 for mark in labels)
        assert grid.x_of(14) < grid.room
    assert wide.left > usual.left


@pytest.mark.parametrize(
    ("touched", "used", "shown"),
    [
        ([3], (0, 39), (0, 39)),
        ([100], (0, 199), (100 - MOST_NEEDLES // 2, 100 + MOST_NEEDLES // 2 - 1)),
        ([1], (0, 199), (0, MOST_NEEDLES - 1)),
        ([199], (0, 199), (200 - MOST_NEEDLES, 199)),
        ([], (0, 199), (100 - 1 - MOST_NEEDLES // 2, 100 - 2 + MOST_NEEDLES // 2)),
    ],
)
def test_of_too_many_needles_those_about_the_hands_are_shown(
    touched: list[int], used: tuple[int, int], shown: tuple[int, int]
) -> None:
    assert window(np.array(touched, np.intp), used) == shown


@pytest.mark.usefixtures("qapp")
def test_answers_stand_on_pages_of_their_own() -> None:
    compiled = demo("harbour-bootee")
    options = SheetOptions(parts=frozenset({SheetPart.CLASS, SheetPart.ANSWERS}))
    with read_pdf(sheet_bytes(*compiled, ".pdf", options)) as pdf:
        texts = ["".join(pdf.text(page).split()) for page in range(pdf.pages)]
    first_answer = next(number for number, text in enumerate(texts) if "Answers:Harbourbootee" in text)
    assert "Fortheclass:Harbourbootee" in texts[0]
    assert first_answer > 0
    for question in class_questions(compiled[1]):
        says, answer = "".join(question.says.split()), "".join(question.answer.split())
        assert any(says in text for text in texts[:first_answer])
        if question.asks in (Asks.KNITTING, Asks.STANDS):
            assert not any(answer in text for text in texts[:first_answer])
        assert any(f"{answer}." in text for text in texts[first_answer:])


def test_every_text_of_the_class_is_inside_the_page() -> None:
    piece, procedure = demo("mountain-hut-hat")
    for page in sheet_pages(piece, procedure, PAPERS["letter"], cautious_width, {SheetPart.CLASS}):
        for mark in page.marks:
            if isinstance(mark, Text) and mark.anchor == "start":
                assert mark.x + cautious_width(mark.text, mark.size, mark.bold) <= page.paper.width_mm * 10
