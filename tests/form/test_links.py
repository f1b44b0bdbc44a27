"""The graph of small fabrics, counted by hand."""

import numpy as np
import pytest

from bedview.form.links import LinkKind
from bedview.form.net import Net, fabric_graph, make_net
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from tests.form.fabrics import Writer, rectangle, tube

W, H = 5.0, 10 / 3


def net_of(piece: Piece, *, closed: bool = True) -> Net:
    return make_net(fabric_graph(piece, compile_piece(piece)), closed=closed)


def ends(net: Net, kind: LinkKind) -> set[frozenset[int]]:
    links = net.links.of_kind(kind)
    return {frozenset(pair) for pair in zip(links.one.tolist(), links.other.tolist(), strict=True)}


def test_a_plain_piece_has_a_link_to_each_neighbour() -> None:
    net = net_of(rectangle(5, 4))
    assert len(net) == 5 * 5
    wales, courses = net.links.of_kind(LinkKind.WALE), net.links.of_kind(LinkKind.COURSE)
    assert (len(wales), len(courses), len(net.links)) == (5 * 4, 4 * 5, 40)
    assert wales.rest_mm == pytest.approx(np.full(20, H))
    assert courses.rest_mm == pytest.approx(np.full(20, W))
    assert len(net.faces.quads) == 4 * 4
    assert len(net.faces.triangles) == 0


def test_a_turn_is_tied_to_the_held_loop_it_wraps() -> None:
    writer = Writer(4)
    writer.knit()  # to the left; nodes 4 to 7, from the right
    writer.hold(3, 4)
    writer.knit()  # to the right; nodes 8, 9, 10
    writer.do("wrap", needle=writer.name(3))
    writer.knit()  # to the left; 11, 12, 13
    net = net_of(writer.piece())
    held, turn_before, turn_after = 4, 10, 11
    assert frozenset((held, turn_before)) in ends(net, LinkKind.TURN)
    assert frozenset((held, turn_after)) in ends(net, LinkKind.TURN)
    assert net.links.of_kind(LinkKind.TURN).rest_mm == pytest.approx(np.hypot(W, H))
    assert frozenset((turn_before, turn_after)) in ends(net, LinkKind.WALE)


def test_without_a_wrap_nothing_ties_the_turn() -> None:
    writer = Writer(4)
    writer.knit()
    writer.hold(3, 4)
    writer.knit(2)
    net = net_of(writer.piece())
    assert ends(net, LinkKind.TURN) == set()


def test_a_stitch_drawn_through_two_leans_to_the_one_that_came_over() -> None:
    writer = Writer(4)
    writer.knit()  # nodes 4 to 7, from the right: the edge is 4, its neighbour 5
    writer.do("transfer", **{"from": writer.name(3), "to": writer.name(2)})
    writer.do("place", needles=writer.name(3), position="out")
    writer.knit()  # 8, 9, 10 from the left; 10 is drawn through 5 and 4
    net = net_of(writer.piece())
    wales = net.links.of_kind(LinkKind.WALE)
    rest = dict(zip(zip(wales.one.tolist(), wales.other.tolist(), strict=True), wales.rest_mm, strict=True))
    assert rest[10, 5] == pytest.approx(H)
    assert rest[10, 4] == pytest.approx(np.hypot(W, H))
    assert sorted(net.faces.triangles.tolist()[0]) == [4, 5, 10]


def test_needles_out_of_work_leave_a_float() -> None:
    writer = Writer(5)
    writer.items[1]["needles"] = f"{writer.names(0, 2)},{writer.names(3, 5)}"
    writer.knit()
    net = net_of(writer.piece())
    floats = net.links.of_kind(LinkKind.FLOAT)
    assert floats.rest_mm == pytest.approx(np.full(2, 2 * W))
    assert floats.pulls_only.all()


def test_waste_is_no_part_of_it() -> None:
    writer = Writer(4)
    writer.knit(2)
    writer.do("thread", yarn="scrap")
    writer.knit(6)
    net = net_of(writer.piece())
    assert len(net) == 4 * 3


