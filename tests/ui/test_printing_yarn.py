"""What is printed says the yarn that the page Plan says: both know the swatches of this machine."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QStackedWidget
from pytestqt.qtbot import QtBot

from bedview.plan.swatch import KnittedSwatch, Measured
from bedview.plan.yarn import yarn_needs
from bedview.session.open_piece import OpenPiece
from bedview.session.swatch_shelf import SwatchShelf
from bedview.store.swatches import SwatchFile, default_file
from bedview.ui.printing.opening import PrintOpener
from bedview.ui.theme import LookChoice, Theme
from tests.export.pdf import read_pdf
from tests.export.pieces import demo


@pytest.fixture
def weighed() -> KnittedSwatch:
    """A heavy swatch of the bootee's wool, kept in the book of this machine."""
    piece = demo("harbour-bootee")[0]
    yarn = piece.yarns[0]
    swatch = KnittedSwatch(
        yarn=yarn.name,
        tension=piece.gauges[0].tension,
        needles=42,
        rows=60,
        marked_stitches=30,
        marked_rows=40,
        after=Measured(width_mm=187.5, height_mm=180),
        grams=90,
        closed_edges=0,
    )
    assert SwatchShelf(SwatchFile(default_file())).put(swatch)
    return swatch


def test_a_weighed_swatch_is_reckoned_with_on_paper(
    qtbot: QtBot, weighed: KnittedSwatch, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece, procedure = demo("harbour-bootee")
    stack = QStackedWidget()
    qtbot.addWidget(stack)
    theme = Theme(LookChoice.LIGHT)
    theme.setParent(stack)
    opener = PrintOpener(stack, theme, stack)
    opener.open_for(OpenPiece(piece))
    page = opener.page
    assert page is not None
    path = tmp_path / "bootee.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    qtbot.waitUntil(page.print.isEnabled)
    page.ask_where_to_save(".pdf")
    qtbot.waitUntil(lambda: page.told.text() == "Saved: bootee.pdf", timeout=20_000)
    swatch = weighed.model_copy(update={"yarn": piece.yarns[0].id})
    by_scale, theory = (yarn_needs(piece, procedure, each)[0].advised_grams for each in ([swatch], []))
    with read_pdf(path.read_bytes()) as pdf:
        told = " ".join(pdf.text(0).split())
    assert f"have {by_scale:.0f} g or " in told
    assert f"have {theory:.0f} g or " not in told
    page.leave()
