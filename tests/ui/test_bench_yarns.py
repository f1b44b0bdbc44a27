"""Yarns of the free bench are named, coloured and added; what was done with them stays."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bedview.bed.actions import CastOn, Cut, Hang, HoldCams, Knit, OpenEdge, Place, Thread
from bedview.bed.needles import Bed, Position
from bedview.plan.piece import Yarn
from bedview.session.bench_run import BENCH_YARNS, BenchRun
from bedview.ui.learn.bench_view import BenchView
from bedview.ui.learn.tools import Tool
from bedview.ui.learn.yarn_form import MOST_YARNS
from bedview.ui.pages.learn_page import LearnPage
from tests.ui.learning import bench_view, do_by_keys, learn_page, press

START = (
    {"do": "thread", "yarn": "main"},
    {"do": "cast_on", "needles": "L3-R3"},
    {"do": "knit", "rows": 2},
)


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> LearnPage:
    return learn_page(qtbot, tmp_path)


def begun(page: LearnPage) -> BenchView:
    view = bench_view(page)
    for item in START:
        do_by_keys(view, item)
    return view


def shown(page: LearnPage) -> BenchView:
    assert isinstance(page.view, BenchView)
    return page.view


def threads(view: BenchView) -> list[str]:
    return [action.text() for action in view.bench.tools.buttons[Tool.THREAD].menu().actions()]


def test_a_yarn_is_added_out_of_the_menu_that_threads(page: LearnPage) -> None:
    view = begun(page)
    view.bench.tools.buttons[Tool.THREAD].menu().actions()[-1].trigger()
    view.yarns.another.click()
    press("pine green")
    press(Qt.Key.Key_Return)
    view = shown(page)
    assert threads(view)[:4] == ["blue harbour wool", "sail-cloth waste", "ravel cord", "pine green"]
    assert view.hands.bench.timeline.passes == 2
    do_by_keys(view, {"do": "thread", "yarn": view.hands.bench.yarns[3].id})
    press("k")
    scene = view.bench.bed.scene
    assert scene.yarns[scene.feeder].name == "pine green"
    assert len({scene.yarns[yarn].colour for yarn in range(4)}) == 4, "a colour that none had"


def test_a_new_name_can_be_taken_back_and_so_can_what_was_done_before(page: LearnPage) -> None:
    said: list[tuple[str, str, object]] = []
    page.said.connect(lambda *args: said.append(args))
    view = begun(page)
    view.show_yarns()
    press("gull grey")
    view.yarns.lines[0].role.setCurrentIndex(1)
    view.yarns.use.click()
    view = shown(page)
    lying = view.hands.bench.yarns[0]
    assert (lying.id, lying.name, lying.role) == ("main", "gull grey", "waste")
    press("u")
    assert view.hands.bench.timeline.passes == 1
    ((_, action, todo),) = said
    assert action == "Undo"
    assert callable(todo)
    todo()
    assert shown(page).hands.bench.yarns == BENCH_YARNS
    assert shown(page).hands.bench.timeline.passes == 2


def test_what_was_done_since_is_not_lost_by_putting_yarns_back(page: LearnPage) -> None:
    said: list[tuple[str, str, object]] = []
    page.said.connect(lambda *args: said.append(args))
    view = begun(page)
    view.show_yarns()
    press("gull grey")
    press(Qt.Key.Key_Return)
    press("k", 3)
    todo = said[0][2]
    assert callable(todo)
    todo()
    assert shown(page).hands.bench.timeline.passes == 2
    again = said[1][2]
    assert callable(again)
    again()
    assert shown(page).hands.bench.timeline.passes == 5


def test_the_form_holds_so_many_yarns_and_goes_by_escape(page: LearnPage) -> None:
    view = bench_view(page)
    view.show_yarns()
    while len(view.yarns.lines) < MOST_YARNS:
        view.yarns.another.click()
    assert view.yarns.another.isHidden()
    press(Qt.Key.Key_Escape)
    assert view.yarns.isHidden()
    assert page.view is view, "the bench is not left"


def test_yarns_left_as_they_are_change_nothing(page: LearnPage) -> None:
    said: list[object] = []
    page.said.connect(lambda *args: said.append(args))
    view = begun(page)
    view.show_yarns()
    view.yarns.use.click()
    assert shown(page).hands.bench.yarns == BENCH_YARNS
    assert said == []


# -- the bench itself -------------------------------------------------------------------------------------


def test_with_other_yarns_what_was_undone_can_still_be_done_again() -> None:
    bench = BenchRun(Bed(8))
    for action in (Thread("main"), CastOn(tuple(range(8))), Knit(1), Knit(1)):
        assert bench.do(action) == ""
    bench.undo()
    pine = Yarn(id="pine", name="pine green", role="fabric")
    again = bench.with_yarns((*BENCH_YARNS, pine))
    assert again.timeline.passes == 1
    again.redo()
    assert again.timeline.passes == 2
    assert again.do(Thread("pine")) == ""
    assert bench.timeline.passes == 1


def test_a_role_in_which_it_could_not_have_been_done_is_refused() -> None:
    # Waste lets go of the open loops of the fabric when they are hung; of fabric nothing does.
    bench = BenchRun(Bed(8))
    middle = (3, 4)
    for action in (
        Thread("main"),
        CastOn(middle),
        Knit(2),
        Cut(),
        Thread("waste"),
        Knit(6),
        Cut(),
        Knit(1),
        HoldCams(on=False),
        Place(middle, Position.WORK),
        Hang(middle, OpenEdge(middle)),
    ):
        assert bench.do(action) == "", action
    assert bench.with_yarns(BENCH_YARNS).timeline.passes == bench.timeline.passes
    all_waste = (BENCH_YARNS[0].model_copy(update={"role": "waste"}), *BENCH_YARNS[1:])
    with pytest.raises(ValueError, match="waste from L1 holds no fabric"):
        bench.with_yarns(all_waste)
