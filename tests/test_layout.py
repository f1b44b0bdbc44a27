"""The shape of the project itself: what lies at the top, how long a file may be, who imports whom."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from bedview.resources import resource_path

ROOT = Path(__file__).resolve().parent.parent
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "bedview", "resources", "tests", "scripts"}
LONGEST_FILE = 400
LONGEST_FUNCTION = 60

SOURCES = sorted((ROOT / "bedview").rglob("*.py"))


def test_top_level_holds_nothing_else() -> None:
    visible = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}
    assert visible == TOP


def test_imports_keep_to_the_layers() -> None:
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [linter, "--no-logo", "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("source", SOURCES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_file_or_function_is_too_long(source: Path) -> None:
    text = source.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= LONGEST_FILE
    assert {name: length for name, length in function_lengths(text) if length > LONGEST_FUNCTION} == {}


def function_lengths(text: str) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.name, (node.end_lineno or node.lineno) - node.lineno + 1


def test_resources_lie_beside_the_package() -> None:
    assert resource_path() == ROOT / "resources"
    assert resource_path("demos", "a.json") == ROOT / "resources" / "demos" / "a.json"
