import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.units import (
    G_PER,
    MM_PER,
    LengthUnit,
    MassUnit,
    UnitError,
    parse_length_mm,
    parse_mass_g,
    parse_number,
    say_inches,
    say_length,
    say_mass,
    say_number,
)

MILLIMETRES = some.floats(0, 100_000)
INCH = 25.4


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("14,5 cm", 145),
        ("14.5cm", 145),
        ("14.5", 145),
        (".5 m", 500),
        ("145 mm", 145),
        ("5 3/4 in", 5.75 * INCH),
        ('5¾"', 5.75 * INCH),
        ("5 ¾ inches", 5.75 * INCH),
        ("⅛ in", INCH / 8),
        ("3/4″", 0.75 * INCH),
        ("5,75 IN", 5.75 * INCH),
        ("2 ft 3 in", 27 * INCH),
        ("2'3\"", 27 * INCH),
        ("1 yd", 914.4),
        ("1 m 20 cm", 1200),
        ("12\N{NO-BREAK SPACE}cm", 120),
        ("0,125 cm", 1.25),
        ("1000 mm", 1000),
        ("0", 0),
    ],
)
def test_lengths_people_write(text: str, mm: float) -> None:
    assert parse_length_mm(text) == pytest.approx(mm)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "nothing was written"),
        ("   ", "nothing was written"),
        ("wide", "not a measure"),
        ("-3 cm", "not a measure"),
        ("cm", "not a measure"),
        ("3 ells", "'ells' is not a unit here"),
        ("1.2.3", "not a unit here"),
        ("1,250 mm", "could be 1250 or 1.25"),
        ("1,000 mm", "could be 1000 or 1;"),
        ("3/0 in", "divides by nothing"),
        ("5 6", "names one twice"),
        ("3 in 2 ft", "from a small unit to a large one"),
        ("3 in nan", "not a measure"),
        ("1e9 cm", "not a unit here"),
        ("9" * 5000, "not a measure"),
    ],
)
def test_what_is_no_length_says_why(text: str, reason: str) -> None:
    with pytest.raises(UnitError, match=reason):
        parse_length_mm(text)


def test_a_number_alone_is_in_the_unit_asked_for() -> None:
    assert parse_length_mm("4 1/2", LengthUnit.IN) == pytest.approx(4.5 * INCH)
    assert parse_mass_g("4 1/2", MassUnit.OZ) == pytest.approx(127.57, abs=0.005)


@pytest.mark.parametrize("text", ["", "two", "1 cm", "9" * 5000, "1,5,5"])
def test_what_is_no_number(text: str) -> None:
    with pytest.raises(UnitError, match="not a number"):
        parse_number(text)


def test_half_up_and_commas() -> None:
    assert say_number(0.45) == "0.5"
    assert say_number(2.5, 0) == "3"
    assert say_length(145, comma=True) == "14,5 cm"
    assert say_inches(5.75 * INCH) == "5 3/4 in"
    assert say_inches(0.5 * INCH) == "1/2 in"
    assert say_inches(3 * INCH) == "3 in"
    assert say_mass(84.3) == "84 g"


@given(MILLIMETRES, some.sampled_from(LengthUnit), some.integers(0, 2), some.booleans())
def test_a_length_said_is_read_again(mm: float, unit: LengthUnit, decimals: int, comma: bool) -> None:
    said = say_length(mm, unit, decimals, comma=comma)
    half_a_digit = MM_PER[unit] * 0.5 / 10**decimals
    assert parse_length_mm(said) == pytest.approx(mm, abs=half_a_digit * 1.001 + 1e-9)


@given(MILLIMETRES, some.sampled_from([2, 4, 8, 16]))
def test_inches_said_are_read_again(mm: float, parts: int) -> None:
    assert parse_length_mm(say_inches(mm, parts)) == pytest.approx(mm, abs=INCH / parts / 2 * 1.001)


@given(some.floats(0, 10_000), some.sampled_from(MassUnit))
def test_a_weight_said_is_read_again(g: float, unit: MassUnit) -> None:
    half_a_digit = G_PER[unit] * 0.005
    assert parse_mass_g(say_mass(g, unit, 2)) == pytest.approx(g, abs=half_a_digit * 1.001 + 1e-9)


@given(some.integers(0, 999), some.integers(0, 99))
def test_point_and_comma_read_alike(whole: int, hundredths: int) -> None:
    assert parse_number(f"{whole}.{hundredths:02}") == parse_number(f"{whole},{hundredths:02}")
    assert parse_number(f"{whole},{hundredths:02}") == pytest.approx(whole + hundredths / 100)


@given(some.integers(0, 99), some.integers(0, 99), some.integers(1, 99))
def test_fractions_are_sums(whole: int, above: int, below: int) -> None:
    assert parse_number(f"{whole} {above}/{below}") == pytest.approx(whole + above / below)


def mm_or_reason(text: str) -> float | str:
    try:
        return parse_length_mm(text)
    except UnitError as refused:
        return str(refused)


@given(some.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    outcome = mm_or_reason(text)
    if isinstance(outcome, str):
        assert outcome
        assert "\n" not in outcome
    else:
        assert outcome >= 0
