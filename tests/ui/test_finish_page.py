from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.finish.cards import technique_card
from bedview.form.shape import LEFT_OUT
from bedview.plan.piece import Piece
from bedview.plan.starters import find_starter
from bedview.session.making_up_run import MakingUpRun
from bedview.session.open_piece import OpenPiece
from bedview.store.made_up import MadeUp
from bedview.ui.finish import step_list
from bedview.ui.finish.shape_panel import STEPS_A_FRAME, ShapePanel
from bedview.ui.pages.finish_page import FinishPage
from bedview.ui.theme import LookChoice, Theme
from tests.finish.pieces import document, flat, graft, toe_and_flaps
from tests.ui.in_house import FRAMES, InHouse

BAG = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")]).piece


class Shown:
    """A page with what stands behind it."""

    def __init__(self, qtbot: QtBot, piece: Piece, kept: Path | None = None) -> None:
        self.opened = OpenPiece(piece)
        self.workshop = InHouse()
        self.theme = Theme(LookChoice.LIGHT)
        run = None if kept is None else MakingUpRun(MadeUp(kept), lambda: Path("jetty.piece.json"))
        self.page = FinishPage(self.opened, self.workshop, self.theme, run)
        qtbot.addWidget(self.page)
        self.theme.dress(self.page)
        self.page.resize(1280, 656)
        self.page.show()
        self._qtbot = qtbot
        self.settle()

    def settle(self) -> None:
        self._qtbot.waitUntil(
            lambda: self.page.settled or (self.page.steps.complete and not self.page.shape.canvas.frames)
        )

    def middle(self) -> QPoint:
        """A point of the picture at which fabric is seen."""
        canvas = self.page.shape.canvas
        answering = self.workshop.answering
        assert answering is not None
        painted = answering._painted
        assert painted is not None
        corners = painted.faces.corners[-1]
        x, y = corners.mean(axis=0).tolist()
        assert 0 <= x <= canvas.width()
        return QPoint(round(x), round(y))

    def press(self, place: QPoint) -> None:
        QTest.mouseClick(self.page.shape.canvas, Qt.MouseButton.LeftButton, pos=place)
        self.settle()


@pytest.fixture
def bag(qtbot: QtBot) -> Iterator[Shown]:
    shown = Shown(qtbot, BAG)
    yield shown
    shown.page.close()


def test_steps_stand_in_the_order_of_the_hands(bag: Shown) -> None:
    assert [entry.title.text() for entry in bag.page.entries] == [
        "Graft “other flap” to “toe”",
        "Take the waste off “other flap”",
        "Graft “one flap” to “toe”",
        "Take the waste off “one flap” and “toe”",
        "Sew the left edge to the right edge",
        "Darn in 2 ends",
    ]
    assert bag.page.steps.summary.text() == "2 grafts, 1 sewn seam, 2 ends to darn in"
    assert bag.page.steps.misfits == []


def test_a_step_shows_its_place_on_chart_and_shape(bag: Shown) -> None:
    bag.page.choose(2)
    bag.settle()
    words, fabric = bag.opened.procedure.words, bag.opened.procedure.timeline.fabric
    asked = bag.workshop.pictures[-1].marks
    assert [words.needles([int(fabric.needle[loop])]) for loop in asked.loops] == ["L4", "L3"]
    assert [words.needles([int(fabric.needle[loop])]) for loop in asked.other_loops] == ["L1", "L2"]
    image = bag.page.chart.grab().toImage()
    look = bag.theme.look
    # The first edge is a filled dot on the chart, the second a ring.
    for loops, colour in ((asked.loops, look.hands), (asked.other_loops, look.paper)):
        x, y = bag.page.chart.place_of_loop(loops[0])
        assert image.pixelColor(round(x), round(y)).name() == colour


