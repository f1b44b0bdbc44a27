"""The demos: sound, of believable size, and each teaching what its name says."""

from __future__ import annotations

import json

import pytest

from bedview.checks.finding import Severity
from bedview.checks.of_piece import piece_findings
from bedview.plan.edges_file import to_edge
from bedview.plan.gauge import length_mm_of, width_mm_of
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.resources import resource_path
from tests.plan.making import reference_piece, widths_of
from tests.reference.simulator import run as reference_run

DEMOS = sorted(path.name.removesuffix(".piece.json") for path in resource_path("demos").glob("*.piece.json"))
HARBOUR_BOOTEE = "harbour-bootee"


def demo(name: str) -> tuple[Piece, Procedure]:
    path = resource_path("demos", f"{name}.piece.json")
    piece = Piece.read(json.loads(path.read_text(encoding="utf-8")))
    return piece, compile_piece(piece)


def titled(piece: Piece, title: str) -> int:
    return next(place for place, segment in enumerate(piece.segments) if segment.title == title)


def test_they_are_there() -> None:
    assert {
        "allotment-heel", "allotment-vest-shoulders", "harbour-bootee", "harbour-heel", "mountain-hut-hat"
    } <= set(DEMOS)  # fmt: skip


@pytest.mark.parametrize("name", DEMOS)
def test_nothing_goes_wrong_in_a_demo(name: str) -> None:
    piece, procedure = demo(name)
    findings = piece_findings(piece, procedure)
    assert [(each.rule, each.needles) for each in findings if each.severity is not Severity.NOTE] == []


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_says_all_a_knitter_wants_to_know(name: str) -> None:
    piece, procedure = demo(name)
    assert piece.title
    assert all(segment.title for segment in piece.segments)
    assert all(yarn.name and yarn.tex and yarn.colour for yarn in piece.yarns)
    assert {gauge.yarn for gauge in piece.gauges} == {
        yarn.id for yarn in piece.yarns if yarn.role == "fabric"
    }
    assert "bed" in piece.to_document()
    assert "carriage" in piece.to_document()["bed"]
    assert all(step.hands or step.makes_pass for step in procedure.steps)


@pytest.mark.parametrize("name", ["harbour-heel", "harbour-bootee"])
def test_slow_reference_agrees_on_a_demo(name: str) -> None:
    _, procedure = demo(name)
    told = reference_run(reference_piece(procedure)).fabric
    assert {int(size): many for size, many in told["openings"].items()} == procedure.timeline.openings.sizes()
    assert told["unsecured"] == 0
    assert told["on_bed"] == 0
    assert told["passes"] == procedure.timeline.passes


def test_the_heel_wrapped_by_the_pass_shows_small_gaps_and_the_one_by_hand_none() -> None:
    def gaps(name: str) -> int:
        return sum(each.rule == "opening" for each in piece_findings(*demo(name)))

    # 36 needles down to 14: as many as held, less the one at the turn.
    assert gaps("harbour-heel") == 36 - 14 - 1
    assert gaps("allotment-heel") == 0


def test_two_flaps_of_the_bootee_fit_its_centre() -> None:
    """A mattress seam one stitch inside takes the edge stitch of each flap: centre = 2 (flap - 1)."""
    piece, procedure = demo(HARBOUR_BOOTEE)
    flaps = piece.segments[titled(piece, "Flaps to hold")]
    sizes = [len(procedure.timeline.edge_loops(to_edge({"open": group}, 110))) for group in flaps.groups]  # type: ignore[union-attr]
    centre = widths_of(procedure, titled(piece, "Toe"))[-1]
    assert sizes == [9, 9]
    assert centre == 2 * (sizes[0] - 1)
    for seam in piece.seams[1:]:
        a, b = (procedure.timeline.edge_loops(to_edge(edge, 110)) for edge in (seam.a, seam.b))
        assert len(a) == len(b) == 8


def test_the_bootee_fits_a_foot() -> None:
    piece, procedure = demo(HARBOUR_BOOTEE)
    gauge = piece.gauges[0]
    fabric_rows = titled(piece, "Scrap off: toe")
    rows = sum(len(widths_of(procedure, place)) for place in range(fabric_rows))
    assert 95 <= rows <= 125
    round_mm = width_mm_of(max(widths_of(procedure, titled(piece, "Foot"))) - 2, gauge)
    assert 190 <= round_mm <= 250
    # Under the foot lie the half of the heel that widens, the foot, and the half of the toe that narrows.
    under = sum(
        len(widths_of(procedure, titled(piece, title)))
        for title in ("Heel, widening", "Foot", "Flaps to hold")
    )
    toe = len(widths_of(procedure, titled(piece, "Toe"))) // 2
    sole_mm = length_mm_of(under + toe, gauge)
    assert 220 <= sole_mm <= 270
    # ANSUR II, 1,986 women: ball of foot circumference = 0.573 x foot length + 86.9, spread 9.4 mm.
    assert abs(round_mm - (0.573 * sole_mm + 86.9)) <= 2 * 9.4


def test_the_toe_of_the_bootee_is_narrowed_at_both_ends_every_row_and_widened_again() -> None:
    piece, procedure = demo(HARBOUR_BOOTEE)
    assert widths_of(procedure, titled(piece, "Toe")) == [14, 12, 10, 8, 6, 8, 10, 12, 14, 16]


def test_the_hat_goes_round_a_head_and_closes() -> None:
    piece, procedure = demo("mountain-hut-hat")
    place = titled(piece, "Wedges")
    brim_rows = 2 + len(widths_of(procedure, place))
    crown = sum(width == 36 for width in widths_of(procedure, place))
    assert 480 <= length_mm_of(brim_rows, piece.gauges[0]) <= 560
    assert crown == 11 * 2
    a, b = (
        procedure.timeline.edge_loops(to_edge(edge, 110)) for edge in (piece.seams[0].a, piece.seams[0].b)
    )
    assert len(a) == len(b) == 36
    assert all(not procedure.timeline.fabric.is_waste(loop) for loop in (*a, *b))


def test_the_shoulders_slope_in_groups() -> None:
    piece, procedure = demo("allotment-vest-shoulders")
    widths = widths_of(procedure, titled(piece, "Shoulders"))
    assert widths[0] == 72 - 5
    assert 24 in widths
    assert all(width <= 72 - 5 for width in widths[:-1])
