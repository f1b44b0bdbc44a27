"""A net on fewer nodes: what it keeps, and that it comes to rest where the whole net does."""

import numpy as np
import pytest

from bedview.form.levels import Level, SpringKind, net_level, thinned
from bedview.form.lids import rim_labels
from bedview.form.net import Net, fabric_graph, make_net
from bedview.form.relaxing import Load, Relaxer
from bedview.form.settling import FEW_NODES, levels_of
from bedview.form.stitch_sizes import Floats
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from tests.form.fabrics import heel_cup, rectangle, tube, wedges
from tests.form.resting import after_many_steps, apart, shape_of

W, H = 5.0, 10 / 3


def net_of(piece: Piece) -> Net:
    return make_net(fabric_graph(piece, compile_piece(piece)), closed=True)


def on_the_bed(net: Net) -> Floats:
    return np.stack((W * net.needle, H * net.row, np.zeros(len(net))), axis=1)


def fewer(piece: Piece) -> tuple[Net, Level]:
    net = net_of(piece)
    return net, thinned(net_level(net))


def test_every_second_course_and_wale_of_a_rectangle_is_kept() -> None:
    net, level = fewer(rectangle(9, 8))
    # Needles 0, 2, 4, 6, 8 of courses 0, 2, 4, 6, 8.
    assert len(level) == 5 * 5
    kinds = np.bincount(level.kind, minlength=3)
    # Where the strand turns it joins two loops that a wale joins already.
    assert kinds.tolist() == [2 * 5 * 4, 2 * 4 * 4, 0]
    lengths = sorted(set(np.round(level.springs.rest_mm[level.kind == SpringKind.STITCH], 6).tolist()))
    assert lengths == pytest.approx([2 * H, 2 * W])
    assert level.springs.rest_mm[level.kind == SpringKind.SLANT] == pytest.approx(2 * np.hypot(W, H))
    places = on_the_bed(net)
    assert level.spread is not None
    assert level.spread @ places[level.kept] == pytest.approx(places)


def test_edges_between_courses_kept_are_kept() -> None:
    _, level = fewer(rectangle(6, 5))
    # Needles 0, 2, 4, 5 (by the right edge) of courses 0, 2, 4, 5.
    assert len(level) == 4 * 4


def test_fewer_springs_resist_stretching_as_all_do() -> None:
    net, level = fewer(rectangle(41, 40))
    stretched = on_the_bed(net) * (1.02, 0.99, 1.0)
    assert level.spread is not None
    whole, few = (
        Relaxer(springs).energy(places, Load(0.0))[0]
        for springs, places in (
            (net_level(net).springs, stretched),
            (level.springs, stretched[level.kept]),
        )
    )
    # An edge counts as if half a stitch of fabric lay beyond it: one of 40 stitches too much.
    assert few == pytest.approx(whole, rel=0.03)


def test_a_tube_stays_a_tube_with_two_openings() -> None:
    net, level = fewer(tube(24, 20))
    rims, _ = rim_labels(level.rim, len(level))
    assert rims == 2
    # Round it, from the ends of each course: the seam is there still.
    angle = 2 * np.pi * net.needle / 24
    places = np.stack((20 * np.cos(angle), H * net.row, 20 * np.sin(angle)), axis=1)
    whole, _ = net.lids.enclosed(places)
    few, _ = level.lids.enclosed(places[level.kept])
    # A prism on 12 corners instead of one on 24.
    share = 12 * np.sin(2 * np.pi / 12) / (24 * np.sin(2 * np.pi / 24))
    assert few / whole == pytest.approx(share, rel=0.01)


@pytest.mark.parametrize("piece", [heel_cup(40, 14, 20), wedges(48, 16, [8] * 5)], ids=["foot", "cone"])
def test_by_fewer_nodes_it_comes_to_the_same_shape(piece: Piece) -> None:
    assert len(levels_of(net_level(net_of(piece)))) > 1
    shape = shape_of(piece)
    assert len(shape) > FEW_NODES
    assert apart(shape.places_mm, after_many_steps(piece, compile_piece(piece), 400)) < 0.02
    assert shape.strain_mean < 0.01
