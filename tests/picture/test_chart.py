from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.bed.actions import CastOn, Cut, HoldCams, Knit, Place, Thread
from bedview.bed.needles import Position
from bedview.picture.chart import ChartMark, ChartPart, ChartScene, chart_of
from bedview.picture.chart_drawing import draw_chart
from bedview.picture.chart_layout import CARD_LEAST, lay_out_chart, stack_cards
from bedview.picture.look import LIGHT
from bedview.picture.marks import Box, Boxes, Text, cautious_width, text_box
from bedview.picture.time_line import TimeLineScene, draw_time_line, lay_out_time_line
from tests.picture.examples import ran

NEEDLES = (2, 3, 4, 5)


def small() -> ChartScene:
    """Six passes: two on all, two without the right needle, which the first of them wraps, two of waste."""
    timeline = ran(
        8,
        Place(NEEDLES, Position.WORK),
        Thread("main"),
        CastOn(NEEDLES),
        Knit(2),
        HoldCams(True),
        Place((5,), Position.HOLD),
        Knit(2),
        HoldCams(False),
        Cut(),
        Thread("scrap"),
        Knit(2),
    )
    return chart_of(
        timeline, [("Start", 0, 3), ("Slope", 4, 6), ("Rest", 7, 6), ("Scrap off", 7, 10)], chosen=1
    )


def test_bars_are_what_each_pass_knits() -> None:
    scene = small()
    assert scene.passes == 6
    assert scene.bars.tolist() == [
        [1, 2, 5, 0],
        [2, 2, 5, 0],
        [3, 2, 4, 1],
        [4, 2, 4, 1],
        [5, 2, 5, 3],
        [6, 2, 5, 3],
    ]
    assert scene.wraps.tolist() == [[3, 5]]
    assert scene.role[1:].tolist() == [0, 0, 0, 0, 1, 1]


def test_parts_know_their_passes_even_without_any() -> None:
    assert small().parts == (
        ChartPart("Start", 1, 2),
        ChartPart("Slope", 3, 4),
        ChartPart("Rest", 5, 4),
        ChartPart("Scrap off", 5, 6),
    )
    assert [part.rows for part in small().parts] == [2, 2, 0, 2]


def test_a_pass_with_a_gap_has_two_bars() -> None:
    needles = (0, 1, 4, 5)
    timeline = ran(6, Place(needles, Position.WORK), Thread("main"), CastOn(needles), Knit(1))
    assert chart_of(timeline, [("All", 0, 3)]).bars.tolist() == [[1, 0, 1, 0], [1, 4, 5, 0]]


def test_pointing_at_the_chart() -> None:
    scene = small()
    layout = lay_out_chart(scene, 800, 500)
    for number in range(1, 7):
        middle = layout.top_of(number) + layout.row / 2
        assert layout.pass_at(middle) == number
    assert layout.pass_at(layout.bottom + 2) is None
    for needle in range(layout.first, layout.last + 1):
        assert layout.needle_at(layout.x_of(needle)) == needle
    for place, (top, bottom) in enumerate(layout.cards):
        assert layout.part_at(20, (top + bottom) / 2) == place
    assert layout.part_at(layout.cards_right + 5, 100) is None


@given(st.lists(st.integers(0, 300), min_size=1, max_size=40), st.integers(300, 1600))
def test_cards_never_overlap_and_stay_inside(rows: list[int], height: int) -> None:
    scale = height / max(1, sum(rows))
    edges = np.concatenate(([0], np.cumsum(rows))) * scale
    wanted = [(height - high, height - low) for low, high in pairwise(edges.tolist())]
    cards = stack_cards(wanted, -8, height + 14)
    for (top, bottom), (next_top, next_bottom) in pairwise(cards):
        assert next_bottom <= top + 1e-6, "the later part stands higher"
        assert bottom > top
        assert next_bottom > next_top
    assert cards[0][1] <= height + 14 + 1e-6
    assert cards[-1][0] >= -8 - 1e-6
    if len(rows) * (CARD_LEAST + 3) < height:
        assert all(bottom - top >= CARD_LEAST - 1e-6 for top, bottom in cards), (
            "a part of two rows can be read"
        )


@pytest.mark.parametrize("cards", [True, False])
@pytest.mark.parametrize("size", [(520, 300), (900, 600), (1900, 1000)])
def test_no_text_of_the_chart_touches_another(size: tuple[int, int], cards: bool) -> None:
    picture = draw_chart(small(), *size, LIGHT, cards=cards)
    boxes = [text_box(mark, cautious_width) for mark in picture.marks() if isinstance(mark, Text)]
    assert len(boxes) >= 4
    for one, other in combinations(boxes, 2):
        assert not (one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3])


def test_low_rows_are_joined_to_blocks_that_cover_as_much() -> None:
    needles = tuple(range(10))
    timeline = ran(
        10, Place(needles, Position.WORK), Thread("main"), CastOn(needles), Knit(1500), HoldCams(True)
    )
    timeline.append(Place((9,), Position.HOLD))
    timeline.append(Knit(500))
    scene = chart_of(timeline, [("Body", 0, 4), ("Slope", 5, 6)])
    picture = draw_chart(scene, 900, 600, LIGHT)
    layout = lay_out_chart(scene, 900, 600)
    boxes = np.concatenate([mark.boxes for mark in picture.layer("bars") if isinstance(mark, Boxes)])
    assert len(boxes) == 2, "1,500 like rows and 500 like rows"
    assert boxes[:, 3].sum() == pytest.approx(2000 * layout.row, abs=2)


def test_the_worst_of_crowded_findings_is_shown() -> None:
    scene = small()
    marks = tuple(ChartMark(3, 4, severity) for severity in ("note", "error", "warning"))
    crowded = ChartScene(
        scene.needles, scene.passes, scene.bars, scene.wraps, scene.role, scene.parts, marks, chosen=None
    )
    only_error = ChartScene(
        scene.needles, scene.passes, scene.bars, scene.wraps, scene.role, scene.parts, marks[1:2], chosen=None
    )
    draw = [draw_chart(each, 900, 600, LIGHT).layer("marks") for each in (crowded, only_error)]
    assert draw[0] == draw[1] != ()


def test_the_chosen_part_is_framed() -> None:
    scene = small()
    layout = lay_out_chart(scene, 900, 600)
    (frame,) = draw_chart(scene, 900, 600, LIGHT).layer("frame")
    assert isinstance(frame, Box)
    assert frame.y <= layout.top_of(4)
    assert frame.y + frame.height >= layout.top_of(2)


@given(st.integers(1, 3000), st.integers(60, 2000), st.data())
def test_the_time_line_can_be_pointed_at(passes: int, width: int, data: st.DataObject) -> None:
    layout = lay_out_time_line(passes, width, 80)
    at = data.draw(st.integers(0, passes))
    assert layout.passes_at(layout.x_of(at)) == at
    assert layout.passes_at(-50) == 0
    assert layout.passes_at(width + 50) == passes


@given(st.integers(0, 6), st.integers(200, 1500))
def test_the_bubble_stays_in_the_picture(at: int, width: int) -> None:
    scene = TimeLineScene(small().parts, 6, at)
    *_, bubble, text = draw_time_line(scene, width, 80, LIGHT).layer("cursor")
    assert isinstance(bubble, Box)
    assert isinstance(text, Text)
    assert text.text == f"row {at}"
    assert bubble.x >= 0
    assert bubble.x + bubble.width <= width
