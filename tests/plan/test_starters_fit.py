"""The fit comes from the fabric: it tells what was really knitted, also after a change by hand."""

from __future__ import annotations

import json
from typing import Any

import pytest

from bedview.checks.of_piece import piece_findings
from bedview.plan.fit import Fit, FitLine, fit
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.plan.starters import STARTERS, Starter, StarterError, find_starter
from bedview.plan.starters.cloth import Cloth, Missing
from bedview.plan.starters.grading import Graded, Ungraded, grade
from bedview.plan.starters.remaking import edited_since, remake
from bedview.plan.units import LengthUnit
from tests.plan.knitting import cast_on, piece_of, plain

SWATCH = {"yarn": "main", "tension": 6, "stitches": 16, "rows": 22, "over_mm": 100}
BULKY = {"stitches": 15, "rows": 21, "tension": 7, "needles": 110, "pitch": 9}


def measured(piece: Piece) -> Fit:
    return fit(piece, compile_piece(piece))


def line_of(found: Fit, key: str) -> FitLine:
    return next(line for line in found.lines if line.key == key)


def document_of(piece: Piece) -> dict[str, Any]:
    """The piece as JSON gives it: lists, not tuples."""
    document: dict[str, Any] = json.loads(json.dumps(piece.to_document()))
    return document


def edited(piece: Piece, part: str, **changes: object) -> Piece:
    document = document_of(piece)
    segment = next(each for each in document["segments"] if each.get("title") == part)
    segment.update(changes)
    return Piece.read(document)


# -- the rule on the cloth -----------------------------------------------------------------------------------


def cloth_of(*segments: dict[str, Any], **more: Any) -> Cloth:  # noqa: ANN401 - parts of a document
    piece = piece_of([cast_on("L8-R8"), *segments], **more)
    return Cloth(piece, compile_piece(piece))


def test_a_rectangle_measures_its_swatch() -> None:
    cloth = cloth_of(plain(22) | {"title": "a"}, plain(11) | {"title": "b"})
    # 16 stitches and 22 rows make 10 cm each.
    assert cloth.widest("a").mm == pytest.approx(100)
    assert cloth.wale_mm(60, "a") == pytest.approx(100)
    assert cloth.wale_mm(60, "a", "b") == pytest.approx(150)
    assert cloth.wale_mm(3, "a") == 0
    assert [cloth.stitch_mm("a"), cloth.row_mm("b")] == pytest.approx([6.25, 100 / 22])


def test_rows_at_another_dial_measure_by_its_swatch() -> None:
    tighter = {**SWATCH, "tension": 5, "stitches": 20, "rows": 25}
    cloth = cloth_of(
        plain(22) | {"title": "a"}, plain(25) | {"title": "b", "tension": 5}, gauges=[SWATCH, tighter]
    )
    assert cloth.wale_mm(60, "b") == pytest.approx(100)
    assert cloth.widest("b").mm == pytest.approx(80)


def test_a_turn_measures_along_its_slant() -> None:
    """Two needles held at each end in four rows: 12.5 mm in and 4 × 4.545 mm up, twice."""
    turn = {"kind": "short_rows", "title": "turn", "down_to": 12, "ends": "in_turn"}
    cloth = cloth_of(plain(2) | {"title": "a"}, turn)
    up = 4 * 100 / 22
    assert cloth.slant_mm(cloth.widest("a"), "turn") == pytest.approx(2 * (12.5**2 + up**2) ** 0.5)


def test_stitches_in_a_seam_are_no_part_of_the_round() -> None:
    seam = {
        "kind": "mattress",
        "a": {"side": "left", "passes": [1, 10]},
        "b": {"side": "right", "passes": [1, 10]},
        "stitches_in": 1,
    }
    cloth = cloth_of(plain(10) | {"title": "a"}, plain(10) | {"title": "b"}, seams=[seam])
    assert cloth.seamed_mm("a") == pytest.approx(14 * 6.25)
    assert cloth.seamed_mm("b") == pytest.approx(16 * 6.25)


def test_what_is_not_there_is_missing() -> None:
    cloth = cloth_of(plain(4) | {"title": "a"})
    with pytest.raises(Missing):
        cloth.wale_mm(60, "b")
    with pytest.raises(Missing):
        cloth_of(plain(4) | {"title": "a"}, gauges=[]).widest("a")