def test_loops_inside_a_seam_are_shown_by_their_neighbours(bag: Shown) -> None:
    bag.page.choose(4)
    fabric = bag.opened.procedure.timeline.fabric
    words = bag.opened.procedure.words
    shown = bag.page.shape.canvas.marks
    # The edge stitches, L5 and R5, lie in the seam.
    assert {words.needles([int(fabric.needle[loop])]) for loop in shown.loops} == {"L4"}
    assert {words.needles([int(fabric.needle[loop])]) for loop in shown.other_loops} == {"R4"}


def test_arrows_go_from_step_to_step(bag: Shown) -> None:
    bag.page.setFocus()
    for key, expected in (
        (Qt.Key.Key_Down, 1),
        (Qt.Key.Key_End, 5),
        (Qt.Key.Key_Down, 5),
        (Qt.Key.Key_Up, 4),
        (Qt.Key.Key_Home, 0),
    ):
        QTest.keyClick(bag.page, key)
        assert bag.page.chosen == expected


def test_a_press_on_a_step_opens_it_and_folds_the_other(bag: Shown) -> None:
    first, fifth = bag.page.entries[0], bag.page.entries[4]
    QTest.mouseClick(fifth, Qt.MouseButton.LeftButton, pos=fifth.title.geometry().center())
    assert bag.page.chosen == 4
    assert fifth.links["mattress"].isVisible()
    assert not first.links["grafting_right_side"].isVisible()


def test_a_technique_card_opens_below_its_link_and_closes_again(bag: Shown) -> None:
    entry = bag.page.entries[0]
    link = entry.links["grafting_right_side"]
    link.click()
    assert entry.opened_card == "grafting_right_side"
    assert entry.card is not None
    said = [label.text() for label in entry.card.findChildren(type(entry.title))]
    card = technique_card("grafting_right_side")
    assert [card.when, *card.steps] == [text for text in said if not text.isdigit()]
    assert link.isChecked()
    entry.links["grafting_wrong_side"].click()
    assert (entry.opened_card, link.isChecked()) == ("grafting_wrong_side", False)
    entry.links["grafting_wrong_side"].click()
    assert entry.opened_card == ""


def test_open_groups_unfold(bag: Shown) -> None:
    groups = bag.page.steps.groups
    assert groups.heading.plain_text() == "3 groups of open loops"
    assert not any(line.isVisible() for line in groups.lines)
    groups.heading.click()
    assert [line.text() for line in groups.lines if line.isVisible()] == [
        "“toe”: 4 loops of L2 to R2, on 8 rows of waste",
        "“one flap”: 3 loops of L5 to L3, on 8 rows of waste",
        "“other flap”: 3 loops of R3 to R5, on 8 rows of waste",
    ]


def test_what_does_not_fit_stands_above_the_steps(qtbot: QtBot) -> None:
    shown = Shown(qtbot, toe_and_flaps(3, 4, [graft("L5-L3", "L2-L1"), graft("R3-R4", "R1-R2")]).piece)
    (card,) = shown.page.steps.misfits
    assert "3 loops meet 2 loops" in card.says.text()
    assert card.way_out.text().startswith("Name the longer edge without L5")
    assert card.geometry().bottom() < shown.page.entries[0].geometry().top()
    shown.page.close()


# -- what is done -----------------------------------------------------------------------------------------


def ticks(page: FinishPage) -> list[bool]:
    return [entry.box.isChecked() for entry in page.entries]


def test_one_key_ticks_off_and_goes_on_one_takes_back(bag: Shown) -> None:
    page = bag.page
    page.setFocus()
    QTest.keyClick(page, Qt.Key.Key_Space)
    QTest.keyClick(page, Qt.Key.Key_PageDown)
    assert (ticks(page), page.chosen) == ([True, True, False, False, False, False], 2)
    assert page.place.words.text() == "2 of 6 done"
    assert page.entries[1].accessibleName() == "Step 2, done: Take the waste off “other flap”"
    QTest.keyClick(page, Qt.Key.Key_Backspace)
    assert (ticks(page), page.chosen) == ([True, False, False, False, False, False], 1)
    QTest.keyClick(page, Qt.Key.Key_PageUp)
    QTest.keyClick(page, Qt.Key.Key_PageUp)
    assert (ticks(page), page.chosen) == ([False] * 6, 0)


