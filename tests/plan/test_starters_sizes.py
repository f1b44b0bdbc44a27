"""Every starter in every size of its table, three gauges, two beds: sound, whole, and as large as asked."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from bedview.checks.finding import Severity
from bedview.checks.of_piece import piece_findings, refuse_lost_edges
from bedview.plan.fit import fit
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.starters import STARTERS, Starter, StarterError
from bedview.plan.yarn import yarn_needs
from tests.plan.making import reference_piece
from tests.reference.simulator import run as reference_run

GAUGES = (
    {"stitches": 28, "rows": 40, "tension": 6},
    {"stitches": 20, "rows": 28, "tension": 5},
    {"stitches": 15, "rows": 21, "tension": 7},
)
BEDS = ({"needles": 200, "pitch": 4.5}, {"needles": 110, "pitch": 9})
ALL = [(starter, size.name) for starter in STARTERS for size in starter.sizes] + [
    (starter, "") for starter in STARTERS if not starter.sizes
]


def made(starter: Starter, size: str, values: Mapping[str, float]) -> Piece | None:
    """The piece, or None if it truly is too wide for the bed."""
    asked: dict[str, str | float] = {**values, **({"size": size} if size else {})}
    needed = starter.width(starter.resolve(asked))
    if needed <= values["needles"]:
        return starter.make(asked)
    with pytest.raises(StarterError, match=f"takes {needed} needles, and the bed has {values['needles']}"):
        starter.make(asked)
    return None


@pytest.mark.parametrize(("starter", "size"), ALL, ids=[f"{each.name}-{size}" for each, size in ALL])
def test_it_can_be_knitted_without_a_fault_and_fits(starter: Starter, size: str) -> None:
    for gauge in GAUGES:
        piece = made(starter, size, gauge | BEDS[0])
        assert piece is not None
        procedure = sound(piece)
        refuse_lost_edges(piece, procedure)
        measured = fit(piece, procedure)
        assert measured.whole
        assert [line.says() for line in measured.lines if line.verdict != "fits" and not line.reason] == []
        cautions = [caution.rule for need in yarn_needs(piece, procedure) for caution in need.cautions]
        assert "tail-short" not in cautions
        on_other_bed = made(starter, size, gauge | BEDS[1])
        if on_other_bed is not None:
            assert on_other_bed.segments == piece.segments
            sound(on_other_bed)


def sound(piece: Piece) -> Procedure:
    """The procedure, with nothing in it that goes wrong or will show."""
    procedure = compile_piece(piece)
    bad = [each for each in piece_findings(piece, procedure) if each.severity is not Severity.NOTE]
    assert [(each.rule, each.message) for each in bad] == []
    return procedure


def test_few_measures_are_missed_even_with_a_reason() -> None:
    missed = total = 0
    for starter in STARTERS:
        for size in starter.sizes:
            piece = starter.make({"size": size.name})
            lines = fit(piece, compile_piece(piece)).lines
            total += len(lines)
            missed += sum(line.verdict != "fits" for line in lines)
    assert missed <= total * 0.02


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_slow_reference_agrees(starter: Starter) -> None:
    smallest = {"size": starter.sizes[0].name} if starter.sizes else {"across": 5}
    procedure = compile_piece(starter.make({**smallest, "stitches": 15, "rows": 21}))
    told = reference_run(reference_piece(procedure)).fabric
    assert {int(size): many for size, many in told["openings"].items()} == procedure.timeline.openings.sizes()
    assert told["unsecured"] == 0
    assert told["on_bed"] == 0


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_it_says_all_a_knitter_wants_to_know(starter: Starter) -> None:
    piece = starter.make({})
    procedure = compile_piece(piece)
    assert starter.says
    assert starter.assumes
    assert piece.title.startswith(starter.title)
    assert all(span.segment.title for span in procedure.spans)
    assert all(yarn.name and yarn.colour for yarn in piece.yarns)
    assert {gauge.yarn for gauge in piece.gauges} == {
        yarn.id for yarn in piece.yarns if yarn.role == "fabric"
    }
    assert any("weights" in str(segment) for segment in piece.to_document()["segments"])
    assert piece.seams
    assert all(each.says for each in starter.parameters)


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_what_a_size_says_can_be_asked_for_itself(starter: Starter) -> None:
    known = {each.key: each for each in starter.parameters}
    for size in starter.sizes:
        for key, mm in size.measures_mm.items():
            assert known[key].read(mm / 10) == mm / 10
            assert size.sources[key]
        listed = starter.make({"size": size.name, "needles": 400})
        asked = {key: mm / 10 for key, mm in size.measures_mm.items()}
        by_measures = starter.make({"size": size.name, "needles": 400, **asked})
        assert listed.segments == by_measures.segments
        assert listed.seams == by_measures.seams