# -- what it says --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "got", "bound", "verdict"),
    [
        (100, 104, "near", "fits"), (100, 106, "near", "off"), (100, 94, "near", "off"),
        (100, 150, "at_least", "fits"), (100, 94, "at_least", "off"),
        (100, 50, "at_most", "fits"), (100, 106, "at_most", "off"), (100, None, "near", "changed"),
    ],
)  # fmt: skip
def test_verdicts(asked: float, got: float | None, bound: Any, verdict: str) -> None:  # noqa: ANN401 - a word
    assert FitLine("a", "A", "mm", asked, got, 5, bound=bound).verdict == verdict


def test_ease_is_what_the_piece_has_more_than_the_body() -> None:
    assert FitLine("a", "A", "mm", 200, 198, 5, body=220).ease == -22
    assert FitLine("a", "A", "mm", 200, 198, 5).ease is None


def test_sentences_in_both_units() -> None:
    line = FitLine("a", "Round the foot", "mm", 203.2, 200, 5, body=225)
    assert line.says() == "Round the foot: 20.3 cm asked, 20.0 cm knitted; body 22.5 cm"
    assert line.says(LengthUnit.IN, comma=True) == "Round the foot: 8,0 in asked, 7,9 in knitted; body 8,9 in"
    assert FitLine("g", "Loops to graft", "loops", 16, 15, 0).says() == "Loops to graft: 16 asked, 15 knitted"


# -- after a change by hand ----------------------------------------------------------------------------------


def test_more_rows_make_a_longer_sole_and_nothing_else() -> None:
    piece = find_starter("sock").make(BULKY)
    longer = edited(piece, "Foot", rows=34)
    before, after = measured(piece), measured(longer)
    rows = next(segment for segment in document_of(piece)["segments"] if segment["title"] == "Foot")["rows"]
    grown = line_of(after, "foot_length").got - line_of(before, "foot_length").got  # type: ignore[operator]
    assert grown == pytest.approx((34 - rows) * 100 / 21)
    assert line_of(after, "foot_length").verdict == "off"
    assert line_of(after, "foot_girth") == line_of(before, "foot_girth")


def test_a_graft_of_unequal_groups_is_told() -> None:
    piece = find_starter("bootee").make({**BULKY, "foot_girth": 21})
    document = document_of(piece)
    graft = next(seam for seam in document["seams"] if seam["kind"] == "graft")
    left, right = graft["a"]["open"].split("-")
    graft["a"]["open"] = f"{left[0]}{int(left[1:]) - 1}-{right}"
    found = measured(Piece.read(document))
    assert [line.verdict for line in found.lines if line.unit == "loops"] == ["off", "fits"]
    assert not found.fits


def test_a_part_that_is_gone_is_told() -> None:
    piece = find_starter("hat").make(BULKY)
    document = document_of(piece)
    for repeat in document["segments"]:
        for part in repeat.get("segments", []):
            part["title"] = "Something else"
    renamed = Piece.read(document)
    found = measured(renamed)
    assert not found.whole
    assert not found.fits
    assert "not there any more" in found.says()[-1]
    assert [line.unit for line in found.lines] == ["loops"]


def test_what_was_measured_before_a_missing_part_stays() -> None:
    piece = find_starter("shoulders").make(BULKY)
    found = measured(edited(piece, "Front: left shoulder across", title="Something else"))
    assert not found.whole
    assert line_of(found, "chest_girth").verdict == "fits"


def test_a_piece_of_no_starter_has_only_its_grafts() -> None:
    piece = find_starter("bootee").make(BULKY)
    document = document_of(piece)
    del document["made_by"]
    found = measured(Piece.read(document))
    assert {line.unit for line in found.lines} == {"loops"}
    assert found.fits
    assert "No starter" in found.remark


@pytest.mark.parametrize("values", [{"size": "99"}, {"unknown": 1}])
def test_values_of_another_day_are_no_fault(values: dict[str, Any]) -> None:
    piece = find_starter("sock").make(BULKY)
    document = document_of(piece)
    document["made_by"]["values"] = values
    found = measured(Piece.read(document))
    assert not found.whole
    assert {line.unit for line in found.lines} == {"loops"}


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_the_other_one_of_a_pair_fits_as_well(starter: Starter) -> None:
    piece = starter.make(BULKY)
    other = mirror_piece(piece)
    assert [line.got for line in measured(other).lines] == pytest.approx(
        [line.got for line in measured(piece).lines], abs=1e-6
    )
    assert [each.rule for each in piece_findings(other, compile_piece(other))] == [
        each.rule for each in piece_findings(piece, compile_piece(piece))
    ]


