"""Pictures as they reach the eye: told apart in grey and by colour-blind eyes, painted as described."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from colorspacious import cspace_convert
from PySide6.QtGui import QImage

from bedview.bed.needles import Position
from bedview.painting.fonts import text_width
from bedview.painting.render import render_image, render_png
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_drawing import draw_bed
from bedview.picture.bed_layout import lay_out
from bedview.picture.bed_scene import BedScene, YarnSeen
from bedview.picture.look import LIGHT, PALETTES, Palette
from bedview.picture.marks import Box, DisplayList, Layer, Tiles
from bedview.picture.needle_tiles import needle_style, needle_tile
from tests.picture.examples import standing

Pixels = npt.NDArray[np.float64]
pytestmark = pytest.mark.usefixtures("qapp")
looks = pytest.mark.parametrize("look", PALETTES.values(), ids=PALETTES)
EYES = {
    "usual": None,
    "deuteranomaly": {"name": "sRGB1+CVD", "cvd_type": "deuteranomaly", "severity": 100},
    "protanomaly": {"name": "sRGB1+CVD", "cvd_type": "protanomaly", "severity": 100},
    "tritanomaly": {"name": "sRGB1+CVD", "cvd_type": "tritanomaly", "severity": 100},
}
"""Simulated by the model of Machado, Oliveira and Fernandes, 2009, as colorspacious has it."""


def pixels(image: QImage) -> Pixels:
    """Red, green, blue from 0 to 1; shape (height, width, 3)."""
    plain = image.convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(plain.constBits(), np.uint8).reshape(plain.height(), plain.bytesPerLine())
    return rows[:, : plain.width() * 3].reshape(plain.height(), plain.width(), 3) / 255.0


def columns(scene: BedScene, look: Palette, size: tuple[int, int]) -> list[Pixels]:
    """The picture of each needle's column, from the rail down."""
    layout = lay_out(scene, *size)
    seen = pixels(render_image(draw_bed(scene, *size, look, measure=text_width)))
    cut = []
    for needle in range(layout.first, layout.last + 1):
        left = round(layout.x_of(needle) - layout.cell / 2)
        cut.append(
            seen[round(layout.rail_bottom) + 3 : round(layout.map_top), left : left + round(layout.cell)]
        )
    return cut


def grey(seen: Pixels) -> Pixels:
    shades: Pixels = seen @ np.array([0.2126, 0.7152, 0.0722])
    return shades


