"""The piece with another yarn or on another bed, seen before it is done."""

import pytest

from bedview.plan.gauge_carried import CarryError, NewGround
from bedview.plan.piece import BedPlan, Gauge
from bedview.plan.procedure import compile_piece
from bedview.plan.starters import find_starter
from bedview.session import editing
from bedview.session.regauging import regauged
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from tests.plan.knitting import GAUGE, cast_on, knitted, plain

OLD = Gauge.model_validate(GAUGE)
FINER = Gauge(yarn="main", tension=4, stitches=20, rows=28, over_mm=100)
BED = BedPlan(needles=200, pitch_mm=4.5)


def test_parts_stand_side_by_side_with_their_measures() -> None:
    found = regauged(knitted([cast_on("L24-R24"), plain(22)]), OLD, NewGround(FINER, BED, {}))
    (part,) = found.parts
    assert part.title == "Plain rows"
    assert (part.before.needles, part.before.rows) == (48, 22)
    # 48 stitches of 16 to 10 cm are 30 cm wide, 22 rows of 22 10 cm long; so are 60 and 28 now.
    assert (part.before.width_mm, part.before.length_mm) == (300, 100)
    assert part.after is not None
    assert (part.after.needles, part.after.rows) == (60, 28)
    assert (part.after.width_mm, part.after.length_mm) == (300, 100)
    assert not found.made_again


def test_a_starter_s_piece_is_made_again_from_its_measures() -> None:
    starter = find_starter("sock")
    given: dict[str, str | float] = {"size": "38", "tex": 200}
    piece = starter.make(given)
    old = piece.gauges[0]
    gauge = Gauge(yarn="main", tension=3, stitches=34, rows=48, over_mm=100)
    found = regauged(compile_piece(piece), old, NewGround(gauge, piece.bed, {"tex": 120, "name": "fjord"}))
    assert found.made_again
    made = starter.make(
        {**given, "stitches": 34, "rows": 48, "tension": 3, "tex": 120, "needles": 200, "pitch": 4.5}
    )
    assert found.piece.segments == made.segments
    assert found.piece.yarns[0].name == "fjord"


def test_a_starter_s_piece_that_hands_changed_is_carried_over() -> None:
    piece = find_starter("sock").make({"size": "38"})
    place = next(at for at, part in enumerate(piece.segments) if part.says == "Plain rows")
    changed = editing.with_fields(piece, (place,), {"rows": 7, "length_cm": None})
    found = regauged(compile_piece(changed), changed.gauges[0], NewGround(changed.gauges[0], changed.bed, {}))
    assert not found.made_again
    assert found.piece.segments == changed.segments


@pytest.mark.parametrize("name", ["sock", "hat", "mitt"])
def test_no_such_size_on_a_small_bed(name: str) -> None:
    piece = find_starter(name).make({})
    with pytest.raises(CarryError, match="needles"):
        regauged(
            compile_piece(piece),
            piece.gauges[0],
            NewGround(piece.gauges[0], BedPlan(needles=20, pitch_mm=9), {}),
        )


def test_a_plan_that_breaks_off_says_why() -> None:
    coarse = Gauge(yarn="main", tension=9, stitches=2, rows=3, over_mm=100)
    heel = {"kind": "short_rows", "title": "Heel", "down_to": 8}
    procedure = knitted([cast_on("L12-R12"), plain(4), heel, {"kind": "narrow", "stitches": 3}])
    found = regauged(procedure, OLD, NewGround(coarse, BED, {}))
    assert found.trouble
    assert found.parts[-1].after is None


def test_what_would_be_found_is_counted_before_it_is_done() -> None:
    # The flaps of the bootee are grafted to its toe, L16 to L9 with L8 to L1, and so on the right. By 18
    # stitches instead of 15 the edges 16 and 8 from the middle lie at 19.2 and 9.6, so 9 loops meet 10.
    piece = read_piece(demo_paths()["harbour-bootee"])
    old = piece.gauges[0]
    assert (old.stitches, old.rows) == (15, 21)
    tighter = old.model_copy(update={"stitches": 18, "rows": 25.2})
    found = regauged(compile_piece(piece), old, NewGround(tighter, piece.bed, {}))
    assert (found.trouble, found.new_findings) == ("", 2)
    same = regauged(compile_piece(piece), old, NewGround(old, piece.bed, {}))
    assert (same.piece, same.new_findings) == (piece, 0)
