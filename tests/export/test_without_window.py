"""Sheets on a machine without a screen: the page needs no Qt at all, paper and images need no window."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

_WRITE = """
import sys
from pathlib import Path
from bedview.export.sheet import write_sheet
from bedview.plan.procedure import compile_piece
from bedview.store.demos import find_piece
from bedview.store.piece_file import read_piece

piece = read_piece(find_piece("harbour-heel"))
write_sheet(piece, compile_piece(piece), Path(sys.argv[1]))
print("PySide6" in sys.modules)
"""
_SCREENS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


@pytest.mark.parametrize(
    ("ending", "with_qt"),
    [
        (".html", "False"),
        (".csv", "False"),
        (".svg", "False"),
        (".txt", "False"),
        (".pdf", "True"),
        (".png", "True"),
    ],
)
def test_a_sheet_is_written_without_a_screen(ending: str, with_qt: str, tmp_path: Path) -> None:
    path = tmp_path / f"sheet{ending}"
    environment = {name: value for name, value in os.environ.items() if name not in _SCREENS}
    done = subprocess.run(
        [sys.executable, "-c", _WRITE, path], env=environment, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout.strip(), done.stderr) == (0, with_qt, "")
    assert path.stat().st_size > 1000