@looks
@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("needles", [4, 60, 400])
def test_four_positions_are_told_apart(look: Palette, eye: str, needles: int) -> None:
    scene = standing("owuh" * (needles // 4))
    middle = needles // 8 * 4
    layout = lay_out(scene, 1920, 420)
    start = middle - layout.first
    seen = columns(scene, look, (1920, 420))[start : start + 4]
    if EYES[eye] is not None:
        seen = [np.clip(cspace_convert(each, EYES[eye], "sRGB1"), 0, 1) for each in seen]
    shades = [grey(each) for each in seen]
    for one in range(4):
        for other in range(one):
            clearly = np.abs(shades[one] - shades[other]) > 0.25
            # A band of rows at least 14 pixels high in which the two columns plainly differ.
            assert clearly.any(axis=1).sum() >= 14, (Position(one), Position(other))


@looks
@pytest.mark.parametrize("colour", ["#ffffff", "#000000", "#f6f4ee", "#14171b", "#808080", "#3b6ea5"])
def test_a_loop_shows_in_yarn_of_any_colour(look: Palette, colour: str) -> None:
    yarns = (YarnSeen("any", colour),)
    bare = columns(standing("ww", yarns=yarns), look, (900, 400))[0]
    looped = columns(standing("ww", yarns=yarns, loops="11"), look, (900, 400))[0]
    assert (np.abs(grey(bare) - grey(looped)) > 0.15).sum() > 60


@looks
@pytest.mark.parametrize("colour", ["#ffffff", "#000000", "#3b6ea5", "#c9a24a"])
def test_a_wrap_shows_on_a_loop_of_its_own_yarn(look: Palette, colour: str) -> None:
    yarns = (YarnSeen("any", colour),)
    plain = columns(standing("hh", yarns=yarns, loops="11"), look, (900, 400))[0]
    wrapped = columns(standing("hh", yarns=yarns, loops="11", wraps="11"), look, (900, 400))[0]
    assert (np.abs(grey(plain) - grey(wrapped)) > 0.2).sum() > 40


def test_a_strip_is_the_same_as_tiles_painted_one_by_one() -> None:
    scene = standing("w" * 40)
    layout = lay_out(scene, 1280, 390)
    tile = needle_tile(needle_style(layout, LIGHT, Position.WORK), Position.WORK)
    x = np.array([layout.x_of(needle) for needle in range(40)])
    one, many = np.ones(40, np.int64), np.array([40])
    level = np.full(40, 150.0)

    def shown(run: Tiles) -> Pixels:
        return pixels(render_image(DisplayList(1280, 390, "#ffffff", (Layer("run", (run,)),))))

    single = shown(Tiles(tile, layout.cell, x, level, one))
    strip = shown(Tiles(tile, layout.cell, x[:1], level[:1], many))
    assert np.array_equal(single, strip)
    assert (single < 0.5).any()


def test_a_longer_run_than_a_strip_is_laid_in_parts() -> None:
    scene = standing("w" * 40)
    layout = lay_out(scene, 1280, 390)
    tile = needle_tile(needle_style(layout, LIGHT, Position.WORK), Position.WORK)
    run = Tiles(tile, 2 * layout.cell, np.array([10.0]), np.array([150.0]), np.array([700]))
    picture = DisplayList(1280, 390, "#ffffff", (Layer("run", (run,)),))
    seen = grey(pixels(render_image(picture)))
    step = round(2 * layout.cell)
    # Column 25 tiles on looks like column 0.
    assert np.array_equal(seen[:, 5 : 5 + step], seen[:, 5 + 25 * step : 5 + 26 * step])


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
def test_a_finer_screen_shows_the_same_picture(ratio: float) -> None:
    scene = replace(standing("wwhhoo", loops="111100", wraps="000100"), feeder=0, tip=0)
    plain = render_image(draw_bed(scene, 640, 300, LIGHT, measure=text_width))
    fine = render_image(draw_bed(scene, 640, 300, LIGHT, measure=text_width, ratio=ratio), ratio=ratio)
    assert (fine.width(), fine.height()) == (round(640 * ratio), round(300 * ratio))
    small = grey(pixels(fine.scaled(640, 300)))
    assert np.abs(small - grey(pixels(plain))).mean() < 0.04


def test_images_of_tiles_are_kept_and_given_up() -> None:
    cache = TileCache(1.0, most_bytes=1)
    layout = lay_out(standing("wh"), 640, 300)
    tiles = [
        needle_tile(needle_style(layout, LIGHT, position), position)
        for position in (Position.WORK, Position.HOLD)
    ]
    first = cache.strip(tiles[0], layout.cell, 1)
    assert cache.strip(tiles[0], layout.cell, 1) is first
    cache.strip(tiles[1], layout.cell, 1)
    assert cache.strip(tiles[0], layout.cell, 1) is not first


def test_png(tmp_path: Path) -> None:
    target = tmp_path / "bed.png"
    render_png(draw_bed(standing("wwww"), 400, 200, LIGHT), target, ratio=2)
    read = QImage(str(target))
    assert (read.width(), read.height()) == (800, 400)
    with pytest.raises(OSError, match="could not be written"):
        render_png(draw_bed(standing("wwww"), 400, 200, LIGHT), tmp_path / "nowhere" / "bed.png")


def test_boxes_without_rounding_fill_whole_pixels() -> None:
    picture = DisplayList(10, 10, "#ffffff", (Layer("box", (Box(2, 2, 4, 4, 0, "#000000"),)),))
    black = grey(pixels(render_image(picture))) < 0.01
    assert black.sum() == 16
    assert black[2:6, 2:6].all()
