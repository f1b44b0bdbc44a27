import pytest
from pydantic import ValidationError

from bedview.finish.finish_plan import FinishPlan
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from tests.finish.pieces import ROW_MM, document, flat, planned


def sewn(**opening: object) -> FinishPlan:
    """A seam of 20 rows of 4 mm, of which some stay open."""
    return planned(
        flat(20),
        [
            {
                "kind": "mattress",
                "a": {"side": "left", "passes": [1, 20]},
                "b": {"side": "right", "passes": [1, 20]},
                **opening,
            }
        ],
    )


@pytest.mark.parametrize(
    ("opening", "rows"),
    # 2.5 cm are 6.25 rows: the nearest row is 6. 0.1 cm is less than half a row: nothing stays open.
    [({"open_rows": 5}, 5), ({"open_cm": 2.0}, 5), ({"open_cm": 2.5}, 6), ({"open_cm": 0.1}, 0)],
)
def test_the_last_rows_stay_open(opening: dict[str, object], rows: int) -> None:
    (seam,) = sewn(**opening).seams
    for side in seam.sides:
        assert side.left_open == rows
        assert side.passes == tuple(range(1, 21 - rows))
        assert side.length_mm == pytest.approx((20 - rows) * ROW_MM)
        assert side.open_mm == pytest.approx(rows * ROW_MM)
    assert seam.sewing_cm == pytest.approx(3 * (20 - rows) * ROW_MM / 10)


def test_the_first_rows_may_stay_open_instead() -> None:
    (seam,) = sewn(open_rows=5, open_at="start").seams
    assert seam.a.passes == tuple(range(6, 21))
    assert seam.open_at == "start"


def test_the_end_of_an_edge_that_is_turned_round_is_its_first_row() -> None:
    plan = planned(
        flat(20),
        [
            {
                "kind": "overcast",
                "a": {"side": "left", "passes": [1, 20], "reverse": True},
                "b": {"side": "right", "passes": [1, 20], "reverse": True},
                "open_rows": 3,
            }
        ],
    )
    assert plan.seams[0].a.passes == tuple(range(20, 3, -1))


def test_what_stays_open_is_not_joined_in_the_shape_either() -> None:
    whole, part = sewn(), sewn(open_rows=8)
    assert len(whole.beside[0][0]) - len(part.beside[0][0]) == 8
    # Of either edge 12 rows and the corner at the cast-on lie inside the seam.
    assert len(whole.inside_seams) - len(part.inside_seams) >= 2 * 8


def test_it_is_sewn_towards_its_opening() -> None:
    (forward,) = sewn(open_rows=5).sewing
    (backward,) = sewn(open_rows=5, open_at="start").sewing
    assert (forward.backward, backward.backward) == (False, True)
    assert forward.end[0].passes == 15
    assert backward.end[0].passes == 6


def test_an_opening_is_said_in_one_way_only() -> None:
    with pytest.raises(ValidationError, match="open_cm or open_rows"):
        sewn(open_rows=5, open_cm=2.0)


def test_a_mirrored_piece_leaves_the_same_part_open() -> None:
    seam = {
        "kind": "mattress",
        "a": {"side": "left", "passes": [1, 20]},
        "b": {"side": "right", "passes": [1, 20]},
        "open_cm": 2.5,
        "open_at": "start",
    }
    mirrored = mirror_piece(Piece.read(document(flat(20), [seam]))).to_document()["seams"][0]
    assert (mirrored["open_cm"], mirrored["open_at"]) == (2.5, "start")
