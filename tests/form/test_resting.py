"""The whole way from a piece to its shape."""

import json
from pathlib import Path

import numpy as np
import pytest

from bedview.form.resting import Stopped, closing_shapes, resting_shape
from bedview.form.shape import Shape
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from tests.form.fabrics import Writer, heel_cup, rectangle, tube
from tests.form.resting import shape_of
from tests.reference.procedures import random_piece

DEMOS = Path(__file__).resolve().parents[2] / "resources" / "demos"


def demo(name: str) -> Piece:
    return Piece.read(json.loads((DEMOS / f"{name}.piece.json").read_text(encoding="utf-8")))


def outside_room_mm3(shape: Shape) -> float:
    """Signed room as seen from the knit side, each opening closed towards its middle."""
    triangles = shape.net.faces.triangulated()
    corners = shape.places_mm[triangles]
    edges = triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    seen = {(a, b) for a, b in edges.tolist()}
    rim = np.array([(a, b) for a, b in edges.tolist() if (b, a) not in seen])
    middle = shape.places_mm[rim[:, 0]].mean(axis=0)
    lid = np.stack(
        (shape.places_mm[rim[:, 1]], shape.places_mm[rim[:, 0]], np.tile(middle, (len(rim), 1))), 1
    )
    every = np.concatenate((corners, lid)) - middle
    return -float(np.linalg.det(every).sum()) / 6


def test_the_same_piece_gives_the_same_shape() -> None:
    first, second = shape_of(heel_cup(20, 8, 8)), shape_of(heel_cup(20, 8, 8))
    assert second.places_mm == pytest.approx(first.places_mm, abs=1e-6)


@pytest.mark.parametrize("seed", range(25))
def test_nonsense_has_a_shape_too(seed: int) -> None:
    shape = shape_of(Piece.read(random_piece(seed)))
    assert np.isfinite(shape.places_mm).all()
    assert np.isfinite(list(shape.extent_mm)).all()
    assert np.isfinite([shape.strain_mean, shape.strain_p99, shape.seam_gap_mean_mm]).all()
    assert np.isfinite(shape.strain).all()


@pytest.mark.parametrize("seed", [3, 8, 25, 40])
def test_nonsense_sewn_together_has_a_shape_too(seed: int) -> None:
    document = random_piece(seed)
    document["seams"] = [
        {"kind": kind, "a": {"side": "left", "passes": [1, 99]}, "b": {"side": side, "passes": [1, 99]}}
        for kind, side in (("mattress", "right"), ("overcast", "left"))
    ]
    shape = shape_of(Piece.read(document))
    assert np.isfinite(shape.places_mm).all()
    assert np.isfinite([shape.strain_mean, shape.seam_gap_mean_mm, *shape.extent_mm]).all()


def test_nothing_knitted_is_a_shape_of_nothing() -> None:
    writer = Writer(4)
    del writer.items[1:]
    shape = shape_of(writer.piece())
    assert shape.figures() | {"seconds": 0} == {
        "nodes": 0,
        "edges": 0,
        "strain_mean": 0.0,
        "strain_p99": 0.0,
        "seam_gap_mean_mm": 0.0,
        "extent_mm": [0.0, 0.0, 0.0],
        "seconds": 0,
        "parts": 0,
        "notes": [],
    }


def test_parts_lie_side_by_side() -> None:
    writer = Writer(6)
    writer.knit(3)
    for yarn, rows in (("scrap", 2), ("main", 3)):
        writer.do("thread", yarn=yarn)
        writer.knit(rows)
    shape = shape_of(writer.piece())
    assert shape.parts == 2
    first, second = (shape.places_mm[shape.part == part, 0] for part in (0, 1))
    assert first.max() < second.min()


def test_progress_rises_to_its_end() -> None:
    piece, told = tube(12, 10), list[float]()
    resting_shape(piece, compile_piece(piece), progress=told.append)
    assert told == sorted(told)
    assert told[0] == 0.0
    assert told[-1] == 1.0