def test_yarn_between_wastes_makes_two_parts() -> None:
    writer = Writer(4)
    writer.knit(2)
    for yarn in ("scrap", "main"):
        writer.do("thread", yarn=yarn)
        writer.knit(2)
    net = net_of(writer.piece())
    assert len(net) == 4 * 3 + 4 * 2
    assert not any(min(pair) < 12 <= max(pair) for pair in ends(net, LinkKind.WALE))


def test_a_mattress_seam_takes_stitches_inside_and_joins_the_next() -> None:
    net = net_of(tube(8, 6, inside=1))
    # Of each of 7 courses, the cast-on too, two stitches lie in the seam.
    assert len(net) == 7 * (8 - 2)
    seams = net.links.of_kind(LinkKind.SEAM)
    assert len(seams) == 7
    assert seams.rest_mm == pytest.approx(np.full(7, W))


def test_open_a_piece_keeps_all_its_stitches() -> None:
    net = net_of(tube(8, 6, inside=1), closed=False)
    assert len(net) == 7 * 8
    assert ends(net, LinkKind.SEAM) == set()


def test_a_graft_is_one_row_high() -> None:
    writer = Writer(6)
    writer.knit(8)
    writer.graft_ends()
    seams = net_of(writer.piece()).links.of_kind(LinkKind.SEAM)
    assert len(seams) == 6
    assert seams.rest_mm == pytest.approx(np.full(6, H))


def test_a_graft_to_free_feet_has_the_row_above_them_too() -> None:
    writer = Writer(6)
    writer.items[0]["yarn"] = "scrap"
    writer.knit(6)
    writer.do("thread", yarn="main")
    writer.knit(8)
    every = writer.names(0, 6)
    writer.seams.append({"kind": "graft", "a": {"made_in_pass": 7, "needles": every}, "b": {"open": every}})
    seams = net_of(writer.piece()).links.of_kind(LinkKind.SEAM)
    # 8 rows and the graft go round: 7 rows lie between first and last loops, so 2 are left.
    assert seams.rest_mm == pytest.approx(np.full(6, 2 * H))


def test_sides_of_unequal_length_are_eased_evenly() -> None:
    writer = Writer(6)
    writer.knit(12)
    writer.seams.append(
        {
            "kind": "overcast",
            "a": {"side": "left", "passes": [1, 12]},
            "b": {"side": "right", "passes": [1, 5]},
        }
    )
    graph = fabric_graph(writer.piece(), compile_piece(writer.piece()))
    (join,) = graph.seams.joins
    # 12 rows and the cast-on to 5 rows and the cast-on.
    assert len(join.one) == len(join.other) == 13
    assert len(set(join.one.tolist())) == 13
    joined, times = np.unique(join.other, return_counts=True)
    assert len(joined) == 6
    assert set(times.tolist()) <= {1, 2, 3}
    assert graph.loops.pass_number[[*join.one[[0, -1]], *join.other[[0, -1]]]].tolist() == [0, 12, 0, 5]


def test_a_seam_whose_edge_is_not_there_is_left_open_and_noted() -> None:
    writer = Writer(6)
    writer.knit(4)
    writer.seams.append(
        {"kind": "graft", "a": {"open": writer.names(0, 3), "pass": 2}, "b": {"open": writer.names(3, 6)}}
    )
    seams = fabric_graph(writer.piece(), compile_piece(writer.piece())).seams
    assert seams.joins == ()
    assert "Seam 1 is left open" in seams.notes[0]


def test_where_a_hem_hangs_on_a_stitch_the_wale_goes_on_from_the_row_before() -> None:
    writer = Writer(4)
    writer.knit(6)
    every = writer.names(0, 4)
    writer.do("hang", edge={"made_in_pass": 0, "needles": every}, needles=every)
    writer.knit()
    net = net_of(writer.piece())
    last, before, cast_on = range(28, 32), set(range(24, 28)), set(range(4))
    assert {int(net.below[node]) for node in last} == before
    # The edge hangs there all the same, but no face is made twice.
    hung = {node for pair in ends(net, LinkKind.WALE) if max(pair) >= 28 for node in pair} - set(last)
    assert hung == before | cast_on
    assert len(net.faces.quads) == 3 * 7
