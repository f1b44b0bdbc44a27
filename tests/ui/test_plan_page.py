from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.plain import PlainSegment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.session.new_parts import blank_piece
from bedview.session.open_piece import OpenPiece
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.kinds_panel import OFFERED
from tests.ui.desktop import HOLD_R4, opened
from tests.ui.planning import bag, drag, line_of, middle_of_card, shown, titles, write

NONE = Qt.KeyboardModifier.NoModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def piece() -> OpenPiece:
    return bag()


@pytest.fixture
def page(qtbot: QtBot, piece: OpenPiece) -> Iterator[PlanPage]:
    made = shown(qtbot, piece)
    yield made
    made.close()


@pytest.fixture
def heel() -> OpenPiece:
    """Its widening leaves small gaps that only lie there."""
    return OpenPiece(read_piece(demo_paths()["harbour-heel"]))


# -- looking ----------------------------------------------------------------------------------------------


def test_the_chosen_part_is_named_with_its_rows_and_what_comes_of_it(page: PlanPage) -> None:
    page.choose(2)
    assert page.part.title.text() == "Dart"
    assert page.part.where.text() == "Short rows · rows 5 to 28"
    assert page.chart.scene.chosen == 2
    assert page.totals.counts.text() == "20 needles, 34 rows, 5 parts"
    # One needle is held before the first row, all are back in the last; 20 stitches, 30 rows to 10 cm.
    assert page.part.result.text() == "19 to 20 needles, 24 rows, 10.0 cm wide, 8.0 cm long"


def test_a_press_on_a_card_or_on_rows_chooses_the_part(page: PlanPage) -> None:
    layout = page.chart.places()
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=middle_of_card(page, 2))
    assert page.chosen == 2
    rows = QPoint(round(layout.x_of(31)), round(layout.top_of(1) + layout.row / 2))
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=rows)
    assert page.chosen == 1


def test_arrows_choose_parts_upwards_as_the_piece_grows(page: PlanPage) -> None:
    page.choose(0)
    keys = Qt.Key.Key_Up, Qt.Key.Key_End, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Home
    for key, expected in zip(keys, (1, 4, 4, 3, 0), strict=True):
        QTest.keyClick(page.chart, key)
        assert page.chosen == expected
    page.choose(1)
    assert page.chart.accessibleDescription() == "Below, rows 1 to 4"


def test_a_part_is_rehearsed_from_its_first_step(qtbot: QtBot) -> None:
    page = shown(qtbot, opened())
    page.choose(1)
    with qtbot.waitSignal(page.step_wanted) as wanted:
        page.part.rehearse.click()
    assert wanted.args == [HOLD_R4]
    page.close()


def test_yarn_and_fit_are_told_after_the_chart_is_there(qtbot: QtBot, page: PlanPage) -> None:
    qtbot.waitUntil(lambda: bool(page.totals.yarn.text()))
    assert page.totals.yarn.text().endswith(" m")


# -- fields -----------------------------------------------------------------------------------------------


