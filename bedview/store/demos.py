"""The demos that come with bedview: pieces of its own, found by name."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from bedview import language
from bedview.plan.piece import Piece
from bedview.resources import resource_path

SUFFIX: Final = ".piece.json"
_SAID: Final = frozenset({"title", "text", "group", "name"})
"""Keys of a piece whose values are words."""


def demo_paths() -> dict[str, Path]:
    """Path of each demo by its name, in the order of their names."""
    found = sorted(resource_path("demos").glob(f"*{SUFFIX}"))
    return {path.name.removesuffix(SUFFIX): path for path in found}


def spoken(demo: Piece) -> Piece:
    """A demo with its titles, notes and names in the language in use."""
    if language.code() == language.ENGLISH:
        return demo
    document = _spoken(demo.to_document())
    assert isinstance(document, dict)
    return Piece.read(document)


def _spoken(value: object, key: str = "") -> object:
    if isinstance(value, dict):
        return {each: _spoken(inner, each) for each, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_spoken(inner, key) for inner in value]
    return language.gettext(value) if isinstance(value, str) and key in _SAID else value


def find_piece(name: str) -> Path:
    """The path of a piece: a file where there is one, else the demo of that name."""
    path = Path(name)
    if path.exists():
        return path
    return demo_paths().get(name, path)
