from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.plan.segments.reminders import Reminder
from bedview.session.open_piece import OpenPiece
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.parts.part_fields import field_rows, result_line
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import HOLD_R4, opened


def shown(qtbot: QtBot, piece: OpenPiece) -> PlanPage:
    theme = Theme(LookChoice.LIGHT)
    page = PlanPage(piece, theme)
    qtbot.addWidget(page)
    theme.dress(page)
    page.resize(1280, 656)
    page.show()
    qtbot.waitExposed(page)
    return page


@pytest.fixture
def page(qtbot: QtBot) -> Iterator[PlanPage]:
    made = shown(qtbot, opened())
    yield made
    made.close()


@pytest.fixture
def heel() -> OpenPiece:
    """Its widening leaves small gaps that only lie there."""
    return OpenPiece(read_piece(demo_paths()["harbour-heel"]))


def test_the_chosen_part_is_named_with_its_rows(page: PlanPage) -> None:
    page.choose(1)
    assert page.part.title.text() == "Turn"
    assert page.part.where.text() == "Single actions · rows 3 to 4"
    assert page.chart.scene.chosen == 1
    assert page.totals.counts.text() == "8 needles, 6 rows, 3 parts"


def test_a_press_on_a_card_or_on_rows_chooses_the_part(page: PlanPage) -> None:
    layout = page.chart.places()
    top, bottom = layout.cards[2]
    card = QPoint(round((layout.cards_left + layout.cards_right) / 2), round((top + bottom) / 2))
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=card)
    assert page.chosen == 2
    rows = QPoint(round(layout.x_of(10)), round(layout.top_of(1) + layout.row / 2))
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=rows)
    assert page.chosen == 0


def test_arrows_choose_parts_upwards_as_the_piece_grows(page: PlanPage) -> None:
    page.choose(0)
    for key, expected in (
        (Qt.Key.Key_Up, 1),
        (Qt.Key.Key_End, 2),
        (Qt.Key.Key_Up, 2),
        (Qt.Key.Key_Down, 1),
        (Qt.Key.Key_Home, 0),
    ):
        QTest.keyClick(page.chart, key)
        assert page.chosen == expected
    assert page.chart.accessibleDescription() == "Start, rows 1 to 2"


def test_a_part_is_rehearsed_from_its_first_step(qtbot: QtBot, page: PlanPage) -> None:
    page.choose(1)
    with qtbot.waitSignal(page.step_wanted) as wanted:
        page.part.rehearse.click()
    assert wanted.args == [HOLD_R4]


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


def test_parameters_are_told_in_words(heel: OpenPiece) -> None:
    narrowing = heel.piece.segments[3]
    assert field_rows(narrowing, heel.piece) == [
        ("Needles left at the end", "14"),
        ("Where", "one end after the other"),
        ("Needles held each time", "1"),
        ("Wraps", "by the pass itself"),
    ]


def test_reminders_are_told_at_their_rows(heel: OpenPiece) -> None:
    plain = heel.piece.segments[1].model_copy(
        update={
            "reminders": (Reminder(row=0, text="hang the weights"), Reminder(row=10, text="move them up"))
        }
    )
    assert field_rows(plain, heel.piece)[-2:] == [
        ("First", "hang the weights"),
        ("After row 10", "move them up"),
    ]


def test_what_comes_of_a_part_is_counted_on_the_bed(heel: OpenPiece) -> None:
    # 36 needles, one to hold before each row until 14 knit: 22 rows, the first on 35.
    gauge = heel.piece.gauges[0]
    cm = 22 * gauge.over_mm / gauge.rows / 10
    assert result_line(heel.procedure, 3) == f"35 to 14 needles, 22 rows, {cm:.1f} cm"


def test_the_page_follows_an_edit(page: PlanPage) -> None:
    piece = page._opened
    shorter = piece.piece.segments[:2]
    piece.edit(piece.piece.revised(segments=shorter), "Take out")
    assert page.totals.counts.text() == "8 needles, 4 rows, 2 parts"
    assert len(page.chart.scene.parts) == 2
    piece.undo()
    assert len(page.chart.scene.parts) == 3
