"""The texts for people that stand in the program's resources, or are put together from a few words."""

import contextlib
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from environment import ROOT
from words_in_code import Found

from bedview.lessons.lesson import Lesson
from bedview.plan.piece import Piece
from bedview.plan.starters import STARTERS
from bedview.plan.starters.parameter import StarterError
from bedview.plan.starters.starter import Starter

_IN_PIECES = frozenset({"title", "text", "group"})
"""Keys of a piece whose values people read."""
_IN_CARDS = frozenset({"title", "when", "steps", "says", "text"})


def texts_in_resources() -> Iterator[Found]:
    """Lessons, technique cards, demos, and what starters ask and write."""
    for path in _json_files("lessons"):
        lesson = Lesson.read(json.loads(path.read_text(encoding="utf-8")))
        yield from (Found(text, _place(path)) for text in lesson.own_texts())
    for path in _json_files("cards"):
        card = json.loads(path.read_text(encoding="utf-8"))
        yield from (Found(text, _place(path)) for text in _below(card, _IN_CARDS))
    for path in _json_files("demos"):
        yield from _of_piece(json.loads(path.read_text(encoding="utf-8")), _place(path))
    for starter in STARTERS:
        place = Path(starter.__module__.replace(".", "/")).with_suffix(".py").as_posix()
        yield from (Found(parameter.says, place) for parameter in starter.parameters)
        yield from (Found(text, place) for text in starter.assumes)
        for given in _ways(starter):
            with contextlib.suppress(StarterError):
                yield from _of_piece(starter.make(given).to_document(), place, is_made=True)


def _ways(starter: Starter) -> Iterator[Mapping[str, str | float]]:
    """Values with which a starter writes all it can write: each word it knows, and each part left out."""
    yield {}
    for parameter in starter.parameters:
        if parameter.key != "size":
            yield from [{parameter.key: choice} for choice in parameter.choices]
        if parameter.min == 0:
            yield {parameter.key: 0.0}


def _of_piece(document: dict[str, Any], place: str, *, is_made: bool = False) -> Iterator[Found]:
    if not is_made:
        Piece.read(document)
        yield Found(document["title"], place)
    for key in ("segments", "seams"):
        yield from (Found(text, place) for text in _below(document.get(key, []), _IN_PIECES))
    yield from (Found(yarn["name"], place) for yarn in document["yarns"] if yarn.get("name"))


def _below(value: object, keys: frozenset[str], key: str = "") -> Iterator[str]:
    """The texts that stand at some keys, in order."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _below(inner, keys, name)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _below(inner, keys, key)
    elif isinstance(value, str) and key in keys and value:
        yield value


def _json_files(folder: str) -> list[Path]:
    return sorted((ROOT / "resources" / folder).glob("*.json"))


def _place(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()