# -- made again ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_made_again_with_nothing_changed_it_is_the_same(starter: Starter) -> None:
    piece = starter.make({"stitches": 22})
    assert remake(piece, {}) == piece
    assert remake(mirror_piece(piece), {}) == mirror_piece(piece)
    assert not edited_since(piece)


def test_another_yarn_and_another_bed_change_counts_and_no_measure() -> None:
    piece = find_starter("sock").make({"foot_length": "26 cm", "foot_girth": "24 cm"})
    again = remake(piece, {"stitches": "20/4 in", "rows": "28/4 in", "needles": 110, "pitch": 9})
    assert again.bed.needles == 110
    assert again.made_by is not None
    assert again.made_by.values["foot_length"] == "26 cm"
    old, new = measured(piece), measured(again)
    assert [line.body for line in old.lines] == [line.body for line in new.lines]
    for key in ("foot_length", "foot_girth"):
        assert line_of(new, key).asked == pytest.approx(line_of(old, key).asked)
        assert line_of(new, key).verdict == "fits"


def test_none_leaves_a_value_to_the_starter_again() -> None:
    piece = find_starter("hat").make({"depth": 25, **BULKY})
    assert remake(piece, {"depth": None}) == find_starter("hat").make(BULKY)


def test_names_colours_and_titles_given_since_are_kept() -> None:
    document = document_of(find_starter("hat").make(BULKY))
    document["title"] = "For the ferryman"
    document["yarns"][0] |= {"name": "green wool", "colour": "#335533", "tex": 500}
    again = remake(Piece.read(document), {"size": "men"})
    assert again.title == "For the ferryman"
    assert (again.yarns[0].name, again.yarns[0].colour, again.yarns[0].tex) == ("green wool", "#335533", 500)
    assert remake(Piece.read(document), {"tex": 430}).yarns[0].tex == 430
    assert remake(find_starter("hat").make(BULKY), {"size": "men"}).title.endswith("men")


def test_a_change_by_hand_is_noticed() -> None:
    piece = find_starter("sock").make(BULKY)
    assert edited_since(edited(piece, "Foot", rows=34))
    assert not edited_since(piece.revised(title="Another title"))


def test_a_piece_of_no_starter_cannot_be_made_again() -> None:
    with pytest.raises(StarterError, match="no starter made this piece"):
        remake(piece_of([cast_on(), plain(4)]), {})


# -- sizes side by side --------------------------------------------------------------------------------------


def test_sizes_side_by_side_grow() -> None:
    table = list(grade(find_starter("sock"), {"tex": 240}, ["20", "30", "38", "44"]))
    graded = [size for size in table if isinstance(size, Graded)]
    assert [size.size for size in graded] == ["20", "30", "38", "44"]
    for count in ("needles", "rows", "stitches"):
        counts = [getattr(size, count) for size in graded]
        assert counts == sorted(set(counts))
    grams = [size.yarn[0].grams for size in graded]
    assert all(grams)
    assert grams == sorted(grams)  # type: ignore[type-var]
    biggest = graded[-1]
    assert biggest.needles == max(len(course.needles) for course in Cloth(
        biggest.piece, compile_piece(biggest.piece)).all_courses())  # fmt: skip
    assert biggest.stitches == biggest.yarn[0].stitches
    assert biggest.passes > biggest.rows


def test_a_size_too_wide_for_the_bed_says_so_beside_the_others() -> None:
    table = list(grade(find_starter("shoulders"), {"needles": 110}, ["2y", "men-large"]))
    assert isinstance(table[0], Graded)
    assert isinstance(table[1], Ungraded)
    assert "the bed has 110" in table[1].reason


def test_a_wrong_value_is_told_at_once() -> None:
    with pytest.raises(StarterError, match="foot_length"):
        grade(find_starter("sock"), {"foot_length": 500})
    with pytest.raises(StarterError, match="size"):
        grade(find_starter("sock"), {}, ["colossal"])
