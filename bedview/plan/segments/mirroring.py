"""Left for right in the words of a file. Done twice, each of these gives back exactly what was there.

Needles and sides change places. What is counted from left to right runs the other way in a mirror; what is
counted from the first pass to the last does not. So where loops are matched with needles, or the loops of two
edges with each other, nothing need be said as long as both run the same way. Where only one of them is a side
edge, the order has to be turned once more.
"""

from __future__ import annotations

from typing import Any, Final, TypeVar, cast

from bedview.plan.actions_file import AnyAction
from bedview.plan.edges_file import AnyEdgeItem

_EXCHANGED: Final = str.maketrans("LR", "RL")
_SIDES: Final = {"left": "right", "right": "left"}

Word = TypeVar("Word", bound=str)
Edge = TypeVar("Edge", bound=AnyEdgeItem)


def mirrored_needles(text: str) -> str:
    """A needle list seen in a mirror: ``L10-R4,R7`` becomes ``L7,L4-R10``."""
    parts = text.split(",")
    return ",".join("-".join(reversed(part.translate(_EXCHANGED).split("-"))) for part in reversed(parts))


def mirrored_word(word: Word) -> Word:
    """``left`` for ``right`` and the other way; any other word (``in_turn``) stays."""
    return cast(Word, _SIDES.get(word, word))


def mirrored_edge(edge: Edge) -> Edge:
    """An edge seen in a mirror; whether it must be turned round is for the caller to say."""
    changed: dict[str, Any] = {}
    for key, value in edge.items():
        if key in ("open", "needles"):
            changed[key] = mirrored_needles(str(value))
        else:
            changed[key] = mirrored_word(str(value)) if key == "side" else value
    return cast(Edge, changed)


def toggled(item: dict[str, Any], key: str) -> dict[str, Any]:
    """A document with a yes-or-no key the other way; no is said by leaving it out."""
    if item.get(key, False):
        return {other: value for other, value in item.items() if other != key}
    return {**item, key: True}


def mirrored_action(item: AnyAction) -> AnyAction:
    """An action seen in a mirror."""
    changed: dict[str, Any] = {}
    for key, value in item.items():
        if key in ("needles", "needle") or (key in ("from", "to") and item["do"] == "transfer"):
            changed[key] = mirrored_needles(cast(str, value))
        elif key == "from":
            changed[key] = mirrored_word(cast(str, value))
        elif key == "edge":
            changed[key] = mirrored_edge(cast(AnyEdgeItem, value))
        else:
            changed[key] = value
    if item["do"] == "hang" and "side" in item["edge"]:
        # The needles are counted from the other end now, the loops of a side edge are not.
        changed = toggled(changed, "turned")
    return cast(AnyAction, changed)
