"""Yarn on paper: with the swatches that the screen reckons with, and without any by the piece alone."""

import html
from dataclasses import replace

import pytest

from bedview.export.briefing import brief
from bedview.export.paper.sizes_table import sizes_of
from bedview.export.sheet import SheetOptions, sheet_bytes
from bedview.plan.loop_choice import Basis
from bedview.plan.starters import find_starter
from bedview.plan.starters.grading import Graded
from bedview.plan.swatch import KnittedSwatch, Measured
from bedview.plan.yarn import yarn_needs
from tests.export.pdf import read_pdf
from tests.export.pieces import Compiled, compiled, demo


def weighed(piece: Compiled, grams: float) -> tuple[KnittedSwatch, ...]:
    """A swatch of the piece's first yarn at its dial: 42 needles and 60 rows, hung in waste."""
    gauge = piece[0].gauges[0]
    return (
        KnittedSwatch(
            yarn=gauge.yarn,
            tension=gauge.tension,
            needles=42,
            rows=60,
            marked_stitches=30,
            marked_rows=40,
            after=Measured(width_mm=187.5, height_mm=180),
            grams=grams,
            closed_edges=0,
        ),
    )


def grams_at_hand(piece: Compiled, swatches: tuple[KnittedSwatch, ...]) -> str:
    advised = yarn_needs(*piece, swatches)[0].advised_grams
    assert advised is not None
    return f"have {advised:.0f} g or "


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("ending", [".txt", ".html", ".pdf"])
def test_every_sheet_tells_what_the_scale_says(ending: str) -> None:
    piece = demo("harbour-bootee")
    theory, heavy = grams_at_hand(piece, ()), grams_at_hand(piece, weighed(piece, 90))
    assert theory != heavy

    def told(options: SheetOptions) -> str:
        data = sheet_bytes(*piece, ending, options)
        if ending != ".pdf":
            return html.unescape(data.decode())
        with read_pdf(data) as pdf:
            return " ".join(pdf.text(0).split())

    plain = told(SheetOptions())
    by_scale = told(replace(SheetOptions(), swatches=weighed(piece, 90)))
    assert theory in plain
    assert heavy not in plain
    assert heavy in by_scale
    assert theory not in by_scale


def test_twice_the_weight_is_twice_the_yarn_of_every_size() -> None:
    piece = compiled(find_starter("sock").make({"size": 40, "tex": 240}))
    light, heavy = (
        [row for row in sizes_of(piece[0], weighed(piece, grams)) if isinstance(row, Graded)]
        for grams in (30, 60)
    )
    assert len(light) == len(heavy) > 5
    for one, other in zip(light, heavy, strict=True):
        by_scale = [
            [loop.mm for loop in row.yarn[0].loops if loop.basis is Basis.SCALE] for row in (one, other)
        ]
        assert by_scale[0]
        assert by_scale[1] == pytest.approx([2 * mm for mm in by_scale[0]])
        assert (other.yarn[0].grams or 0) > 1.5 * (one.yarn[0].grams or 0)


def test_a_swatch_of_another_yarn_says_nothing() -> None:
    piece = demo("harbour-bootee")
    others = tuple(each.model_copy(update={"yarn": "other"}) for each in weighed(piece, 90))
    assert brief(*piece, swatches=others) == brief(*piece)


def test_the_parts_of_a_document_agree_about_the_yarn() -> None:
    """The first page and the table of sizes reckon with the same swatches."""
    piece = compiled(find_starter("sock").make({"size": 40, "tex": 240}))
    swatches = weighed(piece, 60)
    rows = [row for row in sizes_of(piece[0], swatches) if isinstance(row, Graded) and row.size == "40"]
    first = brief(*piece, swatches=swatches).yarns[0].text
    (row,) = rows
    assert f"have {row.yarn[0].advised_grams:.0f} g or " in first