def test_what_was_passed_over_comes_when_the_end_is_done(bag: Shown) -> None:
    page = bag.page
    page.setFocus()
    QTest.keyClick(page, Qt.Key.Key_Down)
    for _ in range(5):
        QTest.keyClick(page, Qt.Key.Key_Return)
    assert page.chosen == 0
    QTest.keyClick(page, Qt.Key.Key_Return)
    assert page.place.words.text() == "All 6 done"
    assert not page.place.on.isEnabled()


def test_a_box_is_ticked_by_mouse_and_its_step_need_not_be_open(bag: Shown) -> None:
    page = bag.page
    QTest.mouseClick(page.entries[4].box, Qt.MouseButton.LeftButton)
    assert page.run.is_done(4)
    assert page.chosen == 0
    QTest.mouseClick(page.entries[4].box, Qt.MouseButton.LeftButton)
    assert not page.run.is_done(4)


def test_ticks_come_back_with_the_program_and_the_next_step_is_open(qtbot: QtBot, tmp_path: Path) -> None:
    first = Shown(qtbot, BAG, tmp_path)
    first.page.place.on.click()
    first.page.place.on.click()
    first.page.close()
    second = Shown(qtbot, BAG, tmp_path)
    assert ticks(second.page)[:3] == [True, True, False]
    assert second.page.chosen == 2
    second.page.close()


def test_begin_again_can_be_taken_back(bag: Shown) -> None:
    page = bag.page
    assert not page.place.again.isVisible()
    page.place.on.click()
    page.place.again.click()
    assert (page.run.count, page.chosen) == (0, 0)
    assert page.place.again.plain_text() == "Bring the ticks back"
    page.place.again.click()
    assert (page.run.count, page.chosen) == (1, 1)
    page.place.again.click()
    page.place.on.click()
    # Whoever goes on has begun again.
    assert page.place.again.plain_text() == "Begin the making up again"


def test_what_cannot_be_kept_is_said_and_not_ticked(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    shown = Shown(qtbot, BAG, tmp_path / "file" / "kept")
    QTest.mouseClick(shown.page.entries[0].box, Qt.MouseButton.LeftButton)
    assert ticks(shown.page)[0] is False
    assert shown.page.place.news.text().startswith("It could not be kept:")
    shown.page.close()


def test_steps_are_listed_a_few_at_a_time(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(step_list, "_SLICE_S", 0.0)
    page = FinishPage(OpenPiece(BAG), InHouse(), Theme(LookChoice.LIGHT))
    qtbot.addWidget(page)
    counts: list[int] = []
    ticking = QTimer(page, interval=0)
    ticking.timeout.connect(lambda: counts.append(len(page.entries)))
    ticking.start()
    page.show()
    qtbot.waitUntil(lambda: page.steps.complete and len(page.entries) == 6)
    # Between two entries Qt came to do something else.
    assert {1, 2, 3, 4, 5} <= set(counts)
    page.close()


# -- the shape --------------------------------------------------------------------------------------------


def test_the_slider_closes_the_seams(bag: Shown) -> None:
    slider = bag.page.shape.slider
    assert (slider.minimum(), slider.maximum()) == (0, STEPS_A_FRAME * (FRAMES - 1))
    assert slider.value() == slider.maximum()
    assert bag.workshop.pictures[-1].position == FRAMES - 1
    slider.setValue(2)
    bag.settle()
    assert bag.workshop.pictures[-1].position == 2 / STEPS_A_FRAME
    # When it comes to rest, the picture is painted finely.
    assert not bag.workshop.pictures[-1].moving


def test_a_piece_without_seams_has_no_slider(qtbot: QtBot) -> None:
    shown = Shown(qtbot, Piece.read(document(flat(8))))
    assert not shown.page.shape.slider.isVisible()
    assert shown.page.shape.canvas.frames == 1
    shown.page.close()


def test_what_the_model_leaves_out_is_said(bag: Shown) -> None:
    assert LEFT_OUT in bag.page.shape.left_out.text()
    assert bag.page.shape.left_out.isVisible()


def test_keys_turn_the_shape_and_set_it_back(bag: Shown) -> None:
    canvas = bag.page.shape.canvas
    start = canvas.turning
    QTest.keyClick(canvas, Qt.Key.Key_Right)
    QTest.keyClick(canvas, Qt.Key.Key_Down)
    QTest.keyClick(canvas, Qt.Key.Key_Plus)
    assert (canvas.turning.turn, canvas.turning.tip) == (start.turn + 10, start.tip + 10)
    assert canvas.turning.near > 1
    QTest.keyClick(canvas, Qt.Key.Key_Home)
    assert canvas.turning == start


def test_the_mouse_turns_the_shape(bag: Shown) -> None:
    canvas = bag.page.shape.canvas
    start = canvas.turning
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=QPoint(100, 100))
    QTest.mouseMove(canvas, QPoint(140, 100))
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=QPoint(140, 100))
    # The front follows the hand to the right.
    assert canvas.turning.turn > start.turn
    assert canvas.turning.tip == start.tip


