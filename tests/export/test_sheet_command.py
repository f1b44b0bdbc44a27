"""What ``bedview sheet`` puts into a PDF when it is asked for more."""

from pathlib import Path

import pytest

from bedview.cli.running import run
from tests.export.pdf import read_pdf

pytestmark = pytest.mark.usefixtures("qapp")


def said(path: Path) -> str:
    with read_pdf(path.read_bytes()) as pdf:
        return "".join("".join(pdf.text(page).split()) for page in range(pdf.pages))


def test_a_class_gets_questions_and_its_teacher_answers(tmp_path: Path) -> None:
    plain, more = tmp_path / "plain.pdf", tmp_path / "more.pdf"
    assert run(["sheet", "harbour-heel", "-o", str(plain)]) == 0
    assert run(["sheet", "harbour-heel", "-o", str(more), "--class", "--needle-strip"]) == 0
    for words in ("Fortheclass:Harbourheel", "Answers:Harbourheel", "Needlestrip,"):
        assert words in said(more)
        assert words not in said(plain)


def test_a_piece_made_from_measures_prints_its_sizes(tmp_path: Path) -> None:
    piece, sheet = tmp_path / "hat.piece.json", tmp_path / "hat.pdf"
    assert run(["start", "hat", "-o", str(piece)]) == 0
    assert run(["sheet", str(piece), "-o", str(sheet), "--sizes"]) == 0
    assert "Sizes:" in said(sheet)


def test_sizes_of_a_piece_without_measures_are_refused_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = tmp_path / "heel.pdf"
    assert run(["sheet", "harbour-heel", "-o", str(sheet), "--sizes"]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert not sheet.exists()
