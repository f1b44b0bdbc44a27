"""The two commands are understood by Pythons too old for the rest, so that these can say so."""

import ast
from pathlib import Path

import pytest

SCRIPTS = Path(__file__).resolve().parent.parent.parent / "scripts"
TOO_NEW = (ast.AnnAssign, ast.JoinedStr, ast.Match, ast.NamedExpr, ast.AsyncFunctionDef, ast.FunctionDef)


@pytest.mark.parametrize("name", ["start.py", "test.py"])
def test_only_old_syntax(name: str) -> None:
    tree = ast.parse((SCRIPTS / name).read_text(encoding="ascii"))
    assert [node for node in ast.walk(tree) if isinstance(node, TOO_NEW)] == []


@pytest.mark.parametrize("name", ["start.py", "test.py"])
def test_version_is_asked_before_anything_newer_is_imported(name: str) -> None:
    body = ast.parse((SCRIPTS / name).read_text(encoding="ascii")).body
    kinds = [type(node) for node in body[1:]]
    assert kinds == [ast.Import, ast.If, ast.ImportFrom, ast.If]
    assert ast.unparse(body[1]) == "import sys"
