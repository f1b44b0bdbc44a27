"""What starters are asked: units, tables, limits, and a clear word for everything else."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from bedview.checks.finding import Severity
from bedview.checks.of_piece import piece_findings, refuse_lost_edges
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.plan.starters import STARTERS, Parameter, Starter, StarterError, find_starter
from bedview.plan.starters.size_table import sizes_of
from bedview.plan.tables import table

SOCK = find_starter("sock")


def parameter(starter: Starter, key: str) -> Parameter:
    return next(each for each in starter.parameters if each.key == key)


def test_each_has_a_name_of_its_own() -> None:
    names = [starter.name for starter in STARTERS]
    assert len(set(names)) == len(names)
    assert all(find_starter(name).name == name for name in names)


def test_an_unknown_starter_is_told_which_there_are() -> None:
    with pytest.raises(StarterError, match=r"no starter 'scarf'; there are sock, .*ball"):
        find_starter("scarf")


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_keys_are_named_once_and_defaults_lie_within_their_limits(starter: Starter) -> None:
    keys = [each.key for each in starter.parameters]
    assert len(set(keys)) == len(keys)
    for each in starter.parameters:
        if each.default is not None:
            assert each.read(each.default) == each.default
        assert (each.min is None) == (each.max is None) == bool(each.choices)


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_the_defaults_written_out_make_the_same_piece(starter: Starter) -> None:
    # Defaults are shown with two decimals, so measures themselves may round to another stitch.
    exact = ("", "%", "mm", "even count")
    written = {
        each.key: each.default
        for each in starter.parameters
        if each.default is not None and each.unit in exact
    }
    assert written
    assert starter.make(written).segments == starter.make({}).segments


@pytest.mark.parametrize(
    ("key", "written", "read"),
    [
        ("foot_length", 24, 24),
        ("foot_length", "23", 23),
        ("foot_length", "24,5 cm", 24.5),
        ("foot_length", "245 mm", 24.5),
        ("foot_length", "9 1/2 in", 24.13),
        ("foot_length", '9½"', 24.13),
        ("ease", "-10 %", -10),
        ("ease", "−7,5", -7.5),
        ("room", "-1/2 in", -1.27),
        ("stitches", "28", 28),
        ("stitches", "20/4 in", 20 * 100 / 101.6),
        ("rows", "10 / in", 10 * 100 / 25.4),
        ("stitches", "14/5 cm", 28),
        ("size", "39", "39"),
        ("size", 38, "38"),
        ("pitch", "4,5", 4.5),
        ("pitch", "0,9 cm", 9),
    ],
)  # fmt: skip
def test_values_are_read_as_people_write_them(key: str, written: str | float, read: str | float) -> None:
    found = parameter(SOCK, key).read(written)
    assert found == (read if isinstance(read, str) else pytest.approx(read))


@pytest.mark.parametrize(
    ("given_values", "sentence"),
    [
        ({"size": "99"}, r"size cannot be '99'; choose 16, 18, .*47"),
        ({"foot_length": 80}, r"foot_length cannot be 80; it may be 6 to 36 cm"),
        ({"foot_length": "80 cm"}, r"foot_length cannot be 80 cm; it may be 6 to 36 cm"),
        ({"foot_length": "long"}, r"foot_length: .*it may be 6 to 36 cm"),
        ({"foot_length": float("nan")}, r"foot_length cannot be nan"),
        ({"foot_length": float("inf")}, r"foot_length cannot be inf"),
        ({"stitches": "28/0 cm"}, r"stitches: .*counted over nothing; it may be 3 to 60"),
        ({"needles": 111}, r"needles must be an even number, 2 to 400"),
        ({"sole": 3}, r"sock knows no 'sole'; it knows size, foot_length, .*pitch"),
        ({"needles": 40}, r"takes \d+ needles, and the bed has 40"),
        ({"foot_length": 10, "heel_depth": 6, "toe_depth": 5}, r"no room between heel and toe"),
    ],
)
def test_a_wrong_value_is_told_what_is_allowed(given_values: dict[str, str | float], sentence: str) -> None:
    with pytest.raises(StarterError, match=sentence):
        SOCK.make(given_values)


def test_a_measure_goes_before_the_size() -> None:
    values = SOCK.resolve({"size": "38", "foot_length": "26 cm"})
    assert values.mm("foot_length") == 260
    # The girth is still that of the size: nobody said otherwise.
    assert values.mm("foot_girth") == pytest.approx(224.4, abs=0.05)


def test_inches_and_centimetres_make_one_piece() -> None:
    in_inches = SOCK.make({"foot_length": "9.5 in", "stitches": "7.112/in", "rows": "10.16/in"})
    in_cm = SOCK.make({"foot_length": 24.13, "stitches": 28, "rows": 40})
    assert in_inches.segments == in_cm.segments


def test_every_row_of_the_table_has_a_source_and_sizes_grow() -> None:
    rows = table("sizes")
    assert all(row["source"] and row["read"] in {"text", "package", "derived", "memory"} for row in rows)
    assert len({(row["body"], row["size"], row["measure"]) for row in rows}) == len(rows)
    assert {row["body"] for row in rows} == {"foot", "head", "hand", "trunk"}
    for body, measure, last in (("foot", "foot_length", "47"), ("head", "head_girth", "men")):
        mm = [size.measures_mm[measure] for size in sizes_of(body)]
        assert mm == sorted(mm)
        assert sizes_of(body)[-1].name == last


def test_from_children_to_adults() -> None:
    for body in ("foot", "head", "hand", "trunk"):
        girths = [
            mm for size in sizes_of(body) for key, mm in size.measures_mm.items() if key.endswith("_girth")
        ]
        assert max(girths) > 1.5 * min(girths)


def test_a_piece_remembers_what_was_said_and_no_more() -> None:
    piece = SOCK.make({"size": "42", "foot_length": "26,5 cm"})
    assert piece.made_by is not None
    assert piece.made_by.starter == "sock"
    assert piece.made_by.values == {"size": "42", "foot_length": "26,5 cm"}
    assert Piece.read(piece.to_document()) == piece


STARTER_NAMES = [starter.name for starter in STARTERS]


@settings(max_examples=60, deadline=None)
@given(some.data())
def test_whatever_is_asked_there_is_a_sound_piece_or_a_reason(data: some.DataObject) -> None:
    starter = find_starter(data.draw(some.sampled_from(STARTER_NAMES)))
    asked: dict[str, str | float] = {}
    for each in data.draw(some.lists(some.sampled_from(starter.parameters), max_size=5)):
        if each.choices:
            asked[each.key] = data.draw(some.sampled_from(each.choices))
        else:
            assert each.min is not None
            assert each.max is not None
            asked[each.key] = data.draw(some.floats(each.min, each.max))
    # Fabric that anybody knits, and not so fine that one example takes seconds.
    stitches = data.draw(some.floats(6, 30))
    asked |= {"stitches": stitches, "rows": stitches * data.draw(some.floats(1.0, 1.7))}
    try:
        piece = starter.make(asked)
    except StarterError:
        return
    procedure = compile_piece(piece)
    refuse_lost_edges(piece, procedure)
    bad = [each for each in piece_findings(piece, procedure) if each.severity is not Severity.NOTE]
    assert [(each.rule, each.message) for each in bad] == []
