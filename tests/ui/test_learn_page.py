"""Foretelling, the free bench, learners, and the page in the window."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position
from bedview.lessons.foretell import Asks
from bedview.plan.piece import Piece
from bedview.session.open_piece import OpenPiece
from bedview.store.learners import Learners
from bedview.store.piece_file import read_piece
from bedview.ui.desk import Desk
from bedview.ui.learn.bench_view import BenchView
from bedview.ui.learn.foretell_view import ForetellView
from bedview.ui.learn.told import Tone
from bedview.ui.learn.when import when_again
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.learn_page import LearnPage
from bedview.ui.pages.names import LEARN, REHEARSE
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import remembered, small_piece
from tests.ui.learning import Clock, bench_view, choose, do_by_keys, learn_page, lesson_view, press

L6, L1, R1, R6 = 4, 9, 10, 15
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path, clock: Clock) -> LearnPage:
    return learn_page(qtbot, tmp_path, clock)


def foretold(page: LearnPage) -> ForetellView:
    page.foretell()
    assert isinstance(page.view, ForetellView)
    return page.view


# -- foretelling -----------------------------------------------------------------------------------------

# The first row worth asking about is the fifth of the lesson on hold cams: R1 to R6 are held, the carriage
# stands on the left, so L6 to L1 knit, nothing is wrapped, and a gap will stand between L1 and R1.


def test_what_knits_is_foretold_by_keys_and_then_seen(page: LearnPage) -> None:
    view = foretold(page)
    assert view.question.text() == "The carriage goes to the right. Which needles will knit?"
    assert view.source.text().startswith("From “The hold cams”, row 5.")
    assert view.bed.scene.passes == 4
    press(Qt.Key.Key_Left)
    for _ in range(6):
        press(Qt.Key.Key_Space)
        press(Qt.Key.Key_Left)
    assert view.chosen == frozenset(range(L6, L1 + 1))
    press(Qt.Key.Key_Return)
    assert view.card.told.tone is Tone.REACHED
    assert view.bed.scene.passes == 5, "the row is made before one's eyes"


def test_what_was_missed_and_what_was_wrong_is_named_with_the_reason(page: LearnPage) -> None:
    view = foretold(page)
    view.bed.stretch_chosen.emit(L6 + 1, R1)
    press(Qt.Key.Key_Return)
    told = view.card.text.text()
    assert view.card.told.tone is Tone.MISSED
    assert "You missed L6." in told
    assert "You should not have chosen R1." in told
    assert "L6 is in work, so it knits." in told
    assert view.bed.scene.touched() == (L6, R1)


def test_a_gap_is_tapped_between_two_needles(page: LearnPage) -> None:
    view = foretold(page)
    while view.run.question is not None and view.run.question.asks is not Asks.GAP:
        press(Qt.Key.Key_Return, 2)
    layout = view.bed.bed_layout()
    for needle, side in ((L1, 0.3), (R1, -0.3)):
        place = QPoint(round(layout.x_of(needle) + side * layout.cell), round(layout.gate))
        QTest.mouseClick(view.bed, Qt.MouseButton.LeftButton, pos=place)
        assert view.chosen == (frozenset({L1}) if needle == L1 else frozenset()), (
            "either side is the same gap"
        )
    press(Qt.Key.Key_Right)
    view._toggle(L1)
    assert view.bed.scene.touched() == (L1, R1)
    press(Qt.Key.Key_Return)
    assert view.card.told.tone is Tone.REACHED


def test_none_is_an_answer(page: LearnPage) -> None:
    view = foretold(page)
    press(Qt.Key.Key_Return, 2)
    assert view.run.question is not None
    assert view.run.question.asks is Asks.WRAPPED
    view._toggle(R6)
    press("0")
    assert view.chosen == frozenset()
    press(Qt.Key.Key_Return)
    assert view.card.told.tone is Tone.REACHED


def test_misses_come_back_later_and_are_told_of(page: LearnPage, clock: Clock) -> None:
    page.choose_learner("Ada")
    view = foretold(page)
    asked = view.question.text()
    press(Qt.Key.Key_Return)
    assert "This question comes back in a minute." in view.card.text.text()
    press(Qt.Key.Key_Return)
    assert view.question.text() != asked
    press(Qt.Key.Key_Escape)
    assert "due again" not in page.overview.foretell_words.text()
    clock.now += timedelta(minutes=2)
    page.refresh()
    assert "One question is due again." in page.overview.foretell_words.text()
    assert page.overview.tiles[2].seen.state == "1 question due again"
    assert foretold(page).question.text() == asked


def test_when_nothing_is_due_return_leads_back(page: LearnPage) -> None:
    page._desk._put_down(OpenPiece(small_piece(), None))
    page.overview.foretell_piece.click()
    view = page.view
    assert isinstance(view, ForetellView)
    while view.run.question is not None:
        view._chosen = set(view.run.question.answer)
        press(Qt.Key.Key_Return)
        assert view.card.told.tone is Tone.REACHED
        press(Qt.Key.Key_Return)
    assert view.question.text() == "That was all for now."
    assert view.source.text() == "The next question comes back in 10 minutes."
    press(Qt.Key.Key_Return)
    assert page.view is None


def test_rows_of_the_open_piece_are_foretold(page: LearnPage) -> None:
    assert not page.overview.foretell_piece.isVisible()
    page._desk._put_down(OpenPiece(small_piece(), None))
    assert page.overview.foretell_piece.plain_text() == "Foretell “Mooring sample”"
    page.overview.foretell_piece.click()
    view = page.view
    assert isinstance(view, ForetellView)
    # R4 is held before row 3, on the carriage's side.
    assert view.source.text().startswith("From “Mooring sample”, row 3.")
    answers: dict[Asks, frozenset[int]] = {}
    while view.run.question is not None and len(answers) < 3:
        answers[view.run.question.asks] = view.run.question.answer
        press(Qt.Key.Key_Return, 2)
    assert answers[Asks.KNIT] == frozenset(range(6, 13))
    assert answers[Asks.WRAPPED] == frozenset({13})


@pytest.mark.parametrize(
    ("wait", "said"),
    [
        (timedelta(), "now"),
        (timedelta(seconds=50), "in a minute"),
        (timedelta(minutes=10), "in 10 minutes"),
        (timedelta(hours=3), "in 3 hours"),
        (timedelta(days=1), "tomorrow"),
        (timedelta(days=5, hours=2), "in 5 days"),
    ],
)
@pytest.mark.usefixtures("qapp")
def test_when_something_comes_back_is_said_as_one_says_it(wait: timedelta, said: str) -> None:
    assert when_again(Clock().now + wait, Clock().now) == said


# -- the free bench --------------------------------------------------------------------------------------


def cast_on_and_knit(view: BenchView, rows: int) -> None:
    for item in (
        {"do": "thread", "yarn": "main"},
        {"do": "cast_on", "needles": "L6-R6"},
        {"do": "knit", "rows": rows},
    ):
        do_by_keys(view, item)


def test_the_bench_takes_everything_and_undoes_it(page: LearnPage) -> None:
    view = bench_view(page)
    cast_on_and_knit(view, 3)
    choose("R6")
    actions = [action.text() for action in view.bench.tools.more.menu().actions()]
    view.bench.tools.more.menu().actions()[1].trigger()
    assert view.bench.card.text.text() == "What R6 bore lies on R5 now.", actions
    press("u")
    assert view.hands.bench.timeline.passes == 2
    for _ in range(7):
        QTest.keyClick(view.bench.bed, Qt.Key.Key_Z, CTRL)
    assert view.hands.bench.timeline.lines == 0
    assert not view.rehearse.isVisible(), "there is nothing to rehearse"


def test_what_went_wrong_is_said_at_once_on_the_bench(page: LearnPage) -> None:
    view = bench_view(page)
    cast_on_and_knit(view, 2)
    press("x")
    press("k")
    assert view.bench.card.told.tone is Tone.MISSED
    assert "Off fell the loops of L6 to R6." in view.bench.card.text.text()
    assert view.bench.bed.scene.touched() == view.bench.card.told.needles


def test_any_action_can_be_typed(page: LearnPage) -> None:
    view = bench_view(page)
    cast_on_and_knit(view, 2)
    view.line.setFocus()
    press("tension 6.5")
    press(Qt.Key.Key_Return)
    assert view.hands.bench.state.dial == 6.5
    assert view.line.text() == ""
    press("dance")
    press(Qt.Key.Key_Return)
    assert view.bench.card.told.tone is Tone.REFUSED
    assert view.line.text() == "dance", "what cannot be read can be put right"


def test_another_bed_is_laid_out_and_the_old_one_comes_back(page: LearnPage) -> None:
    view = bench_view(page)
    cast_on_and_knit(view, 2)
    said: list[tuple[str, str, object]] = []
    page.said.connect(lambda *args: said.append(args))
    view.other.click()
    view.form.needles.setText("31")
    view.form.begin.click()
    view = page.view  # type: ignore[assignment]
    assert view.hands.bench.timeline.bed.needles == 30
    ((_, action, todo),) = said
    assert action == "Put the old one back"
    assert callable(todo)
    todo()
    assert isinstance(page.view, BenchView)
    assert page.view.hands.bench.timeline.passes == 2
    page.view.form.needles.setText("1000")
    page.view.form.begin.click()
    assert page.view.bench.card.told.tone is Tone.REFUSED
    assert page.view.hands.bench.timeline.passes == 2


def test_the_bench_is_found_as_it_was_left_by_another_start(
    qtbot: QtBot, page: LearnPage, tmp_path: Path
) -> None:
    view = bench_view(page)
    cast_on_and_knit(view, 2)
    page.close()
    again = bench_view(learn_page(qtbot, tmp_path))
    assert again.hands.bench.timeline.passes == 2
    for _ in range(4):
        again.hands.undo()
    assert again.hands.bench.timeline.lines == 0


def test_a_wrap_is_explained_also_when_the_row_that_made_it_is_long_past(page: LearnPage) -> None:
    view = bench_view(page)
    cast_on_and_knit(view, 2)
    for item in (
        {"do": "hold_cams"},
        {"do": "place", "needles": "R6", "position": "hold"},
        {"do": "knit", "rows": 2},
    ):
        do_by_keys(view, item)
    choose("R6")
    press("?")
    assert view.bench.card.text.text() == (
        "Row 3: R6 is in hold where the yarn comes from, so the row wraps it. "
        "Row 4: R6 is in hold on the far side: the yarn turns before it and does not wrap it."
    )


def test_a_gap_is_explained_beside_either_needle(page: LearnPage) -> None:
    view = bench_view(page)
    cast_on_and_knit(view, 2)
    for item in (
        {"do": "hold_cams", "on": True},
        {"do": "place", "needles": "L6", "position": "hold"},
        {"do": "knit", "rows": 2},
        {"do": "place", "needles": "L6", "position": "upper"},
        {"do": "knit", "rows": 2},
    ):
        do_by_keys(view, item)
    for needle in ("L6", "L5"):
        choose(needle)
        press("?")
        assert view.bench.card.text.text().endswith(
            "A gap shows between L6 and L5: "
            "L6 went to hold on the far side before row 3, and nothing was wrapped."
        )


# -- learners --------------------------------------------------------------------------------------------


def done_first(page: LearnPage) -> list[bool]:
    """Of the first two lessons, whether they are done."""
    return [tile.seen.done for tile in page.overview.tiles[:2]]


def test_progress_belongs_to_a_name_and_can_be_wiped(page: LearnPage, tmp_path: Path) -> None:
    learners = Learners(tmp_path / "learners")
    page.overview._ask_name()
    press("Ada")
    press(Qt.Key.Key_Return)
    assert page.learner == "Ada"
    view = lesson_view(page, "four-positions")
    for item in view.lesson.solutions[0].actions:
        do_by_keys(view, dict(item))
    press("c")
    page.show_overview()
    assert done_first(page) == [True, False]
    assert page.overview.tiles[1].seen.next
    page.choose_learner("Ben")
    assert done_first(page) == [False, False]
    page.choose_learner("Ada")
    said: list[tuple[str, str, object]] = []
    page.said.connect(lambda *args: said.append(args))
    page.wipe_learner("Ada")
    assert learners.names() == ["Ben"]
    assert page._remembered.learner == ""
    ((text, action, todo),) = said
    assert (text, action) == ("Ada and all progress are forgotten.", "Undo")
    assert callable(todo)
    todo()
    assert page.learner == "Ada"
    assert done_first(page) == [True, False]


def test_nobodys_progress_is_kept_nowhere(page: LearnPage, tmp_path: Path) -> None:
    lesson_view(page, "four-positions")
    press("c")
    assert not (tmp_path / "learners").exists()


def test_a_learners_file_that_cannot_be_read_is_told_of(page: LearnPage, tmp_path: Path) -> None:
    page.choose_learner("Ada")
    (path,) = (tmp_path / "learners").iterdir()
    path.write_text("{", encoding="utf-8")
    said: list[str] = []
    page.said.connect(lambda text, *_: said.append(text))
    page.refresh()
    assert any("The progress of Ada cannot be read" in text for text in said)
    view = lesson_view(page, "four-positions")
    press("c")
    assert view.bench.card.told.tone is Tone.MISSED, "the lesson goes on without it"


# -- in the window ---------------------------------------------------------------------------------------


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    theme, kept = Theme(LookChoice.LIGHT), remembered(tmp_path)
    desk = Desk(kept)
    made = MainWindow(theme, desk, kept, journal=tmp_path / "journal")
    theme.setParent(made)
    desk.setParent(made)
    qtbot.addWidget(made)
    made.resize(1280, 720)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()


def learn_in(qtbot: QtBot, window: MainWindow) -> LearnPage:
    window.header.pills[LEARN].click()
    page = window.page
    assert isinstance(page, LearnPage)
    qtbot.waitUntil(lambda: page.ready)
    return page


def test_learn_needs_no_piece_and_leads_back_to_the_pieces(qtbot: QtBot, window: MainWindow) -> None:
    window.desk.close_piece()
    assert window.page_name == ""
    learn_in(qtbot, window)
    assert window.page_name == LEARN
    window.header.pills[""].click()
    assert window.page_name == ""


def test_a_lesson_outlives_the_pieces_opened_beside_it(qtbot: QtBot, window: MainWindow) -> None:
    window.desk.close_piece()
    page = learn_in(qtbot, window)
    view = lesson_view(page, "hold-cams")
    press("k")
    window.desk.open_new(small_piece())
    assert window.page_name == REHEARSE
    QTest.keyClick(window, Qt.Key.Key_5, CTRL)
    assert window.page is page
    assert view.hands.bench.timeline.passes == 5
    QTest.keyClick(view.bench.bed, Qt.Key.Key_Z, CTRL)
    assert view.hands.bench.timeline.passes == 4


def test_what_was_made_on_the_bench_is_rehearsed_as_a_piece(qtbot: QtBot, window: MainWindow) -> None:
    window.desk.close_piece()
    view = bench_view(learn_in(qtbot, window))
    cast_on_and_knit(view, 4)
    view.rehearse.click()
    assert window.page_name == REHEARSE
    opened = window.desk.opened
    assert opened is not None
    assert opened.procedure.timeline.passes == 4
    assert window.rehearsal is not None
    assert window.rehearsal.steps[0].carriage == "Knit to the left"


def test_what_was_made_on_the_bench_is_saved(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.desk.close_piece()
    view = bench_view(learn_in(qtbot, window))
    cast_on_and_knit(view, 4)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "quay"), ""))
    view.save.click()
    saved: Piece = read_piece(tmp_path / "quay.piece.json")
    assert saved.title == "From the free bench"
    assert window.said.text.text() == "Saved as quay.piece.json."


def test_the_page_is_found_again_at_the_next_start(qtbot: QtBot, tmp_path: Path) -> None:
    kept = remembered(tmp_path)
    kept.page = LEARN
    theme, desk = Theme(LookChoice.LIGHT), Desk(kept)
    window = MainWindow(theme, desk, kept, journal=tmp_path / "journal")
    theme.setParent(window)
    desk.setParent(window)
    qtbot.addWidget(window)
    window.show()
    desk.close_piece()
    assert window.page_name == LEARN
    page = window.page
    assert isinstance(page, LearnPage)
    qtbot.waitUntil(lambda: page.ready)
    window.close()


def test_turned_round_hands_do_the_same(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    page.turn_round()
    bed = view.bench.bed
    layout = bed.bed_layout()
    assert layout.turned
    assert bed.needle_at(QPointF(layout.x_of(L6), layout.height - layout.gate)) == L6
    place = QPoint(round(layout.x_of(L6)), round(layout.height - layout.gate - 2))
    QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=place)
    assert bed.scene.positions[L6] == Position.UPPER
    QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=bed.carriage_rect().center().toPoint())
    assert bed.scene.passes == 5
