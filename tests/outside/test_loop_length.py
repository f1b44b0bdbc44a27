"""Loop length, weight and counts of yarn against published figures and a package of units.

Marks: T read in the text of the source, R printed by the named package, D derived from cited numbers,
M from memory (the text was not seen), C common practice.
"""

import pint
import pytest

from bedview.plan.loop_choice import Basis, LoopLength
from bedview.plan.loop_length import (
    JAMMED,
    Relaxation,
    constants,
    loop_mm,
    loop_mm_by_rows,
    loop_mm_by_stitches,
    loops_to_cm2,
    yarn_cautions,
)
from bedview.plan.piece import Gauge
from bedview.plan.yarn import EDGE_WIDTHS_ADVISED, graft_tail_cm, mm_of
from bedview.plan.yarn_counts import (
    YarnCount,
    diameter_mm,
    from_tex,
    grams_a_square_metre,
    tightness,
    to_tex,
)
from bedview.plan.yarn_use import Use, YarnAtDial

TO_THE_INCH = Gauge(yarn="main", tension=6, stitches=8, rows=11, over_mm=25.4)
TO_10_CM = Gauge(yarn="main", tension=6, stitches=16, rows=22, over_mm=100)


@pytest.mark.parametrize(
    ("state", "courses", "wales", "stitches"),
    [
        # M: Munden 1959, J. Text. Inst. 50, T448.
        (Relaxation.DRY, 5.0, 3.8, 19.0),
        (Relaxation.WET, 5.3, 4.1, 21.6),
        # T: GATE 2015 Textile Engineering, question 54, gives the stitches; the other two M.
        (Relaxation.FULL, 5.5, 4.2, 23.1),
    ],
)
def test_mundens_constants(state: Relaxation, courses: float, wales: float, stitches: float) -> None:
    found = constants(state)
    assert (found.courses, found.wales, found.stitches) == (courses, wales, stitches)
    # Loops to an area are courses times wales; the published wet figures differ by 0.6 %.
    assert courses * wales == pytest.approx(stitches, rel=0.01)


def test_loops_of_half_a_centimetre_fully_relaxed() -> None:
    # T: GATE 2015 Textile Engineering, question 54: l = 0.5 cm gives 92 loops/cm².
    assert int(loops_to_cm2(5, Relaxation.FULL)) == 92


@pytest.mark.parametrize(
    ("gauge", "by_stitches", "by_rows", "by_area"),
    [(TO_THE_INCH, 12.06, 11.55, 11.80), (TO_10_CM, 23.75, 22.73, 23.23)],  # D: from Munden, dry relaxed.
)
def test_loop_length_of_a_dry_gauge(gauge: Gauge, by_stitches: float, by_rows: float, by_area: float) -> None:
    # Figures printed to a hundredth of a millimetre; the third from Ks = 19 to 0.02.
    assert loop_mm_by_stitches(gauge, Relaxation.DRY) == pytest.approx(by_stitches, abs=0.006)
    assert loop_mm_by_rows(gauge, Relaxation.DRY) == pytest.approx(by_rows, abs=0.006)
    assert loop_mm(gauge, Relaxation.DRY) == pytest.approx(by_area, abs=0.02)


@pytest.mark.parametrize("state", Relaxation)
@pytest.mark.parametrize("gauge", [TO_THE_INCH, TO_10_CM])
def test_yarn_of_a_row_is_about_four_times_its_width_at_any_gauge(gauge: Gauge, state: Relaxation) -> None:
    # D: Kw, 3.8 to 4.2.
    of_width = loop_mm_by_stitches(gauge, state) * gauge.stitches / gauge.over_mm
    assert 3.8 - 1e-9 <= of_width <= 4.2 + 1e-9


def test_weight_of_a_square_metre() -> None:
    # T: Texcoms textile handbook, p. 150 (formula); D: 8 × 11 to the inch, l = 11.8 mm, 238 tex.
    loops = 8 * 11 / 2.54**2
    assert grams_a_square_metre(loops, 11.8, 238) == pytest.approx(383.07, abs=0.005)


def test_tightness() -> None:
    # D: 238 tex at 11.8 mm.
    assert tightness(238, 11.8) == pytest.approx(1.31, abs=0.005)
    # T: lecture notes on tightness factor: usually 1.3 to 1.5.
    assert yarn_cautions(238, 11.8) == []


