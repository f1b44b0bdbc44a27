"""How big a document may be, looked at before and after it is checked in full.

A hostile file of 30 MiB can be millions of wrong things. pydantic would list each of them, for seconds and in
gigabytes; so what is plainly too much is refused first, at the cost of a glance.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from bedview.language import gettext as _
from bedview.plan.fields import MAX_ACTIONS, MAX_PASSES
from bedview.plan.piece import MAX_SEGMENTS
from bedview.plan.problems import PieceError, Place, json_path
from bedview.store.json_text import colons_of

MAX_BYTES: Final = 32 * 2**20
"""Size of the largest file that is read."""
MAX_NESTING: Final = 16
"""How deep segments may stand in one another."""
_MOST_KEYS: Final = 64
"""No object of a document has nearly so many."""
_MOST_ENTRIES: Final = MAX_SEGMENTS
"""Nor has a list, but for lists of actions; reading refuses a longer one whatever it holds."""


def refuse_excess(document: dict[str, Any]) -> None:
    """Refuse a document that holds far too much of something; nothing else is checked.

    Raises:
        PieceError: for an object with too many keys, too many actions, or segments nested too deep.
    """
    for place, value in _objects(document):
        if len(value) > _MOST_KEYS:
            raise PieceError(
                json_path(place), _("has {value} keys, and bedview knows few here").format(value=len(value))
            )


def _objects(document: dict[str, Any]) -> Iterator[tuple[Place, dict[str, Any]]]:
    """The objects in all places where a document has objects."""
    yield (), document
    for key in ("made_by", "bed", "yarns", "gauges", "seams"):
        yield from _shallow((key,), document.get(key))
    yield from _in_segments(("segments",), document.get("segments"), 1)


def _shallow(place: Place, value: object) -> Iterator[tuple[Place, dict[str, Any]]]:
    """An object, the objects in a list, and the objects that are values of one of these."""
    if isinstance(value, list):
        for index, entry in enumerate(value[:_MOST_ENTRIES]):
            if not isinstance(entry, dict):
                # Reading stops at the first entry that is no object.
                return
            yield from _shallow((*place, index), entry)
    elif isinstance(value, dict):
        yield place, value
        if len(value) <= _MOST_KEYS:
            for key, inner in value.items():
                if isinstance(inner, dict):
                    yield (*place, key), inner


def _in_segments(place: Place, segments: object, depth: int) -> Iterator[tuple[Place, dict[str, Any]]]:
    if not isinstance(segments, list):
        return
    if depth > MAX_NESTING:
        raise PieceError(
            json_path(place),
            _("segments stand in one another more than {max_nesting} deep").format(max_nesting=MAX_NESTING),
        )
    for index, segment in enumerate(segments[:_MOST_ENTRIES]):
        if not isinstance(segment, dict):
            return
        here = (*place, index)
        yield from _shallow(here, segment)
        yield from _in_actions((*here, "actions"), segment.get("actions"))
        yield from _in_segments((*here, "segments"), segment.get("segments"), depth + 1)


def _in_actions(place: Place, actions: object) -> Iterator[tuple[Place, dict[str, Any]]]:
    """Those among the actions that could hold a lot: there may be 200,000, so the glance is a quick one."""
    if not isinstance(actions, list):
        return
    if len(actions) > MAX_ACTIONS:
        raise PieceError(
            json_path(place),
            _("has {actions} actions; a piece may have {max_actions}").format(
                actions=len(actions), max_actions=MAX_ACTIONS
            ),
        )
    for index, action in enumerate(actions):
        if not isinstance(action, dict):
            return
        if "edge" in action or len(action) > _MOST_KEYS:
            yield from _shallow((*place, index), action)


def refuse_too_long(actions: int, passes: int, place: Place) -> None:
    """Refuse a piece that is longer than a piece may be.

    Raises:
        PieceError: at ``place``, where the count was passed.
    """
    if actions > MAX_ACTIONS:
        raise PieceError(
            json_path(place),
            _("the piece has more than {max_actions} actions by here").format(max_actions=MAX_ACTIONS),
        )
    if passes > MAX_PASSES:
        raise PieceError(
            json_path(place),
            _("the piece makes more than {max_passes} passes by here").format(max_passes=MAX_PASSES),
        )


def colons_of_piece(document: object) -> int:
    """How many colons a piece takes, written as JSON: counted without writing its many actions again.

    Exact for whatever is a piece in all else; the rest is refused anyway.
    """
    lists: list[list[dict[str, Any]]] = []
    light = _without_actions(document, lists)
    return colons_of(light) + sum(map(_colons_of_actions, lists))


def _without_actions(holder: object, lists: list[list[dict[str, Any]]]) -> object:
    """A document or segment without the actions in it, which are added to ``lists``."""
    if not isinstance(holder, dict):
        return holder
    actions, segments = holder.get("actions"), holder.get("segments")
    if isinstance(actions, list) and len(actions) <= MAX_ACTIONS and set(map(type, actions)) == {dict}:
        lists.append(actions)
        holder = holder | {"actions": []}
    if isinstance(segments, list) and len(segments) <= MAX_SEGMENTS:
        holder = holder | {"segments": [_without_actions(segment, lists) for segment in segments]}
    return holder


def _colons_of_actions(actions: list[dict[str, Any]]) -> int:
    texts = [action["text"] for action in actions if "text" in action]
    if set(map(type, texts)) - {str}:
        return colons_of(actions)
    others = [action for action in actions if "yarn" in action or "edge" in action]
    keys: int = sum(map(len, actions)) - sum(map(len, others))
    in_texts: int = sum(text.count(":") for text in texts if ":" in text)
    return keys + colons_of(others) + in_texts
