"""Text that fits, acts that are never cut off, and a page without overlaps, for any size of window."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.session.glance import PartDone
from bedview.ui.knit.acts_layout import ActLine, ActsLayout, Room, Sign, fit_acts
from bedview.ui.knit.acts_view import room_for
from bedview.ui.knit.arrangement import TARGET, ActsRoom, Arrangement, Box, arrange
from bedview.ui.knit.parts_bar import part_widths
from bedview.ui.knit.text_fitting import LINE_HEIGHT, fit_lines, wrap

SIZES = [
    (900, 600),
    (1280, 720),
    (1366, 768),
    (1920, 1080),
    (2560, 1440),
    (3840, 2160),
    (720, 520),
    (480, 560),
]


def measure(text: str, px: float, bold: bool) -> float:
    """A typeface whose letters are all as wide as half the size, bold ones a little wider."""
    return len(text) * px * (0.55 if bold else 0.5)


# -- text -------------------------------------------------------------------------------------------------


def test_words_go_on_in_the_next_line() -> None:
    assert wrap("bring R10 to hold", 50, 10, False, measure) == ["bring R10", "to hold"]


def test_a_word_too_wide_is_broken() -> None:
    assert wrap("abcdefghij kl", 25, 10, False, measure) == ["abcde", "fghij", "kl"]


@given(st.text(alphabet="ab -", max_size=60), st.floats(11, 300), st.floats(8, 60))
def test_no_line_is_too_wide_and_nothing_is_lost(text: str, width: float, px: float) -> None:
    lines = wrap(text, width, px, False, measure)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(measure(line, px, False) <= width or len(line) == 1 for line in lines)


def test_text_shrinks_before_it_is_cut_short() -> None:
    lines, px = fit_lines("twelve chars", 50, 1, 10, False, measure, smallest=7)
    assert lines == ["twelve chars"]
    assert 7 <= px <= 50 / 6
    lines, px = fit_lines("twelve chars and more", 50, 1, 10, False, measure, smallest=7)
    assert px == 7
    assert lines[0].endswith("…")
    assert measure(lines[0], px, False) <= 50


# -- acts -------------------------------------------------------------------------------------------------


def hands(text: str, number: int) -> ActLine:
    return ActLine(text, Sign.HANDS, number)


def a_room(width: float = 700, height: float = 190, most: float = 330) -> Room:
    return Room(width, height, most, best_px=47, good_px=34, least_px=15)


def assert_inside(layout: ActsLayout, width: float, height: float) -> None:
    assert layout.height <= height
    for text in layout.texts:
        assert text.x >= 0
        assert text.y >= 0
        assert text.x + measure(text.text, text.px, text.bold) <= width + 0.5
        assert text.y + text.px * LINE_HEIGHT <= height + 0.5
    for mark in layout.marks:
        assert mark.x - mark.across / 2 >= -0.5
        assert mark.y + mark.across / 2 <= height + 0.5


def test_two_short_acts_stand_at_their_best_size() -> None:
    acts = [hands("Bring R10 to hold", 1), ActLine("Knit to the left", Sign.CARRIAGE, 2)]
    layout = fit_acts(acts, a_room(), measure)
    assert layout.px == 47
    assert [text.text for text in layout.texts] == ["Bring R10 to hold", "Knit to the left"]
    assert_inside(layout, 700, 190)


def test_a_little_smaller_rather_than_on_two_lines() -> None:
    acts = [hands("Push L12 and R12 back to working", 1)]
    layout = fit_acts(acts, a_room(width=760), measure)
    assert len(layout.texts) == 1
    assert 0.8 * 47 <= layout.px < 47


@pytest.mark.parametrize("count", [1, 3, 6, 12, 25, 60])
def test_long_lists_shrink_and_are_never_cut(count: int) -> None:
    acts = [hands(f"Move the loop of L{number} onto L{number + 1}", number) for number in range(1, count)]
    acts += [ActLine("Knit to the left", Sign.CARRIAGE, count)]
    acts += [
        ActLine("Mind your fingers: hooks are sharp.", Sign.CAUTION),
        ActLine("Why it is so.", Sign.NOTHING),
    ]
    layout = fit_acts(acts, a_room(), measure)
    assert_inside(layout, 700, 330)
    said = " ".join(text.text for text in layout.texts)
    assert all(line.text in said or line.text.split()[-1] in said for line in acts)
    assert [mark.number for mark in layout.marks if mark.number] == list(range(1, count + 1))


def test_twelve_acts_are_still_read_in_columns() -> None:
    acts = [hands(f"Wrap L{number} by hand", number) for number in range(1, 13)]
    layout = fit_acts(acts, a_room(), measure)
    assert len({round(mark.x) for mark in layout.marks}) > 1
    assert layout.px > 20


words = st.lists(st.text(alphabet="abcdefgh", min_size=1, max_size=12), min_size=1, max_size=14).map(" ".join)


@given(st.lists(words, min_size=1, max_size=16), st.sampled_from(SIZES))
def test_any_acts_fit_on_any_page(texts: list[str], size: tuple[int, int]) -> None:
    lines = [hands(text, number) for number, text in enumerate(texts, 1)]
    found: list[ActsLayout] = []

    def height(room: ActsRoom, unit: float) -> float:
        found.append(fit_acts(lines, room_for(room, unit, len(lines)), measure))
        return found[-1].height

    places = arrange(*size, height)
    assert_inside(found[-1], places.acts.width, places.acts.height)


# -- the page ---------------------------------------------------------------------------------------------


def boxes(places: Arrangement) -> dict[str, Box]:
    names = ("header", "bar", "bed", "acts", "after", "buttons", "foot")
    return {name: getattr(places, name) for name in names}


def overlap(one: Box, other: Box) -> bool:
    return (
        min(one.right, other.right) - max(one.x, other.x) > 0.5
        and min(one.bottom, other.bottom) - max(one.y, other.y) > 0.5
    )


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("acts_height", [20, 120, 400, 5000])
def test_nothing_overlaps_and_all_is_inside(size: tuple[int, int], acts_height: float) -> None:
    places = boxes(arrange(*size, lambda room, _unit: min(acts_height, room.most_height)))
    for name, box in places.items():
        assert box.x >= 0, name
        assert box.y >= 0, name
        assert box.right <= size[0] + 0.5, name
        assert box.bottom <= size[1] + 0.5, name
        for other, its in places.items():
            assert name == other or not overlap(box, its), (name, other)


@pytest.mark.parametrize("size", SIZES)
def test_buttons_are_large_and_the_bed_keeps_its_share(size: tuple[int, int]) -> None:
    places = arrange(*size, lambda room, _unit: room.most_height)
    assert places.buttons.height >= TARGET
    assert places.foot.height >= TARGET
    assert places.bed.height >= 0.15 * size[1]
    usual = arrange(*size, lambda _room, unit: 150 * unit)
    assert usual.bed.height >= 0.3 * size[1]


@given(st.lists(st.integers(1, 500), min_size=1, max_size=80), st.floats(200, 3000))
def test_parts_fill_the_bar_and_none_is_lost(steps: list[int], width: float) -> None:
    widths = part_widths([PartDone("", count, 0) for count in steps], width)
    gaps = 3.0 * (len(steps) - 1)
    if width <= gaps:
        assert set(widths) == {0.0}
    else:
        assert sum(widths) + gaps == pytest.approx(width)
        assert min(widths) > 0