def test_a_typed_number_is_in_the_piece_at_once_and_undone_as_one(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(1)
    write(line_of(page, "rows").entry, "12")
    assert piece.procedure.timeline.passes == 42
    assert page.chart.scene.passes == 42
    assert line_of(page, "rows").entry.hasFocus(), "the keyboard stays where one types"
    piece.undo()
    assert piece.procedure.timeline.passes == 34
    assert piece.undo_words == ""
    entry = line_of(page, "rows").entry
    assert isinstance(entry, TextEntry)
    assert entry.text() == "4"


def test_a_length_becomes_rows_and_both_figures_are_shown(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(1)
    write(line_of(page, "rows").entry, "14 cm")
    part = piece.piece.segments[1]
    assert isinstance(part, PlainSegment)
    assert (part.length_cm, part.rows) == (14, None)
    # 14 cm at 30 rows to 10 cm are 42 rows.
    assert line_of(page, "rows").comes.text() == "14.0 cm = 42 rows; 42 rows are 14.0 cm"
    write(line_of(page, "rows").entry, "31")
    part = piece.piece.segments[1]
    assert isinstance(part, PlainSegment)
    assert (part.length_cm, part.rows) == (None, 31)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("0", "from 1 to 9999"),
        ("many", "Write a number of rows, or a length"),
        ("20000", "from 1 to 9999"),
        ("3 m 1 m", "names one twice"),
    ],
)
def test_a_wrong_value_is_said_beside_the_field(
    page: PlanPage, piece: OpenPiece, text: str, said: str
) -> None:
    page.choose(1)
    line = line_of(page, "rows")
    write(line.entry, text)
    assert line.wrong.isVisible()
    assert said in line.wrong.text()
    part = piece.piece.segments[1]
    assert isinstance(part, PlainSegment)
    assert part.rows != 0
    assert piece.trouble is None
    write(line.entry, "4")
    assert not line.wrong.isVisible()


