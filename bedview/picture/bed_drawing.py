"""The bed picture: a scene and a size become a display list.

Layers, in the order of painting: ``plate``, ``numbers``, ``fabric``, ``needles``, ``loops``, ``wraps``,
``yarn``, ``coming``, ``touches``, ``carriage``, ``map``.
"""

from __future__ import annotations

from bedview.bed.needles import Side
from bedview.picture.bed_carriage import carriage_marks, coming_marks, yarn_marks
from bedview.picture.bed_fabric import fabric_marks
from bedview.picture.bed_hands import touch_marks
from bedview.picture.bed_layout import BedLayout, lay_out
from bedview.picture.bed_needles import count_marks, loop_marks, needle_marks, wrap_marks
from bedview.picture.bed_plate import label_marks, map_marks, number_marks, plate_marks
from bedview.picture.bed_scene import BedScene
from bedview.picture.look import Palette
from bedview.picture.marks import DisplayList, Layer, MeasureText, cautious_width, upside_down
from bedview.picture.words import bed_in_words


def draw_bed(
    scene: BedScene,
    width: float,
    height: float,
    palette: Palette,
    *,
    measure: MeasureText = cautious_width,
    ratio: float = 1.0,
    layout: BedLayout | None = None,
) -> DisplayList:
    """The bed as a display list.

    Args:
        scene: what is to be seen.
        width: of the picture in pixels.
        height: likewise.
        palette: the look.
        measure: how wide a text is; without one texts are taken to be wide.
        ratio: device pixels to a pixel.
        layout: the layout, where the caller has worked it out already.
    """
    layout = layout or lay_out(scene, width, height, ratio=ratio)
    carriage_right = (scene.carriage is Side.RIGHT) is not scene.view.turned
    layers = (
        Layer("plate", plate_marks(layout, palette)),
        Layer("labels", label_marks(scene, layout, palette, measure, carriage_right=carriage_right)),
        Layer("numbers", number_marks(scene, layout, palette, measure)),
        Layer("fabric", fabric_marks(scene, layout, palette)),
        Layer("needles", needle_marks(scene, layout, palette)),
        Layer("loops", loop_marks(scene, layout, palette)),
        Layer("wraps", wrap_marks(scene, layout, palette)),
        Layer("yarn", yarn_marks(scene, layout, palette, carriage_right=carriage_right)),
        Layer("counts", count_marks(scene, layout, palette, measure)),
        Layer("coming", coming_marks(scene, layout, palette, carriage_right=carriage_right)),
        Layer("touches", touch_marks(scene, layout, palette)),
        Layer("carriage", carriage_marks(scene, layout, palette, measure, carriage_right=carriage_right)),
        Layer("map", map_marks(scene, layout, palette)),
    )
    picture = DisplayList(width, height, palette.paper, layers, bed_in_words(scene))
    return upside_down(picture) if layout.turned else picture
