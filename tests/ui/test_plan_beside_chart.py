"""What stands beside the chart: every kind goes in anywhere, nothing is cut off, nothing out of sight."""

from itertools import product
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QColorDialog, QLabel, QWidget
from pytestqt.qtbot import QtBot

from bedview.plan.piece import Piece
from bedview.plan.starters import STARTERS
from bedview.session.open_piece import OpenPiece
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.kinds_panel import OFFERED
from tests.ui.desktop import remembered
from tests.ui.planning import BAG, bag, line_of, shown, write

KINDS = [kind for kind, _ in OFFERED]
GAPS = range(len(BAG["segments"]) + 1)


def test_every_kind_goes_in_anywhere_or_says_why_not(qtbot: QtBot) -> None:
    """It works there, or the first part that does not says so in a sentence that is in sight."""
    piece = bag()
    page = shown(qtbot, piece)
    for kind, gap in product(KINDS, GAPS):
        page.ask_for_kind((gap,))
        QTest.mouseClick(page.kinds.buttons[kind], Qt.MouseButton.LeftButton)
        QApplication.processEvents()
        assert page.chosen == gap
        trouble = piece.trouble
        if trouble is not None:
            own = trouble.segment == gap
            beside = [page.part.trouble, *(line.wrong for line in page.part.lines)]
            said = [label.text() for label in (beside if own else [page.findings.trouble_says])]
            assert any(trouble.message[1:] in text for text in said), (kind, gap)
        piece.undo()
        assert piece.piece == Piece.read(BAG)


def test_the_sentence_of_a_kind_chooses_it_too(qtbot: QtBot) -> None:
    piece = bag()
    page = shown(qtbot, piece)
    page.ask_for_kind((1,))
    sentence = page.kinds.sentences["plain"]
    QTest.mouseClick(sentence, Qt.MouseButton.LeftButton)
    assert piece.piece.segments[1].says == "Plain rows"


def test_words_that_have_no_room_beside_their_name_stand_below_it(qtbot: QtBot) -> None:
    page = shown(qtbot, bag())
    page.ask_for_kind((2,))
    page.kinds.buttons["widen"].click()
    page.choose(2)
    QApplication.processEvents()
    below = {line.spec.key: line.entry.x() <= line.name.x() for line in page.part.lines}
    assert below["how"], "a long one"
    assert not below["tool"], "a short one"
    for line in page.part.lines:
        if isinstance(line.entry, ChoiceEntry | TextEntry) and not below[line.spec.key]:
            assert line.entry.wanted_px() <= line.entry.width(), line.spec.key


def test_what_is_shortened_is_said_in_full_by_a_tool_tip(qtbot: QtBot) -> None:
    entry = ChoiceEntry([("a", "the gap filled from below"), ("b", "no")])
    qtbot.addWidget(entry)
    entry.resize(90, 32)
    entry.show_value("a")
    entry.show()
    qtbot.waitExposed(entry)
    entry.grab()
    assert entry.toolTip() == "the gap filled from below"
    entry.show_value("b")
    entry.grab()
    assert not entry.toolTip()


def test_yarn_and_fit_stand_there_while_parts_are_scrolled(qtbot: QtBot) -> None:
    page = shown(qtbot, bag())
    page.resize(1280, 480)
    page.totals.reckon()
    for part in range(5):
        page.choose(part)
        QApplication.processEvents()
        assert page.totals.yarn.visibleRegion().boundingRect().height() == page.totals.yarn.height()


def test_the_column_stays_as_wide_whatever_is_said_in_it(qtbot: QtBot) -> None:
    starter = next(each for each in STARTERS if each.name == "lined-bootee")
    page = shown(qtbot, OpenPiece(starter.make({})))
    page.show_tab("fit")
    page.totals.reckon()
    QApplication.processEvents()
    table = page.fit.table
    assert page.totals.width() == page.side.width() == page.tabs.width()
    figures = [label for label in table.findChildren(QLabel) if label.isVisibleTo(table)]
    assert len(figures) > len(KINDS)
    for label in figures:
        right = label.mapTo(page.side.viewport(), label.rect().topRight()).x()
        assert right < page.side.viewport().width(), label.text()


