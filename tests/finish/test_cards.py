import re
from itertools import pairwise

import pytest

from bedview.finish.card_drawing import card_height, draw_card
from bedview.finish.cards import CARDS, TechniqueCard, ThreadPart, technique_card
from bedview.picture.look import CONTRAST, DARK, LIGHT, Palette
from bedview.picture.marks import Shape, Tiles
from bedview.resources import resource_path


def thread(card: TechniqueCard) -> ThreadPart:
    (found,) = (part for part in card.drawing.parts if isinstance(part, ThreadPart))
    return found


def test_every_file_is_a_card_and_every_card_a_file() -> None:
    files = {path.stem for path in resource_path("cards").glob("*.json")}
    assert files == set(CARDS)
    assert len({technique_card(name).title for name in CARDS}) == len(CARDS)


def test_there_is_no_card_of_another_name() -> None:
    with pytest.raises(KeyError):
        technique_card("../demos/harbour-bootee.piece")


@pytest.mark.parametrize("name", ["grafting_right_side", "grafting_wrong_side"])
def test_a_grafting_thread_goes_through_every_loop_twice(name: str) -> None:
    # Points a fifth of a stitch about a loop's middle belong to it; lower loops stand at whole numbers,
    # upper ones half a stitch beside them. Both ends of the thread without a partner yet.
    points = thread(technique_card(name)).points
    lower = [round(x) for x, y, _ in points if y > 4 and abs(x - round(x)) < 0.2 and x > 1]
    upper = [round(x - 0.5) for x, y, _ in points if y < 2]
    assert {loop: lower.count(loop) for loop in (2, 3, 4)} == {2: 2, 3: 2, 4: 2}
    assert {loop: upper.count(loop) for loop in (2, 3)} == {2: 2, 3: 2}


def test_from_the_wrong_side_over_is_under() -> None:
    right = thread(technique_card("grafting_right_side")).points
    wrong = thread(technique_card("grafting_wrong_side")).points
    assert [point[:2] for point in right] == [point[:2] for point in wrong]
    # But for the needle's end, which is in the hand.
    assert all(one[2] != other[2] for one, other in zip(right[:-1], wrong[:-1], strict=True))


def test_a_mattress_seam_takes_bars_of_both_sides_by_turns() -> None:
    points = thread(technique_card("mattress")).points
    bars = [(x, y) for x, y, way in points if way == "under"]
    sides = [x for x, _ in bars]
    assert all(one != other for one, other in pairwise(sides))
    # One row further up every second time.
    for side in set(sides):
        rows = [y for x, y in bars if x == side]
        assert [round(low - high, 6) for low, high in pairwise(rows)] == [1.0] * (len(rows) - 1)


@pytest.mark.parametrize("palette", [LIGHT, DARK, CONTRAST], ids=lambda palette: palette.name)
@pytest.mark.parametrize("name", CARDS)
def test_a_drawing_stays_within_its_picture(name: str, palette: Palette) -> None:
    drawing = technique_card(name).drawing
    picture = draw_card(drawing, 380, palette)
    assert picture.height == pytest.approx(card_height(drawing, 380))
    assert picture.title == drawing.says
    for mark in picture.marks():
        if isinstance(mark, Tiles):
            ends = mark.x + (mark.count - 1) * mark.advance
            assert mark.x.min() >= 0
            assert ends.max() <= picture.width
        elif isinstance(mark, Shape):
            numbers = [value for _, values in mark.path for value in values[::2]]
            assert min(numbers) >= -2
            assert max(numbers) <= picture.width + 2


def test_a_drawing_grows_with_its_width() -> None:
    drawing = technique_card("mattress").drawing
    assert card_height(drawing, 600) == pytest.approx(2 * card_height(drawing, 300))
    stitch = {
        width: next(
            mark.advance for mark in draw_card(drawing, width, LIGHT).marks() if isinstance(mark, Tiles)
        )
        for width in (312, 624)
    }
    assert stitch[624] == 2 * stitch[312]


def test_what_is_under_the_fabric_is_painted_before_it() -> None:
    picture = draw_card(technique_card("mattress").drawing, 380, LIGHT)
    assert [layer.name for layer in picture.layers] == ["under", "fabric", "over", "words"]
    # Two bars a row on four rows, and as many crossings and both ends over it.
    assert len(picture.layer("under")) == 8


@pytest.mark.parametrize("name", CARDS)
def test_sentences_end_and_name_no_needle_of_a_piece(name: str) -> None:
    card = technique_card(name)
    for sentence in (card.when, *card.steps, card.drawing.says):
        assert sentence.endswith(".")
        assert not re.search(r"\b[LR]\d", sentence)
