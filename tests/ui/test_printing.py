"""Printing: pages to leaf through, what they are made of, the printer and files, all by keys."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, Qt, QTimer
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from bedview.export.paper.documents import SheetPart
from bedview.export.paper.pages import PAPERS
from bedview.plan.piece import Piece
from bedview.session.open_piece import OpenPiece
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import PLAN
from bedview.ui.printing.document import usual_paper
from bedview.ui.printing.page_places import place_pages, whole_page_scale
from bedview.ui.printing.pages_view import IMAGES_KEPT
from bedview.ui.printing.print_page import PrintPage
from bedview.ui.theme import LookChoice, Theme
from tests.export.pdf import read_pdf
from tests.export.pieces import demo, little_heel, many_wedges
from tests.ui.desktop import remembered
from tests.ui.planning import bag
from tests.ui.test_main_window import load, made

A4 = PAPERS["a4"]
CTRL = Qt.KeyboardModifier.ControlModifier
KEYS = Qt.Key


def shown(qtbot: QtBot, opened: OpenPiece) -> PrintPage:
    theme = Theme(LookChoice.LIGHT)
    page = PrintPage(opened, theme)
    theme.setParent(page)
    qtbot.addWidget(page, before_close_func=lambda _page: page.leave())
    theme.dress(page)
    page.resize(1280, 660)
    page.show()
    qtbot.waitExposed(page)
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    # Whatever people buy where the test runs.
    page.choices.papers["a4"].click()
    page.view.setFocus()
    return page


@pytest.fixture
def page(qtbot: QtBot) -> PrintPage:
    made_page = shown(qtbot, bag())
    qtbot.waitUntil(made_page.print.isEnabled)
    return made_page


def press(key: Qt.Key) -> None:
    focused = QApplication.focusWidget()
    assert focused is not None
    QTest.keyClick(focused, key)


# -- places -----------------------------------------------------------------------------------------------


def test_as_many_pages_lie_side_by_side_as_there_is_room_for() -> None:
    # At 2 pixels a millimetre A4 is 420 by 594; with gaps of 10 two of them and no third fit into 900.
    places = place_pages([A4, A4, A4], 2.0, 900, 10)
    assert [(place.x, place.y) for place in places] == [(25, 10), (455, 10), (240, 614)]
    assert [(place.width, place.height) for place in places] == [(420, 594)] * 3


def test_a_page_that_is_too_wide_lies_alone_and_within_reach() -> None:
    places = place_pages([A4, A4.sideways(), A4], 2.0, 300, 10)
    assert [place.x for place in places] == [10, 10, 10]
    for above, below in pairwise(places):
        assert below.y == above.bottom + 10


def test_a_whole_page_is_as_large_as_the_room_allows() -> None:
    scale = whole_page_scale([A4, A4.sideways()], 1000, 614, 10)
    # 594 pixels of height for 297 mm: the page sideways, 297 mm wide, has room enough.
    assert scale == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("locale", "paper"),
    [("de_DE", "a4"), ("fr_CA", "letter"), ("en_US", "letter"), ("en_GB", "a4"), ("C", "a4")],
)
def test_paper_is_what_one_buys_there(locale: str, paper: str) -> None:
    assert usual_paper(QLocale(locale)) == paper


# -- leafing ----------------------------------------------------------------------------------------------


def test_pages_are_leafed_through_by_keys_wherever_the_keyboard_is(page: PrintPage) -> None:
    last = page.view.count - 1
    assert last >= 1
    for focus in (page.view, page.print):
        focus.setFocus()
        for key, there in (
            (KEYS.Key_PageDown, 1),
            (KEYS.Key_PageUp, 0),
            (KEYS.Key_End, last),
            (KEYS.Key_PageDown, last),
            (KEYS.Key_Home, 0),
            (KEYS.Key_Right, 1),
            (KEYS.Key_Left, 0),
            (KEYS.Key_Left, 0),
        ):
            press(key)
            assert page.view.current == there
            assert page.where.text() == f"Page {there + 1} of {last + 1}"
    assert page.view.accessibleDescription() == page.where.text()


def test_keys_zoom(page: PrintPage) -> None:
    zooms = [page.view.zoom]
    for key in (KEYS.Key_Plus, KEYS.Key_Plus, KEYS.Key_Minus):
        press(key)
        zooms.append(page.view.zoom)
    whole, first, second, third = zooms
    assert whole is None
    assert first is not None
    assert second is not None
    assert second > first
    assert third == first
    assert page.whole.isEnabled()
    press(KEYS.Key_0)
    assert page.view.zoom is None
    assert not page.whole.isEnabled()


def test_the_page_gone_to_is_seen(qtbot: QtBot, page: PrintPage) -> None:
    for wanted in range(page.view.count):
        page.view.go_to(wanted)
        assert wanted in page.view.seen()
        qtbot.waitUntil(lambda: page.view.seen() <= page.view.painted)


def test_scrolling_by_hand_takes_the_page_at_hand_along(page: PrintPage) -> None:
    page.view.choose_zoom(1.0)
    bar = page.view.verticalScrollBar()
    bar.setValue(bar.maximum())
    assert page.view.current > 0


def test_of_a_long_piece_only_what_is_seen_is_painted(qtbot: QtBot) -> None:
    long = shown(qtbot, OpenPiece(many_wedges(3)[0]))
    qtbot.waitUntil(lambda: long.view.count > 15, timeout=20_000)
    qtbot.waitUntil(lambda: long.view.seen() <= long.view.painted)
    long.view.go_to(12)
    qtbot.waitUntil(lambda: long.view.seen() <= long.view.painted)
    assert len(long.view.painted) < long.view.count
    for wanted in range(long.view.count):
        long.view.go_to(wanted)
        qtbot.waitUntil(lambda: long.view.seen() <= long.view.painted)
    assert len(long.view.painted) <= IMAGES_KEPT


# -- choosing ---------------------------------------------------------------------------------------------


def test_what_is_ticked_is_shown(qtbot: QtBot, page: PrintPage) -> None:
    before = page.view.count
    page.choices.flags[SheetPart.ANSWERS].setFocus()
    press(KEYS.Key_Space)
    qtbot.waitUntil(lambda: page.view.count > before)
    with_answers = page.view.count
    page.choices.flags[SheetPart.FOLLOWING].setFocus()
    press(KEYS.Key_Space)
    qtbot.waitUntil(lambda: page.view.count == with_answers - before)
    page.choices.flags[SheetPart.ANSWERS].setFocus()
    press(KEYS.Key_Space)
    qtbot.waitUntil(lambda: page.view.count == 0)
    assert not page.print.isEnabled()
    assert not page.pdf.isEnabled()
    assert page.told.text() == "Nothing is chosen to be printed."
    page.ask_printer()
    assert page.run is None


def test_other_paper_gives_other_pages(qtbot: QtBot, page: PrintPage) -> None:
    assert page.choices.paper == "a4"
    page.choices.papers["letter"].setFocus()
    press(KEYS.Key_Space)
    assert page.choices.paper == "letter"
    qtbot.waitUntil(page.print.isEnabled)
    page.choices.papers["a4"].click()
    qtbot.waitUntil(page.print.isEnabled)


def test_what_there_cannot_be_is_said_and_not_offered(qtbot: QtBot) -> None:
    piece = bag().piece
    bare = shown(qtbot, OpenPiece(piece.revised(gauges=())))
    for part in (SheetPart.OUTLINE, SheetPart.SIZES):
        flag = bare.choices.flags[part]
        assert not flag.isEnabled()
        assert flag.accessibleDescription()
    with_gauge = shown(qtbot, OpenPiece(piece))
    assert with_gauge.choices.flags[SheetPart.OUTLINE].isEnabled()


def test_a_plan_that_cannot_be_knitted_says_why(qtbot: QtBot) -> None:
    piece = bag().piece
    document = piece.to_document()
    document["segments"][2]["down_to"] = 90
    broken = shown(qtbot, OpenPiece(Piece.read(document)))
    assert broken.told.text().startswith("This plan can't be knitted yet: ")
    assert broken.view.count == 0
    assert not any(button.isEnabled() for button in (broken.print, broken.pdf, broken.others))


def test_an_edit_is_laid_out_again(qtbot: QtBot) -> None:
    opened = bag()
    page = shown(qtbot, opened)
    qtbot.waitUntil(lambda: page.view.count > 0)
    before = page.view.count
    document = opened.piece.to_document()
    document["segments"][1]["rows"] = 800
    opened.edit(Piece.read(document), "Rows")
    qtbot.waitUntil(lambda: page.view.count > before, timeout=20_000)
    page.put_away.emit()


# -- by keys alone ----------------------------------------------------------------------------------------


def test_everything_is_reached_by_tab_and_has_a_name(page: PrintPage) -> None:
    wanted = {
        *(flag for flag in page.choices.flags.values() if flag.isEnabled()),
        page.print,
        page.pdf,
        page.others,
        page.away,
        page.smaller,
        page.larger,
        page.view,
    }
    reached = []
    for _ in range(40):
        focused = QApplication.focusWidget()
        assert focused is not None
        if focused in reached:
            break
        reached.append(focused)
        press(KEYS.Key_Tab)
    assert wanted <= set(reached)
    for widget in wanted:
        assert widget.accessibleName() or widget.text()  # type: ignore[attr-defined]


@pytest.mark.parametrize("look", [LookChoice.LIGHT, LookChoice.DARK])
def test_where_the_keyboard_is_can_be_seen(page: PrintPage, look: LookChoice) -> None:
    page._theme.choose_look(look)
    for widget in (page.view, page.choices.flags[SheetPart.CLASS], page.print):
        page.away.setFocus()
        without = widget.grab().toImage()
        widget.setFocus()
        assert widget.grab().toImage() != without


@pytest.mark.parametrize("look", [LookChoice.LIGHT, LookChoice.DARK, LookChoice.CONTRAST])
def test_a_tick_can_be_seen(page: PrintPage, look: LookChoice) -> None:
    page._theme.choose_look(look)
    flag = page.choices.flags[SheetPart.ANSWERS]
    page.away.setFocus()
    without = flag.grab().toImage()
    flag.setChecked(True)
    ticked = flag.grab().toImage()
    differing = sum(
        ticked.pixelColor(x, y).lightness() - without.pixelColor(x, y).lightness() not in range(-60, 61)
        for x in range(40)
        for y in range(ticked.height())
    )
    assert differing > 20


# -- the window -------------------------------------------------------------------------------------------


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    opened = made(qtbot, remembered(tmp_path), PLAN)
    load(qtbot, opened, "harbour-heel")
    opened.activateWindow()
    qtbot.waitUntil(opened.isActiveWindow)
    yield opened
    opened.close()


def test_a_key_opens_it_and_escape_leads_back(qtbot: QtBot, window: MainWindow) -> None:
    before = window.page
    QTest.keyClick(window, KEYS.Key_P, CTRL)
    page = window.page
    assert isinstance(page, PrintPage)
    assert page.view.hasFocus()
    qtbot.waitUntil(lambda: page.view.count > 0)
    press(KEYS.Key_Escape)
    assert window.page is before
    focused = QApplication.focusWidget()
    assert before is not None
    assert focused is not None
    assert focused is before or before.isAncestorOf(focused)
    opened = window.desk.opened
    assert opened is not None
    # It listens to the piece no more.
    opened.edit(opened.piece.revised(title="Other heel"), "Title")


def test_the_button_on_the_plan_opens_it(window: MainWindow) -> None:
    window.page.print.click()  # type: ignore[union-attr]
    assert isinstance(window.page, PrintPage)


def test_another_page_of_the_piece_puts_it_away(qtbot: QtBot, window: MainWindow) -> None:
    window.show_print()
    window.show_page(PLAN)
    assert window.page_name == PLAN
    QTest.keyClick(window, KEYS.Key_P, CTRL)
    assert isinstance(window.page, PrintPage)
    load(qtbot, window, "mountain-hut-hat")
    assert not isinstance(window.page, PrintPage)


def test_a_new_piece_that_is_not_made_leads_back_to_it(qtbot: QtBot, window: MainWindow) -> None:
    window.show_print()
    page = window.page
    assert isinstance(page, PrintPage)
    window.begin_piece()
    assert window.page is not page
    press(KEYS.Key_Escape)
    assert window.page is page
    qtbot.waitUntil(page.print.isEnabled, timeout=20_000)
    press(KEYS.Key_Escape)
    assert window.page_name == PLAN


def test_without_a_piece_there_is_nothing_to_print(window: MainWindow) -> None:
    window.desk.close_piece()
    assert not window.menu.print.isEnabled()
    window.show_print()
    assert not isinstance(window.page, PrintPage)


# -- ways out ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("ending", [".pdf", ".html", ".txt", ".csv", ".svg", ".png"])
def test_it_is_saved_in_every_form(
    qtbot: QtBot, page: PrintPage, ending: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    offered: list[str] = []

    def choose(_parent: object, _title: str, start: str, _kinds: str) -> tuple[str, str]:
        offered.append(start)
        return str(tmp_path / "bag"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", choose)
    page.ask_where_to_save(ending)
    path = tmp_path / f"bag{ending}"
    qtbot.waitUntil(lambda: page.told.text() == f"Saved: bag{ending}", timeout=20_000)
    assert offered == [f"buoy-bag{ending}"]
    assert path.stat().st_size > 500
    if ending == ".pdf":
        with read_pdf(path.read_bytes()) as pdf:
            assert pdf.pages == page.view.count


@pytest.mark.qt_log_ignore("This plugin does not support raise", "This plugin does not support grabbing")
@pytest.mark.parametrize("key", [KEYS.Key_Return, KEYS.Key_Space])
def test_other_forms_are_chosen_by_keys(
    qtbot: QtBot, page: PrintPage, key: Qt.Key, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = str(tmp_path / "bag")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (target, ""))
    menu = page.others.menu()
    timer = QTimer()

    def choose_second() -> None:
        if menu.isVisible():
            timer.stop()
            for pressed in (KEYS.Key_Down, KEYS.Key_Down, KEYS.Key_Return):
                QTest.keyClick(menu, pressed)

    timer.timeout.connect(choose_second)
    timer.start(5)
    page.others.setFocus()
    press(key)
    qtbot.waitUntil(lambda: page.told.text() == "Saved: bag.txt", timeout=20_000)
    assert (tmp_path / "bag.txt").read_text(encoding="utf-8").startswith("Buoy bag")


def test_a_file_that_cannot_be_written_says_why(
    qtbot: QtBot, page: PrintPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    nowhere = str(tmp_path / "none" / "bag.pdf")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (nowhere, ""))
    page.pdf.click()
    qtbot.waitUntil(lambda: page.told.text().startswith("Not done: "), timeout=20_000)


def print_to(path: Path, monkeypatch: pytest.MonkeyPatch, pages: tuple[int, int] | None = None) -> None:
    """Have the next print dialog choose a file."""

    def choose(dialog: QPrintDialog) -> int:
        printer = dialog.printer()
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(path))
        if pages is not None:
            printer.setPrintRange(QPrinter.PrintRange.PageRange)
            printer.setFromTo(*pages)
        return int(QPrintDialog.DialogCode.Accepted)

    monkeypatch.setattr(QPrintDialog, "exec", choose)


def test_all_pages_are_printed_in_their_size(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = shown(qtbot, OpenPiece(demo("harbour-heel")[0]))
    page.choices.flags[SheetPart.NEEDLE_STRIP].click()
    qtbot.waitUntil(page.print.isEnabled)
    path = tmp_path / "printed.pdf"
    print_to(path, monkeypatch)
    page.view.setFocus()
    press(KEYS.Key_Return)
    assert page.run is not None
    assert not page.print.isEnabled()
    qtbot.waitUntil(lambda: page.run is None)
    assert page.told.text() == "All pages are on their way to the printer."
    with read_pdf(path.read_bytes()) as pdf:
        assert pdf.pages == page.view.count
        assert pdf.size_mm(0) == pytest.approx((210, 297), abs=0.3)
        assert pdf.size_mm(pdf.pages - 1) == pytest.approx((297, 210), abs=0.3)
        assert "Harbourheel" in "".join(pdf.text(0).split())
        # The ruler at the foot of the strip is as long as it says.
        grey = pdf.grey(pdf.pages - 1, 20.0)
    line = grey[round((210 - 13 - 8 - 13 + 6) * 20.0), : round(120 * 20.0)]
    dark = (line < 128).nonzero()[0]
    assert (dark.max() - dark.min()) / 20.0 == pytest.approx(100, abs=0.5)


def test_a_range_of_pages_is_printed(
    qtbot: QtBot, page: PrintPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "printed.pdf"
    print_to(path, monkeypatch, (2, 2))
    page.print.click()
    qtbot.waitUntil(lambda: page.run is None)
    with read_pdf(path.read_bytes()) as pdf:
        assert pdf.pages == 1
        assert f"page2of{page.view.count}" in "".join(pdf.text(0).split())


def test_putting_it_away_stops_the_print(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = shown(qtbot, OpenPiece(little_heel()[0]))
    qtbot.waitUntil(page.print.isEnabled)
    print_to(tmp_path / "printed.pdf", monkeypatch)
    page.print.click()
    page.hide()
    assert page.run is None
    assert page.told.text() == "Not printed."