def test_the_shape_is_looked_at_from_named_sides(bag: Shown) -> None:
    bag.page.shape.look_from("top")
    bag.settle()
    asked = bag.workshop.pictures[-1].turning
    assert (asked.turn, asked.tip) == (0, 90)
    assert bag.page.shape.views.plain_text() == "From above ▾"


def test_colours_mean_what_is_chosen(bag: Shown) -> None:
    bag.page.shape.colour_by("strain")
    bag.settle()
    assert bag.workshop.pictures[-1].colour_by == "strain"
    assert "stretched" in bag.page.shape.found.text()


def test_a_press_on_the_shape_names_needle_and_row(qtbot: QtBot, bag: Shown) -> None:
    bag.press(bag.middle())
    qtbot.waitUntil(lambda: bool(bag.page.shape.canvas.marks.pressed))
    (loop,) = bag.page.shape.canvas.marks.pressed
    fabric = bag.opened.procedure.timeline.fabric
    needle = bag.opened.procedure.words.needles([int(fabric.needle[loop])])
    row = int(fabric.pass_of(np.array([loop]))[0])
    assert bag.page.shape.found.text().startswith(f"{needle}, row {row} · ")


def test_a_press_beside_the_shape_names_nothing(bag: Shown) -> None:
    bag.press(QPoint(2, 2))
    assert bag.page.shape.found.text().startswith("Point anywhere")
    assert bag.page.shape.canvas.marks.pressed == ()


def test_a_pointer_that_rests_on_the_shape_names_what_lies_there(qtbot: QtBot, bag: Shown) -> None:
    canvas, found = bag.page.shape.canvas, bag.page.shape.found
    asking = found.text()
    QTest.mouseMove(canvas, bag.middle())
    qtbot.waitUntil(lambda: ", row " in found.text())
    assert canvas.marks.pressed == ()
    canvas.leaveEvent(QEvent(QEvent.Type.Leave))
    assert found.text() == asking


def test_a_press_on_the_chart_shows_wale_and_course_on_both(bag: Shown) -> None:
    chart, fabric = bag.page.chart, bag.opened.procedure.timeline.fabric
    loop = next(each for each in range(*fabric.loops_of_pass(6)) if int(fabric.needle[each]) == 18)
    x, y = chart.place_of_loop(loop)
    QTest.mouseClick(chart, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))
    assert bag.page.shape.found.text().startswith("L2, row 6 · ")
    marks = bag.page.shape.canvas.marks
    assert marks.pressed == (loop,)
    assert {int(fabric.needle[each]) for each in marks.wale} == {18}
    # The cast-on, 12 rows, one in which either flap goes to hold, and one before the toe comes off.
    assert [int(p) for p in fabric.pass_of(np.array(marks.wale))] == list(range(15))
    assert [int(fabric.needle[each]) for each in marks.course] == list(range(15, 25))
    bag.settle()
    assert bag.workshop.pictures[-1].marks == marks
    image = chart.grab().toImage()
    here = chart.place_of_loop(marks.course[4])
    beside = chart.place_of_loop(marks.course[5])
    between = image.pixelColor(round((here[0] + beside[0]) / 2), round(here[1]))
    assert between.name() == bag.theme.look.ink


