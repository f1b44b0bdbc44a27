"""The demos that come with bedview: pieces of its own, found by name."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from bedview.language import gettext
from bedview.plan.piece import Piece
from bedview.resources import resource_path

SUFFIX: Final = ".piece.json"


def demo_paths() -> dict[str, Path]:
    """Path of each demo by its name, in the order of their names."""
    found = sorted(resource_path("demos").glob(f"*{SUFFIX}"))
    return {path.name.removesuffix(SUFFIX): path for path in found}


def spoken(demo: Piece) -> Piece:
    """A demo, its title and its yarns' names in the language in use; parts are so where they are shown."""
    yarns = tuple(yarn.model_copy(update={"name": gettext(yarn.name)}) for yarn in demo.yarns)
    return demo.model_copy(update={"title": gettext(demo.title), "yarns": yarns})


def find_piece(name: str) -> Path:
    """The path of a piece: a file where there is one, else the demo of that name."""
    path = Path(name)
    if path.exists():
        return path
    return demo_paths().get(name, path)
