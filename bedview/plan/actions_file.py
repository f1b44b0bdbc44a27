"""Actions as a file writes them (``{"do": "place", "needles": "L10-R10", "position": "hold"}``).

They are typed dictionaries told apart by ``do``: a piece may hold 200,000 of them, and a model object for
each would take several times as long to read. Treat them as frozen.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Annotated, Any, Final, Literal, NotRequired

from pydantic import FailFast, Field
from typing_extensions import TypedDict

from bedview.bed import actions as bed
from bedview.bed.needles import Position, Side, needle_index, parse_needles
from bedview.plan.edges_file import EdgeItem, to_edge
from bedview.plan.fields import (
    MAX_ACTIONS,
    CounterValue,
    Dial,
    NeedleList,
    NeedleName,
    PositionWord,
    Rows,
    SideWord,
    TailCm,
    Words,
    YarnId,
)


class ThreadItem(TypedDict):
    """A new strand begins."""

    do: Literal["thread"]
    yarn: YarnId


class CutItem(TypedDict):
    """The strand in the feeder ends."""

    do: Literal["cut"]
    tail_cm: NotRequired[TailCm]


class ParkItem(TypedDict):
    """The strand in the feeder waits."""

    do: Literal["park"]


class ResumeItem(TypedDict):
    """The last parked strand of a yarn comes back."""

    do: Literal["resume"]
    yarn: YarnId


class NoteItem(TypedDict):
    """Words for the knitter."""

    do: Literal["note"]
    text: Words
    needles: NotRequired[NeedleList]


class HoldCamsItem(TypedDict):
    """The hold cams, on or off."""

    do: Literal["hold_cams"]
    on: bool


class TensionItem(TypedDict):
    """The tension dial."""

    do: Literal["tension"]
    dial: Dial


class CounterItem(TypedDict):
    """The row counter."""

    do: Literal["counter"]
    value: CounterValue


class PlaceItem(TypedDict):
    """Needles moved to a position."""

    do: Literal["place"]
    needles: NeedleList
    position: PositionWord


class CastOnItem(TypedDict):
    """Closed loops on empty needles."""

    do: Literal["cast_on"]
    needles: NeedleList


class WrapItem(TypedDict):
    """A hand wrap."""

    do: Literal["wrap"]
    needle: NeedleName


TransferItem = TypedDict("TransferItem", {"do": Literal["transfer"], "from": NeedleName, "to": NeedleName})


class BindOffItem(TypedDict):
    """Stacks closed."""

    do: Literal["bind_off"]
    needles: NeedleList


class HangItem(TypedDict):
    """The loops of an edge put on needles."""

    do: Literal["hang"]
    needles: NeedleList
    edge: EdgeItem
    turned: NotRequired[bool]


class FreeMoveItem(TypedDict):
    """The carriage set on the other side."""

    do: Literal["free_move"]


KnitItem = TypedDict("KnitItem", {"do": Literal["knit"], "rows": Rows, "from": NotRequired[SideWord]})

AnyAction = (
    ThreadItem
    | CutItem
    | ParkItem
    | ResumeItem
    | NoteItem
    | HoldCamsItem
    | TensionItem
    | CounterItem
    | PlaceItem
    | CastOnItem
    | WrapItem
    | TransferItem
    | BindOffItem
    | HangItem
    | FreeMoveItem
    | KnitItem
)
ActionItem = Annotated[AnyAction, Field(discriminator="do")]
ActionList = Annotated[tuple[ActionItem, ...], Field(strict=False, max_length=MAX_ACTIONS), FailFast()]
"""The actions of a segment. Reading stops at the first that is wrong, or a hostile file lists millions."""


@lru_cache(maxsize=4096)
def _needles(text: str, bed_needles: int, *, empty: bool = False) -> tuple[int, ...]:
    # Procedures name the same needles over and over.
    return parse_needles(text, bed_needles, empty=empty)


_Reader = Callable[[Any, int], bed.Action]
_READERS: Final[Mapping[str, _Reader]] = {
    "thread": lambda item, _: bed.Thread(item["yarn"]),
    "cut": lambda item, _: bed.Cut(item.get("tail_cm")),
    "park": lambda _item, _: bed.Park(),
    "resume": lambda item, _: bed.Resume(item["yarn"]),
    "note": lambda item, n: bed.Note(item["text"], _needles(item.get("needles", ""), n, empty=True)),
    "hold_cams": lambda item, _: bed.HoldCams(item["on"]),
    "tension": lambda item, _: bed.Tension(item["dial"]),
    "counter": lambda item, _: bed.SetCounter(item["value"]),
    "place": lambda item, n: bed.Place(_needles(item["needles"], n), Position.from_word(item["position"])),
    "cast_on": lambda item, n: bed.CastOn(_needles(item["needles"], n)),
    "wrap": lambda item, n: bed.Wrap(needle_index(item["needle"], n)),
    "transfer": lambda item, n: bed.Transfer(needle_index(item["from"], n), needle_index(item["to"], n)),
    "bind_off": lambda item, n: bed.BindOff(_needles(item["needles"], n)),
    "hang": lambda item, n: bed.Hang(
        _needles(item["needles"], n), to_edge(item["edge"], n), item.get("turned", False)
    ),
    "free_move": lambda _item, _: bed.FreeMove(),
    "knit": lambda item, _: bed.Knit(item["rows"], Side(item["from"]) if "from" in item else None),
}


def to_action(item: AnyAction, bed_needles: int) -> bed.Action:
    """What the bed understands by an action of a file.

    Args:
        item: an action that was read as an :data:`ActionItem`.
        bed_needles: how many needles the bed has.

    Raises:
        NeedleError: if a needle list cannot be read on that bed.
    """
    return _READERS[item["do"]](item, bed_needles)