def test_keys_go_from_stitch_to_stitch_on_shape_and_chart(bag: Shown) -> None:
    page, found = bag.page, bag.page.shape.found
    page._show_loop(page._pointing.loop_at(18, 6) or 0)
    shift = Qt.KeyboardModifier.ShiftModifier
    start = page.shape.canvas.turning
    QTest.keyClick(page.shape.canvas, Qt.Key.Key_Right, shift)
    assert found.text().startswith("L1, row 6 · ")
    QTest.keyClick(page.shape.canvas, Qt.Key.Key_Up, shift)
    assert found.text().startswith("L1, row 7 · ")
    assert page.shape.canvas.turning == start
    QTest.keyClick(page.chart, Qt.Key.Key_Left)
    QTest.keyClick(page.chart, Qt.Key.Key_Down)
    assert found.text().startswith("L2, row 6 · ")
    for _ in range(9):
        QTest.keyClick(page.chart, Qt.Key.Key_Left)
    assert found.text().startswith("L5, row 6 · ")
    for _ in range(9):
        QTest.keyClick(page.chart, Qt.Key.Key_Down)
    assert found.text().startswith("L5, cast on · ")


def test_two_presses_measure_along_the_surface(qtbot: QtBot, bag: Shown) -> None:
    panel = bag.page.shape
    panel.slider.setValue(1)
    panel.measure.click()
    # It is measured on a shape that was worked out.
    assert panel.slider.value() % STEPS_A_FRAME == 0
    bag.settle()
    fabric = bag.opened.procedure.timeline.fabric
    needles = {"L2": 18, "R2": 21}
    loops = [
        next(int(loop) for loop in range(*fabric.loops_of_pass(6)) if int(fabric.needle[loop]) == needle)
        for needle in needles.values()
    ]
    for loop in loops:
        panel.take_loop(loop)
    assert panel.found.text() == "Measuring …"
    qtbot.waitUntil(lambda: "along" in panel.found.text())
    # L2 to R2 are three stitches of 5 mm apart in a row that lies flat.
    assert panel.found.text() == "1.5 cm along the surface"
    bag.settle()
    assert bag.workshop.pictures[-1].with_way
    panel.measure.click()
    bag.settle()
    assert not bag.workshop.pictures[-1].with_way


# -- the body ---------------------------------------------------------------------------------------------


def figures(panel: ShapePanel) -> int:
    return len(panel.canvas.figures)


def test_the_foot_is_drawn_in_the_shape_with_its_figures(qtbot: QtBot) -> None:
    piece = find_starter("bootee").make({"size": "16", "stitches": 15, "rows": 21})
    shown = Shown(qtbot, piece)
    panel = shown.page.shape
    assert panel.body.isVisible()
    assert panel.body.plain_text() == "Show the foot"
    assert not panel.compared.isVisible()
    before = panel.canvas.grab().toImage()
    panel.slider.setValue(1)
    panel.body.click()
    # It is placed in the shape that is made up.
    assert panel.slider.value() == panel.slider.maximum()
    shown.settle()
    assert shown.workshop.pictures[-1].with_body
    assert sorted(round(mm, 1) for _, _, mm in panel.canvas.figures) == [91.9, 98.8, 124.9]
    assert panel.canvas.grab().toImage() != before
    assert "cm on 9.9 cm" in panel.compared.text()
    QTest.keyClick(panel.canvas, Qt.Key.Key_Right)
    shown.settle()
    assert figures(panel) == 3
    panel.slider.setValue(1)
    shown.settle()
    assert figures(panel) == 0
    panel.body.click()
    assert not panel.compared.isVisible()
    shown.page.close()