def test_where_plain_fabric_jams() -> None:
    # T: Chamberlain 1926 after Text. Res. J. 2016, doi 10.1177/0040517516641358; Hepworth & Leaf 16.75.
    assert pytest.approx(16.75, abs=0.1) == JAMMED
    just_free, just_jammed = diameter_mm(400) * 16.8, diameter_mm(400) * 16.5
    assert "yarn-jams" not in {caution.rule for caution in yarn_cautions(400, just_free)}
    jam = next(caution for caution in yarn_cautions(400, just_jammed) if caution.rule == "yarn-jams")
    assert jam.severity == "warning"
    assert "16.5 yarn diameters" in jam.says()


def test_counts_of_one_yarn() -> None:
    # T: GATE 1992 Textile: 20 tex = 29.5 Ne = 180 denier = 50 Nm.
    assert from_tex(20, YarnCount.COTTON) == pytest.approx(29.5, abs=0.05)
    assert from_tex(20, YarnCount.DENIER) == pytest.approx(180)
    assert from_tex(20, YarnCount.METRIC) == pytest.approx(50)


def test_counts_by_the_standard() -> None:
    # T: ASTM D2260: 590.54/30 = 19.7; worsted 885.812.
    assert to_tex(30, YarnCount.COTTON) == pytest.approx(19.7, abs=0.05)
    assert to_tex(1, YarnCount.WORSTED) == pytest.approx(885.812, abs=0.0005)


@pytest.fixture(scope="module")
def units() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize("tex", [5.0, 20.0, 238.0, 1234.5])
@pytest.mark.parametrize(
    ("count", "unit"),
    [
        (YarnCount.COTTON, "Ne"),
        (YarnCount.METRIC, "Nm"),
        (YarnCount.DENIER, "denier"),
        (YarnCount.DTEX, "dtex"),
    ],
)
def test_counts_as_pint_has_them(
    tex: float, count: YarnCount, unit: str, units: pint.UnitRegistry[float]
) -> None:
    # R: pint, context "textile".
    there = units.Quantity(tex, "tex").to(unit, "textile").magnitude
    assert from_tex(tex, count) == pytest.approx(there, rel=1e-9)


def test_thirty_cotton_count_as_pint_printed_it() -> None:
    # R: pint 0.25: tex × Ne = 590.5412474482357, 30 Ne = 19.684708 tex.
    assert to_tex(1, YarnCount.COTTON) == pytest.approx(590.5412474482357, rel=1e-12)
    assert to_tex(30, YarnCount.COTTON) == pytest.approx(19.684708, abs=5e-7)


# -- edges and tails --------------------------------------------------------------------------------------


def test_yarn_of_a_bound_edge() -> None:
    # T: nimble-needles, long-tail measurements: 4.6 × the width measured, 5 × advised.
    loop = LoopLength(6, 24.0, 6.25, Basis.GAUGE, Relaxation.WET, TO_10_CM)
    width_mm = 40 * 6.25
    edge = Use(YarnAtDial(0, 6), knit=0, laid_in=0, cast_on=0, bound=40, wraps=0, float_columns=0)
    assert mm_of(edge, loop, 9.0) == pytest.approx(4.6 * width_mm)
    assert mm_of(edge, loop, 9.0, EDGE_WIDTHS_ADVISED) == pytest.approx(5 * width_mm)


@pytest.mark.parametrize("width_cm", [5, 18, 36, 100])
def test_the_tail_of_a_graft_is_longer_than_the_hand_rule(width_cm: float) -> None:
    # T: encyclopedia article "Grafting (knitting)": 3 × the width and 6 in. D: by geometry a course, so 4.2 ×
    # the width, fully relaxed, and 15 cm.
    tail = graft_tail_cm(width_cm * 10)
    assert tail == pytest.approx(4.2 * width_cm + 15)
    assert tail > 3 * width_cm + 6 * 2.54


@pytest.mark.parametrize(("loop_mm_", "said"), [(13.6, False), (14.9, False), (17.0, True), (10.0, True)])
def test_tightness_beyond_the_usual(loop_mm_: float, said: bool) -> None:
    # T: lecture notes on tightness factor: plain fabric usually has 1.3 to 1.5; others occur, so it is only
    # told. √400 = 20: a loop of 13.6 mm has 1.47, of 14.9 mm 1.34, of 17 mm 1.18, of 10 mm 2.
    assert bool(yarn_cautions(400, loop_mm_)) == said