def test_what_cannot_be_knitted_stays_written_with_the_reason(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(2)
    line = line_of(page, "down_to")
    write(line.entry, "30")
    assert line.wrong.text() == "Only 20 needles work here; you asked to go down to 30."
    assert isinstance(line.entry, TextEntry)
    assert line.entry.text() == "30"
    assert [part.reached for part in page.chart.scene.parts] == [True, True, False, False, False]
    assert page.chart.scene.passes == 4
    page.choose(4)
    assert page.part.title.text() == "Close"
    assert page.findings.trouble_says.text().startswith("It cannot be knitted from Dart on: only 20 needles")
    page.findings.trouble.click()
    assert page.chosen == 2
    piece.undo()
    assert page.chart.scene.passes == 34


def test_a_choice_shows_the_fields_that_belong_to_it(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(2)
    assert {"back.wraps", "back.needles_a_step"} <= {line.spec.key for line in page.part.lines}
    back = line_of(page, "back").entry
    assert isinstance(back, ChoiceEntry)
    back.setCurrentIndex(0)
    back.activated.emit(0)
    part = piece.piece.segments[2]
    assert isinstance(part, ShortRowsSegment)
    assert part.back is None
    assert "back.wraps" not in {line.spec.key for line in page.part.lines}


def test_needles_may_be_written_as_people_do(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(0)
    write(line_of(page, "needles").entry, "l12 to r12")
    part = piece.piece.segments[0]
    assert isinstance(part, CastOnSegment)
    assert part.needles == "L12-R12"


def test_a_title_is_typed_where_it_stands(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(1)
    write(page.part.title, "Mouth")
    assert titles(piece)[1] == "Mouth"
    assert page.chart.scene.parts[1].title == "Mouth"


def test_reminders_come_at_their_row_and_go(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(1)
    page.part.reminders.add.click()
    row, text, away = page.part.reminders.rows[0]
    write(row, "2")
    write(text, "move the weights up")
    part = piece.piece.segments[1]
    assert [(each.row, each.text) for each in part.reminders] == [(2, "move the weights up")]
    write(row, "9")
    assert piece.trouble is not None, "the part makes only 4 rows"
    piece.undo()
    away.click()
    assert piece.piece.segments[1].reminders == ()


def test_single_actions_are_lines_of_text(qtbot: QtBot) -> None:
    small = opened()
    page = shown(qtbot, small)
    page.choose(1)
    text = page.part.actions_entry.text
    assert text.toPlainText() == "R4 to hold\nknit 1\nL4 to hold\nknit 1"
    text.setFocus()
    text.setPlainText("R4 to hold\nknit 3")
    assert small.procedure.timeline.passes == 7
    text.setPlainText("R4 to hold\ndance")
    assert page.part.actions_entry.wrong.text().startswith("Line 2: 'dance' is no action")
    assert small.procedure.timeline.passes == 7
    page.close()


# -- parts ------------------------------------------------------------------------------------------------


def test_parts_are_moved_copied_repeated_and_taken_out_by_keys(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(1)
    page.chart.setFocus()
    QTest.keyClick(page.chart, Qt.Key.Key_Up, ALT)
    assert titles(piece) == ["Start", "Dart", "Below", "Above", "Close"]
    assert page.chosen == 2
    QTest.keyClick(page.chart, Qt.Key.Key_D, CONTROL)
    assert titles(piece) == ["Start", "Dart", "Below", "Below", "Above", "Close"]
    assert page.chosen == 3
    QTest.keyClick(page.chart, Qt.Key.Key_Delete)
    assert titles(piece) == ["Start", "Dart", "Below", "Above", "Close"]
    QTest.keyClick(page.chart, Qt.Key.Key_Down, SHIFT)
    assert page.editor.count == 2
    QTest.keyClick(page.chart, Qt.Key.Key_R, CONTROL)
    assert titles(piece) == ["Start", "Dart", "Repeat", "Close"]
    repeat = piece.piece.segments[2]
    assert isinstance(repeat, RepeatSegment)
    assert [part.title for part in repeat.segments] == ["Below", "Above"]
    for _ in range(4):
        piece.undo()
    assert titles(piece) == ["Start", "Below", "Dart", "Above", "Close"]


def test_a_part_is_dragged_to_another_place(page: PlanPage, piece: OpenPiece) -> None:
    layout = page.chart.places()
    above_dart = QPointF(60, layout.cards[2][0])
    drag(page.chart, QPointF(middle_of_card(page, 1)), above_dart)
    assert titles(piece) == ["Start", "Dart", "Below", "Above", "Close"]
    assert page.chosen == 2
    piece.undo()
    drag(page.chart, QPointF(middle_of_card(page, 1)), above_dart, CONTROL)
    assert titles(piece) == ["Start", "Below", "Dart", "Below", "Above", "Close"]


def test_a_part_is_put_in_between_two_others(page: PlanPage, piece: OpenPiece) -> None:
    layout = page.chart.places()
    between = QPoint(40, round((layout.cards[1][0] + layout.cards[2][1]) / 2))
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=between)
    assert page.kinds.isVisible()
    assert page.kinds.where.text() == "It follows Below."
    page.kinds.buttons["plain"].click()
    assert titles(piece) == ["Start", "Below", "Plain rows", "Dart", "Above", "Close"]
    assert page.chosen == 2
    assert not page.kinds.isVisible()


def test_every_kind_is_offered_with_a_sentence() -> None:
    from bedview.plan.segments import AnySegment

    union = AnySegment.__args__[0]
    assert {segment for _, segment in OFFERED} == set(union.__args__)
    assert all(segment.does.endswith(".") for _, segment in OFFERED)


def test_parts_inside_a_repeat_are_edited_too(qtbot: QtBot) -> None:
    hat = OpenPiece(read_piece(demo_paths()["mountain-hut-hat"]))
    page = shown(qtbot, hat)
    page.choose(3)
    page.editor.choose((3, 0))
    assert page.part.above.isVisible()
    assert page.chart.scene.chosen == 3
    passes = hat.procedure.timeline.passes
    page.part.copy.click()
    assert hat.procedure.timeline.passes > passes
    page.part.above.click()
    assert page.editor.place == (3,)
    page.close()


# -- edges ------------------------------------------------------------------------------------------------


def test_the_edge_of_a_dart_is_dragged(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(2)
    left, right = page.chart._edges
    assert (left.edge, right.edge) == ("left", "right")
    layout = page.chart.places()
    start = page.chart.place_of_edge(right)
    drag(page.chart, start, start + QPointF(2 * layout.cell, 0))
    dart = piece.piece.segments[2]
    assert isinstance(dart, ShortRowsSegment)
    assert dart.down_to == 12, "two needles further out at each end"
    assert piece.procedure.timeline.passes == 4 + 2 * (20 - 12) + 6
    piece.undo()
    assert piece.undo_words == "", "a drag is one step"


def test_the_top_of_plain_rows_is_dragged(page: PlanPage, piece: OpenPiece) -> None:
    page.choose(3)
    (top,) = page.chart._edges
    start = page.chart.place_of_edge(top)
    drag(page.chart, start, start - QPointF(0, 5 * page.chart.places().row))
    part = piece.piece.segments[3]
    assert isinstance(part, PlainSegment)
    assert part.rows == 11


# -- findings ---------------------------------------------------------------------------------------------


def test_a_finding_lies_beside_its_part_and_leads_to_the_bed(qtbot: QtBot, heel: OpenPiece) -> None:
    page = shown(qtbot, heel)
    gaps = next(each for each in heel.folded if each.rule == "opening")
    assert page.chosen == gaps.stretch, "the part with something to watch is chosen first"
    (card,) = page.finding_cards
    assert card.title.text() == gaps.title
    with qtbot.waitSignal(page.step_wanted) as wanted:
        card.show_it.click()
    assert wanted.args == [heel.step_of_finding(gaps.first)]
    page.choose(0)
    assert page.finding_cards == []
    assert page.findings.elsewhere.text() == "One more thing to watch, elsewhere"
    page.findings.elsewhere.click()
    assert page.chosen == gaps.stretch
    page.close()


def test_a_finding_offers_its_repair_as_one_step(qtbot: QtBot, heel: OpenPiece) -> None:
    page = shown(qtbot, heel)
    (card,) = page.finding_cards
    assert card.mends[0].text() == "Wrap by hand"
    card.mends[0].click()
    assert heel.findings == []
    assert page.finding_cards == []
    assert page.findings.nothing.isVisible()
    heel.undo()
    assert len(page.finding_cards) == 1
    page.close()


def test_a_press_on_a_sign_chooses_the_part_it_lies_in(qtbot: QtBot, heel: OpenPiece) -> None:
    page = shown(qtbot, heel)
    page.choose(0)
    gaps = heel.folded[0]
    finding = gaps.first
    layout = page.chart.places()
    needle = sum(finding.needles) / len(finding.needles)
    sign = QPoint(round(layout.x_of(needle)), round(layout.top_of(finding.pass_number) + layout.row / 2))
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=sign)
    assert page.chosen == gaps.stretch
    page.close()


# -- from nothing, by keyboard alone ----------------------------------------------------------------------


def test_a_piece_is_planned_from_nothing_by_keys_alone(qtbot: QtBot) -> None:
    piece = OpenPiece(blank_piece())
    page = shown(qtbot, piece)

    def press(*keys: Qt.Key | str) -> None:
        for key in keys:
            focus = QApplication.focusWidget()
            assert focus is not None
            if isinstance(key, str):
                QTest.keyClicks(focus, key)
            else:
                QTest.keyClick(focus, key)

    enter, down, insert, escape = Qt.Key.Key_Return, Qt.Key.Key_Down, Qt.Key.Key_Insert, Qt.Key.Key_Escape
    assert page.kinds.isVisible(), "an empty piece asks at once what comes first"
    press(enter)
    press("L15-R15", escape, insert, enter)
    press("20", escape, insert, down, enter)
    press("12", escape, insert, enter)
    press("8", escape, insert)
    page.kinds.buttons["bind_off"].setFocus()
    press(enter, escape)
    assert [part.says for part in piece.piece.segments] == [
        "Cast on",
        "Plain rows",
        "Short rows",
        "Plain rows",
        "Bind off",
    ]
    assert piece.trouble is None
    # 20 rows, 30 to 12 needles and back in 18 rows each, 8 rows.
    assert piece.procedure.timeline.passes == 20 + 2 * 18 + 8
    page.close()
