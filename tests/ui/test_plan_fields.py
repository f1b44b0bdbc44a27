import typing

import pytest

from bedview.plan.segments.base import Segment
from bedview.plan.units import LengthUnit
from bedview.ui.plan.field_line import read_needles
from bedview.ui.plan.field_table import ELSEWHERE, FIELDS, Entry, FieldSpec
from bedview.ui.plan.kinds_panel import OFFERED
from bedview.ui.plan.measures import Measures

KINDS = dict(OFFERED)


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_of_a_kind_can_be_written(kind: str) -> None:
    known = {spec.key for spec in FIELDS[kind]} | set(ELSEWHERE)
    assert set(KINDS[kind].model_fields) <= known


def choices() -> list[tuple[type[Segment], FieldSpec]]:
    return [
        (KINDS[kind], spec)
        for kind, specs in FIELDS.items()
        for spec in specs
        if spec.entry is Entry.CHOICE and spec.get is None
    ]


@pytest.mark.parametrize(
    ("segment", "spec"),
    choices(),
    ids=lambda each: each.key if isinstance(each, FieldSpec) else each.__name__,
)
def test_a_choice_offers_every_word_the_kind_knows(segment: type[Segment], spec: FieldSpec) -> None:
    wanted = set(_literals(segment.model_fields[spec.key].annotation))
    if wanted:
        assert {value for value, _ in spec.choices} == wanted


def _literals(annotation: object) -> list[object]:
    if typing.get_origin(annotation) is typing.Literal:
        return list(typing.get_args(annotation))
    return [each for inner in typing.get_args(annotation) for each in _literals(inner)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("l10-r10", "L10-R10"),
        ("L10 to R4, R7", "L10-R4,R7"),
        ("L10 – R4 R7", "L10-R4,R7"),
        ("r3", "R3"),
    ],
)
def test_needles_are_read_as_people_write_them(text: str, expected: str) -> None:
    assert read_needles(text) == expected


@pytest.mark.parametrize("text", ["", "10", "R4-L4", "L1,L1"])
def test_what_is_no_needle_list_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"\S"):
        read_needles(text)


def test_numbers_follow_the_locale_and_the_unit() -> None:
    metric, inches = Measures(comma=True), Measures(LengthUnit.IN)
    assert metric.number(6.5) == "6,5"
    assert metric.length(145) == "14,5 cm"
    assert metric.read_length_mm("14,5") == 145
    assert inches.read_length_mm("2 1/2") == pytest.approx(63.5)
    assert inches.read_length_mm("10 cm") == 100
    assert inches.length(25.4) == "1.00 in"
    with pytest.raises(ValueError, match="only whole numbers"):
        metric.read_whole("2,5")