def test_progress_of_all_frames_rises_to_its_end_once() -> None:
    piece, told = tube(12, 10), list[float]()
    closing_shapes(piece, compile_piece(piece), 4, progress=told.append)
    assert told == sorted(told)
    assert told[0] == 0.0
    assert told[-1] == 1.0


def test_it_stops_when_asked() -> None:
    piece, asked = heel_cup(20, 8, 8), list[int]()

    def stop() -> bool:
        asked.append(1)
        return len(asked) == 5

    with pytest.raises(Stopped):
        resting_shape(piece, compile_piece(piece), stop=stop)
    assert len(asked) == 5


def test_the_slider_goes_from_flat_to_made_up() -> None:
    piece = tube(20, 16)
    procedure = compile_piece(piece)
    shapes = closing_shapes(piece, procedure, 5)
    assert [shape.closed for shape in shapes] == pytest.approx([0, 0.25, 0.5, 0.75, 1])
    gaps = [shape.seam_gap_mean_mm for shape in shapes]
    assert gaps == sorted(gaps, reverse=True)
    # Flat, the sides are all but a stitch of 20 apart; closed, they meet.
    assert gaps[0] == pytest.approx(18 * 5.0, rel=0.02)
    assert gaps[-1] < 0.1
    assert all(shape.strain_mean < 0.01 for shape in shapes)
    half = resting_shape(piece, procedure, closed=0.5)
    assert half.seam_gap_mean_mm == pytest.approx(gaps[2], rel=0.05)


def test_a_piece_lies_as_on_the_bed() -> None:
    shape = shape_of(rectangle(12, 10))
    first, last = shape.course_of(1), shape.course_of(10)
    assert (np.diff(shape.places_mm[first, 0]) > 0).all()
    assert (shape.places_mm[last, 1] > shape.places_mm[first, 1]).all()
    assert (np.diff(shape.places_mm[shape.wale_of(5), 1]) > 0).all()


def test_every_node_knows_needle_pass_and_segment() -> None:
    writer = Writer(6)
    writer.knit(3)
    document = writer.document()
    more = {"kind": "actions", "title": "more", "actions": [{"do": "knit", "rows": 2}]}
    document["segments"].append(more)
    shape = shape_of(Piece.read(document))
    assert len(shape.wale_of(writer.first + 2)) == 6
    assert shape.needle[shape.course_of(4)].tolist() == list(range(writer.first, writer.first + 6))
    assert np.bincount(shape.segment).tolist() == [6 * 4, 6 * 2]
    assert shape.nodes_of_loops(shape.loop).tolist() == list(range(len(shape)))


def test_strain_shows_where_the_fabric_cannot_lie() -> None:
    writer = Writer(12)
    writer.knit(40)
    writer.seams.append(
        {
            "kind": "overcast",
            "a": {"side": "left", "passes": [1, 40]},
            "b": {"side": "right", "passes": [1, 3]},
        }
    )
    forced, plain = shape_of(writer.piece()), shape_of(writer.piece(), open_seams=True)
    assert plain.strain_p99 < 0.01
    assert forced.strain_p99 > 5 * plain.strain_p99


@pytest.mark.parametrize("name", ["harbour-bootee", "mountain-hut-hat"])
def test_a_demo_closes(name: str) -> None:
    shape = shape_of(demo(name))
    assert shape.seam_gap_mean_mm < 1.0
    assert shape.strain_mean < 0.01
    assert outside_room_mm3(shape) > 0


def test_the_bootee_stands_on_its_heel_with_the_toe_to_the_right() -> None:
    shape = shape_of(demo("harbour-bootee"))
    cuff, toe = (
        shape.places_mm[shape.course_of(1)],
        shape.places_mm[shape.course_of(int(shape.pass_number.max()))],
    )
    heel = shape.places_mm[shape.course_of(44)]
    assert cuff[:, 1].min() > heel[:, 1].max()
    assert toe[:, 0].min() > cuff[:, 0].max()
    assert toe[:, 0].mean() > heel[:, 0].mean()
    width = shape.extent_mm[2]
    assert width < shape.extent_mm[0]
    assert width < shape.extent_mm[1]
