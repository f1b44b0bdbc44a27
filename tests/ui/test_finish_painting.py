from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage

from bedview.form.resting import closing_shapes
from bedview.form.shape import Shape
from bedview.picture.look import LIGHT
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.ui.finish import shape_painting
from bedview.ui.finish.messages import Marks, PictureWanted
from bedview.ui.finish.shape_painting import PaintedShape, blended, loop_seen_at, paint_shape
from bedview.ui.finish.turning import CLOSEST, MARGIN, Turning
from tests.finish.pieces import ROW_MM, STITCH_MM, document, flat, graft, toe_and_flaps

SIZE = 240, 180
NEARLY_OPAQUE = 230
"""Smooth edges of two faces leave a hair of the ground between them."""


@pytest.fixture(scope="module")
def bag() -> tuple[Piece, tuple[Shape, ...]]:
    plan = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")])
    return plan.piece, tuple(closing_shapes(plan.piece, plan.procedure, 3))


@pytest.fixture(scope="module")
def cloth() -> tuple[Piece, tuple[Shape, ...]]:
    """Ten stitches by twenty rows, flat: 50 by 80 mm, and the row cast on."""
    piece = Piece.read(document(flat(20)))
    return piece, tuple(closing_shapes(piece, compile_piece(piece)))


PLAIN = PictureWanted(
    position=0.0,
    turning=Turning.from_view("side"),
    width=SIZE[0],
    height=SIZE[1],
    ratio=1.0,
    colour_by="segment",
    marks=Marks(),
    with_way=False,
    palette=LIGHT,
    moving=False,
)


def painted(of: tuple[Piece, tuple[Shape, ...]], wanted: PictureWanted = PLAIN) -> PaintedShape:
    piece, shapes = of
    return paint_shape(wanted, shapes, piece, None)


def image(of: PaintedShape) -> QImage:
    picture = of.picture
    form = QImage.Format.Format_ARGB32_Premultiplied
    return QImage(picture.pixels, picture.width, picture.height, 4 * picture.width, form).copy()


# -- the camera -------------------------------------------------------------------------------------------


