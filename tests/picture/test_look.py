import pytest
import wcag_contrast_ratio
from hypothesis import given
from hypothesis import strategies as st

from bedview.picture.colour import Colour, channels, contrast, mix, readable
from bedview.picture.look import MARK_CONTRAST, PALETTES, TEXT_CONTRAST, Palette, yarn_shades

colours = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")
looks = pytest.mark.parametrize("look", PALETTES.values(), ids=PALETTES)


def outside_ratio(one: Colour, other: Colour) -> float:
    red, blue = ([channel / 255 for channel in channels(colour)] for colour in (one, other))
    return float(wcag_contrast_ratio.rgb(tuple(red), tuple(blue)))


@given(colours, colours)
def test_contrast_agrees_with_the_published_measure(one: Colour, other: Colour) -> None:
    assert contrast(one, other) == pytest.approx(outside_ratio(one, other), rel=1e-3)


@looks
def test_text_can_be_read(look: Palette) -> None:
    pairs = [
        (look.ink, look.paper),
        (look.ink, look.card),
        (look.ink, look.plate),
        (look.quiet_ink, look.paper),
        (look.quiet_ink, look.card),
        (look.quiet_ink, look.plate),
        (look.hands, look.paper),
        (look.on_hands, look.hands),
        (look.on_carriage, look.carriage),
        (look.on_body, look.body),
        (look.on_body, look.body_field),
        (look.on_warning, look.warning),
        *((look.on(tint), tint) for tint in look.tints),
    ]
    assert [pair for pair in pairs if outside_ratio(*pair) < TEXT_CONTRAST] == []


@looks
def test_marks_stand_out(look: Palette) -> None:
    pairs = [
        (look.needle, look.paper),
        (look.needle, look.plate),
        (look.needle, look.lip),
        (look.idle, look.plate),
        (look.hands, look.paper),
        (look.carriage, look.rail),
        (look.carriage, look.paper),
        (look.body, look.plate),
        (look.warning, look.paper),
        (look.note, look.paper),
        *((tint, look.paper) for tint in look.tints),
    ]
    assert [pair for pair in pairs if outside_ratio(*pair) < MARK_CONTRAST] == []


@looks
def test_the_two_accents_are_not_taken_for_each_other(look: Palette) -> None:
    red, _, blue = channels(look.hands)
    assert red > blue, "hands are warm"
    red, _, blue = channels(look.carriage)
    assert blue > red, "the carriage is cool"


@looks
def test_neighbouring_segments_differ_in_grey_too(look: Palette) -> None:
    pairs = zip(look.tints, (*look.tints[1:], look.tints[0]), strict=True)
    assert [pair for pair in pairs if outside_ratio(*pair) < 1.3] == []


@looks
@given(colour=colours)
def test_yarn_of_any_colour_shows(look: Palette, colour: Colour) -> None:
    shades = yarn_shades(colour, look)
    assert shades.body == colour
    assert outside_ratio(shades.rim, colour) >= 2 - 0.02
    assert (
        max(outside_ratio(colour, look.paper), outside_ratio(shades.rim, look.paper)) >= MARK_CONTRAST - 0.02
    )


@given(colours, colours)
def test_readable_moves_no_colour_that_can_stay(colour: Colour, ground: Colour) -> None:
    found = readable(colour, ground, 4.5)
    assert contrast(found, ground) >= 4.5 or found in ("#000000", "#ffffff")
    if contrast(colour, ground) >= 4.5:
        assert found == colour


def test_half_black_and_half_white_is_grey() -> None:
    assert mix("#000000", "#ffffff", 0.5) == "#808080"
