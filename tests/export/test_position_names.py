"""Sheets call positions what the user's machine calls them."""

import pytest

from bedview.export.paper.documents import SheetPart, sheet_pages
from bedview.export.paper.pages import PAPERS
from bedview.export.printing import paper_measure
from bedview.export.stepping.page import stepping_page
from bedview.picture.marks import Text
from bedview.plan.procedure import Procedure
from bedview.session.machine import Machine
from bedview.session.machine_words import MachineWords
from tests.export.pieces import little_heel

pytestmark = pytest.mark.usefixtures("qapp")

NAMES = ("park", "", "", "the front")


def texts_of(procedure: Procedure) -> str:
    pages = sheet_pages(procedure.piece, procedure, PAPERS["a4"], paper_measure(), {SheetPart.FOLLOWING})
    marks = [mark for page in pages for mark in page.marks]
    return " ".join(mark.text for mark in marks if isinstance(mark, Text))


def spoken() -> tuple[Procedure, Procedure]:
    piece, procedure = little_heel()
    return procedure, procedure.spoken(MachineWords(piece.bed.needles, piece.yarns, Machine(NAMES)))


def test_the_sheet_and_its_key() -> None:
    usual, own = (texts_of(procedure) for procedure in spoken())
    assert "to hold" in usual
    assert "needle out of work" in usual
    assert "to the front" in own
    assert "to hold" not in own
    assert "needle out of work" not in own


def test_the_grid_for_a_class() -> None:
    found = []
    for procedure in spoken():
        pages = sheet_pages(procedure.piece, procedure, PAPERS["a4"], paper_measure(), {SheetPart.CLASS})
        found.append({mark.text for page in pages for mark in page.marks if isinstance(mark, Text)})
    usual, own = found
    assert {"hold", "out of work"} <= usual
    assert {"the front", "park"} <= own
    assert not {"hold", "out of work"} & own


def test_the_stepping_page() -> None:
    usual, own = (stepping_page(procedure.piece, procedure) for procedure in spoken())
    assert '"the front"' not in usual
    assert '"the front"' in own