def test_what_is_to_be_watched_further_down_is_told_and_gone_to(qtbot: QtBot) -> None:
    document = {**BAG, "segments": BAG["segments"][:3]}
    page = shown(qtbot, OpenPiece(Piece.read(document)))
    page.resize(1280, 480)
    page.choose(2)
    qtbot.waitUntil(page.further.isVisible)
    count = len(page.findings.cards)
    assert count > 0
    assert str(count if count > 1 else "One") in page.further.plain_text()
    QApplication.processEvents()
    page.further.click()
    QApplication.processEvents()
    first = page.findings.cards[0]
    assert first.visibleRegion().boundingRect().height() == first.height()
    assert not page.further.isVisible()


def test_that_a_piece_breaks_off_is_told_further_down_too(qtbot: QtBot) -> None:
    page = shown(qtbot, bag())
    page.resize(1280, 480)
    page.choose(0)
    write(line_of(page, "needles").entry, "L3-R3")
    qtbot.waitUntil(page.further.isVisible)
    assert "knitted to its end" in page.further.plain_text()


def test_nothing_is_asked_of_the_yarn_before_where_there_was_none(qtbot: QtBot) -> None:
    document = {**BAG, "segments": [{**BAG["segments"][0], "yarn": "main"}, *BAG["segments"][1:]]}
    page = shown(qtbot, OpenPiece(Piece.read(document)))
    page.choose(0)
    assert "old_yarn" not in {line.spec.key for line in page.part.lines}
    page.editor.put_fields({"old_yarn": "park"}, "as it was before", "")
    assert "old_yarn" in {line.spec.key for line in page.part.lines}, "what was said is shown"


def test_the_first_swatch_of_a_yarn_is_its_gauge_at_once(qtbot: QtBot, tmp_path: Path) -> None:
    document = {key: value for key, value in BAG.items() if key != "gauges"}
    piece = OpenPiece(Piece.read(document))
    page = shown(qtbot, piece, remembered(tmp_path))
    page.show_tab("yarn")
    sheet = page.yarn.show_swatches(0)
    sheet.write_down()
    for key, text in (("tension", "6"), ("stitches", "20"), ("rows", "30")):
        write(sheet.entry.first.lines[key].entry, text)
    sheet.keep.click()
    (gauge,) = piece.piece.gauges
    assert (gauge.stitches, gauge.rows, gauge.tension) == (20, 30, 6)
    assert sheet.isHidden()


HOW_TO_NAME = "Write needles by their names, such as L10-R4, or how many, or a width such as 30 cm."


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("-3", HOW_TO_NAME),
        ("about forty", HOW_TO_NAME),
        ("x" * 5000, HOW_TO_NAME),
        ("0", "The bed has 60 needles."),
        ("1000000000", "The bed has 60 needles."),
        ("l10 to r99", "R99 is beyond the bed, which ends at R30."),
    ],
)
def test_needles_that_are_none_are_told_in_one_line(qtbot: QtBot, text: str, said: str) -> None:
    piece = bag()
    page = shown(qtbot, piece)
    page.choose(0)
    line = line_of(page, "needles")
    paste(line.entry, text)
    assert line.wrong.text() == said
    assert piece.piece == Piece.read(BAG), "nothing is lost"


def test_a_colour_is_chosen_by_looking(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    piece = bag()
    page = shown(qtbot, piece)
    page.show_tab("yarn")
    card = page.yarn.cards[0]
    card.more.click()
    for chosen, there in ((QColor("#aa3355"), "#aa3355"), (QColor(), "#aa3355")):
        monkeypatch.setattr(QColorDialog, "getColor", lambda *_, chosen=chosen: chosen)
        QTest.mouseClick(card.colours, Qt.MouseButton.LeftButton)
        assert piece.piece.yarns[0].colour == there


def test_a_row_that_is_none_is_refused_in_plain_words(qtbot: QtBot) -> None:
    page = shown(qtbot, bag())
    page.choose(1)
    page.part.reminders.add.click()
    QApplication.processEvents()
    row = page.part.reminders.rows[0][0]
    for text, said in (
        ("abc", "'abc' is not a number."),
        ("-3", "Nothing below 0 fits here."),
        ("2.5", "Only whole numbers fit here."),
    ):
        paste(row, text)
        assert page.part.reminders.wrong.text() == said
    assert page.editor.part is not None
    assert [each.row for each in page.editor.part.reminders] == [0]


def paste(entry: QWidget, text: str) -> None:
    entry.setFocus()
    QApplication.clipboard().setText(text)
    for key in (Qt.Key.Key_A, Qt.Key.Key_V):
        QTest.keyClick(entry, key, Qt.KeyboardModifier.ControlModifier)