def test_a_fitted_shape_fills_its_picture_but_for_the_margin(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    _, shapes = cloth
    camera = Turning.from_view("side").camera(shapes, shapes[0], *SIZE)
    seen = camera.seen(shapes[0].surface.places_mm)
    # The cloth is higher than wide, so its height fills the picture.
    assert np.ptp(seen[:, 1]) == pytest.approx(SIZE[1] - 2 * MARGIN)
    assert (seen[:, :2].min(axis=0) + seen[:, :2].max(axis=0)) / 2 == pytest.approx(np.array(SIZE) / 2)


def test_turned_by_hand_it_keeps_its_size_while_it_fits(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    _, shapes = cloth
    start = Turning.from_view("side")
    scale = start.camera(shapes, shapes[0], *SIZE).pixels_a_mm
    # Edge-on it would have room to be larger.
    assert start.turned(90, 0).camera(shapes, shapes[0], *SIZE).pixels_a_mm == pytest.approx(scale)


def test_shifts_are_in_pixels_of_the_picture(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    _, shapes = cloth
    for turning in (Turning.from_view("corner"), Turning.from_view("top")):
        place = shapes[0].places_mm[:1]
        before = turning.camera(shapes, shapes[0], *SIZE).seen(place)[0, :2]
        after = turning.moved(30, -12).camera(shapes, shapes[0], *SIZE).seen(place)[0, :2]
        assert after - before == pytest.approx((30, -12))


def test_one_gets_no_nearer_than_is_of_use() -> None:
    turning = Turning.from_view("corner")
    for _ in range(60):
        turning = turning.nearer(1.3)
    assert turning.near == CLOSEST
    assert turning.turned(0, 500).tip == 90
    assert turning.turned(360, 0).turn == pytest.approx(turning.turn)


# -- in between -------------------------------------------------------------------------------------------


def test_between_two_shapes_every_loop_is_on_its_way(bag: tuple[Piece, tuple[Shape, ...]]) -> None:
    _, shapes = bag
    half = blended(shapes, 1.5)
    assert half.places_mm == pytest.approx((shapes[1].places_mm + shapes[2].places_mm) / 2)
    # From the flat one, which has the loops that lie inside the seams too.
    quarter = blended(shapes, 0.25)
    assert len(quarter) == len(shapes[1]) < len(shapes[0])
    flat_places = shapes[0].places_mm[shapes[0].nodes_of_loops(shapes[1].loop)]
    assert quarter.places_mm == pytest.approx(0.75 * flat_places + 0.25 * shapes[1].places_mm)
    assert blended(shapes, 0) is shapes[0]
    assert blended(shapes, 2) is shapes[2]


# -- the picture ------------------------------------------------------------------------------------------


def test_every_loop_is_found_where_it_is_seen(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    _, shapes = cloth
    of = painted(cloth)
    camera = Turning.from_view("side").camera(shapes, shapes[0], *SIZE)
    step = camera.pixels_a_mm * np.array((STITCH_MM, ROW_MM))
    for node, (x, y, _) in enumerate(camera.seen(shapes[0].places_mm).tolist()):
        found = loop_seen_at(of, x, y)
        assert found is not None
        there = camera.seen(shapes[0].places_mm[shapes[0].nodes_of_loops(np.array([found]))])[0]
        # A face reaches from a loop to its neighbours.
        assert (np.abs(there[:2] - (x, y)) <= 1.05 * step).all(), node
    assert loop_seen_at(of, 1, 1) is None


def test_the_ground_is_clear_and_the_fabric_is_not(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    picture = image(painted(cloth))
    assert picture.pixelColor(1, 1).alpha() == 0
    assert picture.pixelColor(SIZE[0] // 2, SIZE[1] // 2).alpha() > NEARLY_OPAQUE


def test_a_sharper_screen_gets_more_pixels(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    of = painted(cloth, replace(PLAIN, ratio=2.0))
    assert (of.picture.width, of.picture.height, of.picture.ratio) == (2 * SIZE[0], 2 * SIZE[1], 2.0)
    assert image(of).pixelColor(SIZE[0], SIZE[1]).alpha() > NEARLY_OPAQUE


@pytest.mark.parametrize("ratio", [1.0, 2.0])
def test_rough_and_fine_pictures_show_the_same(
    monkeypatch: pytest.MonkeyPatch, cloth: tuple[Piece, tuple[Shape, ...]], ratio: float
) -> None:
    fine = image(painted(cloth, replace(PLAIN, ratio=ratio)))
    monkeypatch.setattr(shape_painting, "FINE_FACES", 0)
    moved = painted(cloth, replace(PLAIN, ratio=ratio, moving=True))
    rough = image(moved)
    # In pixels of the window; a rough picture may have fewer of the screen's.
    for x, y in ((SIZE[0] / 2, SIZE[1] / 2), (1, 1)):
        one = fine.pixelColor(round(x * ratio), round(y * ratio))
        other = rough.pixelColor(round(x * moved.picture.ratio), round(y * moved.picture.ratio))
        assert abs(one.alpha() - other.alpha()) < 255 - NEARLY_OPAQUE
        assert abs(one.lightness() - other.lightness()) < 12


def test_what_is_pressed_is_a_dot_in_ink(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    _, shapes = cloth
    loop = int(shapes[0].loop[100])
    camera = Turning.from_view("side").camera(shapes, shapes[0], *SIZE)
    x, y, _ = camera.seen(shapes[0].places_mm[[100]])[0].tolist()
    plain, dotted = painted(cloth), painted(cloth, replace(PLAIN, marks=Marks(pressed=(loop,))))
    at = round(x), round(y)
    assert image(dotted).pixelColor(*at) == QColor(LIGHT.ink)
    assert image(plain).pixelColor(*at) != QColor(LIGHT.ink)


def test_ends_that_lie_apart_are_dots_and_no_line(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    loops = cloth[1][0].loop.tolist()
    corners = loops[0], loops[-1], loops[9], loops[-10]
    plain, marked = (image(painted(cloth, replace(PLAIN, marks=Marks(marks)))) for marks in ((), corners))
    assert marked != plain
    # A line from corner to corner would cross the middle.
    middle = SIZE[0] // 2 - 20, SIZE[1] // 2 - 30, 40, 60
    assert marked.copy(*middle) == plain.copy(*middle)


def test_an_edge_is_a_line_through_all_its_loops(cloth: tuple[Piece, tuple[Shape, ...]]) -> None:
    shape = cloth[1][0]
    wale = tuple(shape.loop[shape.needle == shape.needle[4]].tolist())
    plain, marked = (image(painted(cloth, replace(PLAIN, marks=Marks(marks)))) for marks in ((), wale))
    middle = SIZE[0] // 2 - 30, SIZE[1] // 2 - 30, 60, 60
    assert marked.copy(*middle) != plain.copy(*middle)


def test_marks_of_loops_that_are_not_seen_are_left_out(bag: tuple[Piece, tuple[Shape, ...]]) -> None:
    _, shapes = bag
    inside = sorted(set(shapes[0].loop.tolist()) - set(shapes[2].loop.tolist()))
    assert inside
    made_up = replace(PLAIN, position=2.0)
    with_marks = painted(bag, replace(made_up, marks=Marks(pressed=tuple(inside))))
    assert with_marks.picture == painted(bag, made_up).picture
