from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedview import catalogue
from bedview.bed.needles import Position, Side
from bedview.picture.bed_drawing import draw_bed
from bedview.picture.bed_fabric import loops_painted
from bedview.picture.bed_layout import MIN_CELL, lay_out
from bedview.picture.bed_needles import needles_painted
from bedview.picture.bed_scene import BedScene, ComingPass, Touch, TouchKind, View, empty_scene
from bedview.picture.look import DARK, LIGHT
from bedview.picture.marks import Box, DisplayList, Lines, Shape, Text, Tiles, cautious_width, text_box
from bedview.picture.scene_building import scene_at
from tests.picture.examples import YARNS, one_held, standing

SIZES = st.tuples(st.integers(640, 3840), st.integers(200, 1200))


@st.composite
def beds(draw: st.DrawFn) -> BedScene:
    """Beds of every size in any state that a picture may meet."""
    count = draw(st.integers(1, 200)) * 2
    first = draw(st.integers(0, count - 1))
    last = draw(st.integers(first, count - 1))
    positions = np.zeros(count, np.uint8)
    dice = np.random.default_rng(draw(st.integers(0, 999)))
    positions[first : last + 1] = dice.integers(0, 4, last - first + 1)
    loops = np.where(positions > 0, dice.integers(0, 6, count), 0).astype(np.int32)
    wraps = np.where(positions == Position.HOLD, dice.integers(0, 6, count), 0).astype(np.int32)
    touched = tuple(sorted({first, last, (first + last) // 2}))
    return replace(
        empty_scene(count, draw(st.sampled_from(Side))),
        positions=positions,
        loops=loops,
        wraps=wraps,
        loop_yarn=np.where(loops > 0, 0, -1).astype(np.int32),
        wrap_yarn=np.where(wraps > 0, 0, -1).astype(np.int32),
        yarns=YARNS,
        dial=draw(st.sampled_from((None, 6.0, 7.25, 20.0))),
        hold_cams=draw(st.booleans()),
        touches=draw(st.sampled_from(((), (Touch(TouchKind.PLACE, touched, to=Position.HOLD),)))),
        view=View(turned=draw(st.booleans())),
    )


def overlap(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def texts(picture: DisplayList) -> list[Text]:
    return [mark for mark in picture.marks() if isinstance(mark, Text)]


# -- what is drawn -----------------------------------------------------------------------------------


def test_every_needle_is_drawn_once_in_its_position() -> None:
    picture = draw_bed(standing("oowwuhhhoo"), 1280, 390, LIGHT)
    counts = [needles_painted(picture.layer("needles"), position) for position in Position]
    assert counts == [4, 2, 1, 3]


def test_loops_wraps_and_stacks_show() -> None:
    picture = draw_bed(standing("wwhhhw", loops="112100", wraps="001230"), 1280, 390, LIGHT)
    crowns = [mark for mark in picture.layer("loops") if isinstance(mark, Tiles)]
    assert sum(mark.total for mark in crowns) == 4 + 1, "four needles bear loops, one of them a second"
    bars = [mark for mark in picture.layer("wraps") if isinstance(mark, Tiles)]
    assert sum(mark.total for mark in bars) == 3 + 2, "three bear wraps, two of them a second"
    assert [mark.text for mark in picture.layer("counts") if isinstance(mark, Text)] == ["3"]


def test_fabric_has_as_many_loops_as_the_machine_made() -> None:
    scene = scene_at(one_held(), one_held().lines - 1, yarns=YARNS)
    picture = draw_bed(scene, 1280, 390, LIGHT)
    # Four rows of the window on needles 0 to 2, three on needle 3.
    assert loops_painted(picture.layer("fabric"), "back") == 4 * 3 + 3
    assert loops_painted(picture.layer("fabric"), "front") == 4 * 3 + 3


def test_the_yarn_runs_from_its_tip_to_the_carriage() -> None:
    timeline = one_held()
    scene = scene_at(timeline, timeline.lines - 1, yarns=YARNS)
    assert (scene.tip, scene.carriage, scene.feeder) == (0, Side.LEFT, 0)
    layout = lay_out(scene, 1280, 390)
    strand = draw_bed(scene, 1280, 390, LIGHT).layer("yarn")[-1]
    assert isinstance(strand, Shape)
    start, end = strand.path[0][1][0], strand.path[-1][1][-2]
    assert layout.x_of(0) - layout.cell / 2 <= start <= layout.x_of(0)
    assert 0 < end < layout.carriage_left(on_the_right=False) + layout.carriage_width


def test_without_yarn_no_strand_is_drawn() -> None:
    assert draw_bed(standing("wwww"), 1280, 390, LIGHT).layer("yarn") == ()


def test_what_comes_is_taken_from_the_timeline() -> None:
    timeline = one_held()
    step = range(timeline.lines - 2, timeline.lines)
    scene = scene_at(timeline, step.start - 1, coming=step, yarns=YARNS)
    assert scene.touches == (Touch(TouchKind.PLACE, (3,), to=Position.HOLD),)
    assert scene.coming is not None
    assert scene.coming.towards is Side.LEFT
    assert scene.coming.knit.tolist() == [0, 1, 2]
    assert scene.coming.wrapped.tolist() == [3]


def test_needles_to_be_touched_are_haloed_and_named() -> None:
    scene = replace(
        standing("wwwwwwwwwwwwwwwwwwwwwwww"), touches=(Touch(TouchKind.PLACE, (2, 3, 7), to=Position.HOLD),)
    )
    picture = draw_bed(scene, 640, 300, LIGHT)
    layout = lay_out(scene, 640, 300)
    halos = [mark for mark in picture.layer("touches") if isinstance(mark, Box)]
    assert len(halos) == 2, "two stretches: 2 to 3, and 7"
    assert halos[0].x <= layout.x_of(2)
    assert halos[0].x + halos[0].width >= layout.x_of(3)
    bold = {mark.text for mark in picture.layer("numbers") if isinstance(mark, Text) and mark.bold}
    assert "L10" in bold
    assert "L5" in bold


@pytest.mark.parametrize(("carriage", "goes"), [(Side.RIGHT, -1), (Side.LEFT, 1)])
def test_the_arrow_leads_away_from_the_carriage(carriage: Side, goes: int) -> None:
    scene = replace(
        standing("wwwwww"), carriage=carriage, coming=ComingPass(carriage.other, knit=np.array([1, 2, 3]))
    )
    shaft = draw_bed(scene, 1280, 390, LIGHT).layer("coming")[-2]
    assert isinstance(shaft, Shape)
    start, end = shaft.path[0][1][0], shaft.path[1][1][0]
    assert np.sign(end - start) == goes


# -- where it is drawn -------------------------------------------------------------------------------


@given(beds(), SIZES)
@settings(max_examples=150, deadline=None)
def test_no_text_touches_another_or_leaves_the_picture(scene: BedScene, size: tuple[int, int]) -> None:
    picture = draw_bed(scene, *size, LIGHT)
    boxes = [text_box(mark, cautious_width) for mark in texts(picture)]
    for one, other in combinations(boxes, 2):
        assert not overlap(one, other)
    for left, top, right, bottom in boxes:
        assert left >= 0
        assert right <= size[0]
        assert top >= 0
        assert bottom <= size[1]


@given(beds(), SIZES)
@settings(max_examples=100, deadline=None)
def test_the_carriage_covers_no_needle_and_no_name(scene: BedScene, size: tuple[int, int]) -> None:
    layout = lay_out(scene, *size)
    right = (scene.carriage is Side.RIGHT) is not scene.view.turned
    left = layout.carriage_left(right)
    assert left + layout.carriage_width <= layout.left or left >= layout.right
    picture = draw_bed(scene, *size, LIGHT, layout=layout)
    carriage = next(
        mark for mark in picture.layer("carriage") if isinstance(mark, Box) and mark.fill == LIGHT.body
    )
    box = carriage.x, carriage.y, carriage.x + carriage.width, carriage.y + carriage.height
    for name in (*picture.layer("numbers"), *picture.layer("labels"), *picture.layer("counts")):
        if isinstance(name, Text):
            assert not overlap(box, text_box(name, cautious_width))


def whole_sizes(text: str, size: float, bold: bool) -> float:
    """As wide as a typeface that comes in whole sizes only, as screens have them."""
    return len(text) * max(1, round(size)) * (0.66 if bold else 0.6)


@given(beds(), SIZES)
@settings(max_examples=100, deadline=None)
def test_what_stands_on_the_carriage_stays_on_it_in_the_longest_words(
    scene: BedScene, size: tuple[int, int]
) -> None:
    catalogue.speak("fr")
    try:
        picture = draw_bed(scene, *size, LIGHT, measure=whole_sizes)
    finally:
        catalogue.speak("en")
    body = next(
        mark for mark in picture.layer("carriage") if isinstance(mark, Box) and mark.fill == LIGHT.body
    )
    for mark in picture.layer("carriage"):
        if isinstance(mark, Text) and mark.size > 1:
            wide = whole_sizes(mark.text, mark.size, mark.bold)
            left = mark.x - wide / 2 if mark.anchor == "middle" else mark.x
            assert left >= body.x
            assert left + wide <= body.x + body.width


@given(beds(), SIZES, st.data())
@settings(max_examples=150, deadline=None)
def test_pointing_is_the_inverse_of_drawing(
    scene: BedScene, size: tuple[int, int], data: st.DataObject
) -> None:
    layout = lay_out(scene, *size)
    needle = data.draw(st.integers(layout.first, layout.last))
    y = (layout.rail_bottom + layout.loop_line) / 2
    y = size[1] - y if layout.turned else y
    assert layout.needle_at(layout.x_of(needle), y) == needle
    edge = layout.x_of(needle) - layout.cell / 2
    assert layout.needle_at(edge + 0.01, y) == needle
    assert layout.needle_at(layout.left - 1, y) is None
    assert layout.needle_at(layout.right + 1, y) is None


@given(beds(), SIZES)
@settings(max_examples=150, deadline=None)
def test_touched_needles_are_shown_and_cells_are_whole_pixels(scene: BedScene, size: tuple[int, int]) -> None:
    layout = lay_out(scene, *size)
    assert layout.cell >= MIN_CELL
    assert layout.cell == int(layout.cell)
    assert layout.row == int(layout.row)
    assert 0 <= layout.first <= layout.last < scene.needles
    first, last = scene.in_use()
    if layout.columns > last - first:
        assert layout.shows(first), "what is in use is shown if it fits"
        assert layout.shows(last)
    assert layout.has_map is (layout.columns < scene.needles)
    touched = scene.touched()
    if touched and touched[-1] - touched[0] < layout.columns / 2:
        assert layout.shows(touched[0])
        assert layout.shows(touched[-1])


@given(SIZES)
def test_positions_reach_further_and_further(size: tuple[int, int]) -> None:
    layout = lay_out(standing("owuh"), *size)
    tips = [layout.tip(position) for position in Position]
    assert all(later - earlier >= 8 for earlier, later in pairwise(tips))
    butts = [layout.butt(position) for position in Position]
    assert layout.rail_bottom < butts[0]
    assert butts[-1] < layout.lip_top
    assert layout.tip(Position.OUT) < layout.gate < layout.loop_line < layout.tip(Position.WORK)


def test_turned_round_left_and_right_are_exchanged_and_needles_point_away() -> None:
    scene = standing("owwwhhhhho", loops="0111111110")
    plain, turned = scene, replace(scene, view=View(turned=True))
    here, there = lay_out(plain, 1000, 400), lay_out(turned, 1000, 400)
    for needle in range(10):
        assert here.x_of(needle) - here.left == pytest.approx(there.right - there.x_of(needle))
    names = {
        mark.text: mark
        for mark in draw_bed(turned, 1000, 400, LIGHT).layer("numbers")
        if isinstance(mark, Text)
    }
    assert names["L5"].x > names["R5"].x
    assert all(mark.y > 200 for mark in names.values()), "the numbers lie on the near side, below"


def test_a_picture_does_not_depend_on_the_look_but_for_colour() -> None:
    scene = standing("owuh", loops="0111")
    light, dark = draw_bed(scene, 800, 300, LIGHT), draw_bed(scene, 800, 300, DARK)
    assert [type(mark) for mark in light.marks()] == [type(mark) for mark in dark.marks()]
    assert light.ground != dark.ground


def test_narrow_cells_say_the_position_once_more_on_the_lip() -> None:
    scene = standing("w" * 150 + "h" * 100 + "u" * 50 + "o" * 100, loops="1" * 300 + "0" * 100)
    picture = draw_bed(scene, 1920, 600, LIGHT)
    layout = lay_out(scene, 1920, 600)
    bands = [mark for mark in picture.layer("needles") if not isinstance(mark, (Tiles, Lines))]
    heights = sorted(float(mark.boxes[0, 3]) for mark in bands if len(mark.boxes))  # type: ignore[union-attr]
    assert heights[-1] == layout.gate - layout.lip_top, "held: the whole lip"
    assert heights[0] < heights[-1] / 2