def test_a_piece_of_no_starter_offers_no_body(bag: Shown) -> None:
    assert not bag.page.shape.body.isVisible()


# -- edits ------------------------------------------------------------------------------------------------


def test_an_edit_is_worked_out_once_the_page_is_seen(qtbot: QtBot, bag: Shown) -> None:
    bag.page.hide()
    piece = bag.opened.piece
    bag.opened.edit(piece.revised(seams=()), "No seams")
    assert bag.workshop.begun == [piece]
    bag.page.show()
    qtbot.waitUntil(lambda: len(bag.workshop.begun) == 2)
    bag.settle()
    assert [entry.title.text() for entry in bag.page.entries][-1] == "“other flap” stays open"
    assert bag.page.shape.canvas.frames == 1


def test_a_piece_without_fabric_has_nothing_to_make_up(qtbot: QtBot) -> None:
    shown = Shown(qtbot, Piece.read(document([])))
    assert shown.page.steps.summary.text() == "Nothing to make up."
    assert shown.page.shape.waiting.words.text() == "There is no fabric yet, so there is no shape."
    assert not shown.page.shape.waiting.bar.isVisible()
    assert shown.page.entries == []
    shown.page.close()


def test_a_plan_that_breaks_off_is_said_calmly_and_told_once_it_is_put_right(qtbot: QtBot) -> None:
    whole = document(flat(8))
    turn = {"kind": "short_rows", "title": "Bay", "down_to": 60, "ends": "in_turn", "wraps": "automatic"}
    shown = Shown(qtbot, Piece.read({**whole, "segments": [*whole["segments"], turn]}))
    waiting, page = shown.page.shape.waiting, shown.page
    assert waiting.words.text().startswith("It cannot be knitted from Bay on: no needle works here")
    assert waiting.words.text().endswith("put right on the page Plan, its making up is shown here.")
    hidden = waiting.bar, waiting.begin, waiting.stop, page.place
    assert not any(each.isVisible() for each in hidden)
    assert not page.entries
    QTest.keyClick(page, Qt.Key.Key_Space)
    shown.opened.edit(Piece.read(whole), "Bay")
    qtbot.waitUntil(lambda: bool(page.entries) and page.settled)
    assert page.place.isVisible()
    page.close()


def test_stopping_leaves_a_way_to_begin_again(bag: Shown) -> None:
    bag.page.shape.show_shape(None)
    bag.page._show_progress(0.4)
    waiting = bag.page.shape.waiting
    assert waiting.words.text() == "Working out the shape: 40 %"
    assert waiting.bar.value() == 40
    waiting.stop.click()
    assert waiting.words.text() == "The shape is not worked out."
    waiting.begin.click()
    bag.settle()
    assert bag.page.shape.canvas.frames == FRAMES


def test_where_text_is_large_for_the_window_steps_and_shape_share_it(qtbot: QtBot) -> None:
    large = Theme(LookChoice.LIGHT, 1.75)
    page = FinishPage(OpenPiece(BAG), InHouse(), large)
    qtbot.addWidget(page)
    large.dress(page)
    page.resize(1280, 656)
    page.show()
    qtbot.waitUntil(lambda: page.settled)
    assert not page.chart.isVisible()
    assert not page.shape.left_out.isVisible()
    # Nothing is cut off: both have the room they ask for.
    assert page.place.width() >= page.place.minimumSizeHint().width()
    assert page.shape.width() >= page.shape.minimumSizeHint().width()
    assert page.shape.geometry().right() <= page.width()
    page.resize(2400, 1200)
    qtbot.waitUntil(page.chart.isVisible)
    page.close()
