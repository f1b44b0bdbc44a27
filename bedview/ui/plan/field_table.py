"""Which fields a part of each kind shows, in which order, and how each is written.

This is the one table behind the fields of the page Plan. The name of a field is the title that the kind
itself gives it; its limits are the kind's own too, and are asked when a value is put in.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum, auto
from typing import Any, Final

from PySide6.QtCore import QT_TRANSLATE_NOOP

from bedview.plan.segments.base import Segment

Changes = dict[str, Any]


class Entry(Enum):
    """How a value is written."""

    WHOLE = auto()
    NUMBER = auto()
    ROWS_OR_LENGTH = auto()
    """``20`` or ``14 cm``."""
    LENGTH_CM = auto()
    NEEDLES = auto()
    GROUPS = auto()
    TEXT = auto()
    CHOICE = auto()
    FLAG = auto()
    YARN = auto()


@dataclass(frozen=True, slots=True)
class FieldSpec:
    """One field.

    Attributes:
        key: the field of the part; also what undo goes by.
        entry: how it is written.
        choices: values and what they are called.
        unset: what stands there while nothing is said; None where something must be.
        role: of the yarns to choose among.
        shown: whether it says anything for a part as it is.
        get: its value.
        put: the changes that a new value makes.
        title: its name, where the kind has none for it.
    """

    key: str
    entry: Entry
    choices: tuple[tuple[object, str], ...] = ()
    unset: str | None = None
    role: str = "fabric"
    shown: Callable[[Any], bool] = lambda _part: True
    get: Callable[[Any], object] | None = None
    put: Callable[[Any, Any], Changes] | None = None
    title: str = ""

    def value_of(self, part: Segment) -> object:
        """The value in a part."""
        return self.get(part) if self.get else getattr(part, self.key)

    def changes(self, part: Segment, value: object) -> Changes:
        """What to change for a new value."""
        return self.put(part, value) if self.put else {self.key: value}

    def name_in(self, part: Segment) -> str:
        """What it is called, in English."""
        return self.title or type(part).model_fields[self.key].title or self.key


def _say(text: str) -> str:
    return str(QT_TRANSLATE_NOOP("field_table", text))


_AS_SET: Final = _say("as it is set")
_IN_FEEDER: Final = _say("as in the feeder")
_ALL_WORKING: Final = _say("all that work")
_FIRST: Final = _say("the first one")
_NO_CORD: Final = _say("no cord")
_ENDS: Final = (
    ("in_turn", _say("ends in turn")),
    ("both_each_row", _say("both, each row")),
    ("left", _say("left end")),
    ("right", _say("right end")),
)
_BOTH_ENDS: Final = (
    ("both", _say("both ends")),
    ("left", _say("left end")),
    ("right", _say("right end")),
)
_WRAPS: Final = (
    ("automatic", _say("by the pass")),
    ("hand", _say("by hand")),
    ("none", _say("none")),
)
_OLD_YARN: Final = (("cut", _say("is cut")), ("park", _say("waits, uncut")))


def _rows_or_length(*others: str, unset: str | None = None, title: str = "") -> FieldSpec:
    def get(part: Any) -> object:  # noqa: ANN401 - a part of any kind that has rows and a length
        return (
            part.rows if part.rows is not None else None if part.length_cm is None else part.length_cm * 10.0
        )

    def put(_part: Segment, value: object) -> Changes:
        cleared: Changes = dict.fromkeys(("rows", "length_cm", *others))
        if isinstance(value, int):
            return cleared | {"rows": value}
        return cleared if value is None else cleared | {"length_cm": round(float(str(value)) / 10, 4)}

    return FieldSpec("rows", Entry.ROWS_OR_LENGTH, unset=unset, get=get, put=put, title=title)


def _put_every(_part: Segment, value: object) -> Changes:
    return {"every": value} if value is None else {"every": value, "rows": None, "length_cm": None}


def _back_of(part: Any) -> object:  # noqa: ANN401 - a part of short rows
    return None if part.back is None else "at_once" if part.back.all_at_once else "steps"


def _put_back(part: Any, value: object) -> Changes:  # noqa: ANN401 - a part of short rows
    old = {} if part.back is None else part.back.model_dump(exclude_unset=True)
    old.pop("all_at_once", None)
    return {
        "back": {None: None, "steps": old, "at_once": old | {"all_at_once": True}}[
            str(value) if value else None
        ]
    }


def _of_back(key: str) -> tuple[Callable[[Any], object], Callable[[Any, Any], Changes]]:
    def get(part: Any) -> object:  # noqa: ANN401 - a part of short rows
        return getattr(part.back, key)

    def put(part: Any, value: object) -> Changes:  # noqa: ANN401 - a part of short rows
        old = part.back.model_dump(exclude_unset=True)
        old.pop(key, None)
        return {"back": old if value is None else old | {key: value}}

    return get, put


def _in_steps(part: Any) -> bool:  # noqa: ANN401 - a part of short rows
    return part.back is not None and not part.back.all_at_once


def _on_waste(part: Any) -> bool:  # noqa: ANN401 - a cast-on
    return bool(part.how == "waste")


def _has_yarn(part: Any) -> bool:  # noqa: ANN401 - a part that may name a yarn
    return part.yarn is not None


def _number_of(
    get_put: tuple[Callable[[Any], object], Callable[[Any, Any], Changes]], title: str
) -> FieldSpec:
    return FieldSpec(
        "back.needles_a_step",
        Entry.WHOLE,
        unset=_say("as on the way down"),
        shown=_in_steps,
        get=get_put[0],
        put=get_put[1],
        title=title,
    )


def _back_wraps() -> FieldSpec:
    get, put = _of_back("wraps")
    return FieldSpec(
        "back.wraps",
        Entry.CHOICE,
        _WRAPS,
        shown=_in_steps,
        get=get,
        put=put,
        title=_say("Wraps on the way back"),
    )


def _tail(shown: Callable[[Any], bool] = lambda _part: True) -> FieldSpec:
    return FieldSpec("tail_cm", Entry.LENGTH_CM, unset=_say("no tail"), shown=shown, title=_say("Its tail"))


_TENSION: Final = FieldSpec("tension", Entry.NUMBER, unset=_AS_SET)
_YARN: Final = FieldSpec("yarn", Entry.YARN, unset=_IN_FEEDER)
_SHAPING: Final = (
    FieldSpec("stitches", Entry.WHOLE),
    FieldSpec("ends", Entry.CHOICE, _BOTH_ENDS),
    _rows_or_length("every", unset=_say("every so many rows"), title=_say("Over")),
    FieldSpec(
        "every",
        Entry.WHOLE,
        unset="2",
        shown=lambda p: p.rows is None and p.length_cm is None,
        put=_put_every,
    ),
    FieldSpec("tool", Entry.CHOICE, ((1, "1"), (2, "2"), (3, "3"))),
    FieldSpec("at_once", Entry.FLAG),
)

FIELDS: Final[Mapping[str, tuple[FieldSpec, ...]]] = {
    "cast_on": (
        FieldSpec("needles", Entry.NEEDLES),
        FieldSpec(
            "how",
            Entry.CHOICE,
            (("e_wrap", _say("with e-wraps")), ("waste", _say("on waste, open"))),
        ),
        _YARN,
        _TENSION,
        FieldSpec("waste_rows", Entry.WHOLE, shown=_on_waste),
        FieldSpec("waste", Entry.YARN, unset=_FIRST, role="waste", shown=_on_waste),
        FieldSpec("ravel", Entry.YARN, unset=_NO_CORD, role="ravel", shown=_on_waste),
        FieldSpec("waste_tension", Entry.NUMBER, unset=_say("as the fabric's"), shown=_on_waste),
        FieldSpec("group", Entry.TEXT, unset=""),
        FieldSpec("old_yarn", Entry.CHOICE, _OLD_YARN, shown=_has_yarn),
        _tail(_has_yarn),
    ),
    "plain": (
        _rows_or_length(title=_say("Rows, or a length")),
        _TENSION,
        _YARN,
        FieldSpec("old_yarn", Entry.CHOICE, _OLD_YARN, shown=_has_yarn),
        _tail(_has_yarn),
    ),
    "short_rows": (
        FieldSpec("down_to", Entry.WHOLE),
        FieldSpec("needles_a_step", Entry.WHOLE),
        FieldSpec("ends", Entry.CHOICE, _ENDS),
        FieldSpec("wraps", Entry.CHOICE, _WRAPS),
        FieldSpec(
            "back",
            Entry.CHOICE,
            (("steps", _say("step by step")), ("at_once", _say("all at once"))),
            unset=_say("stay in hold"),
            get=_back_of,
            put=_put_back,
        ),
        _number_of(_of_back("needles_a_step"), _say("Needles each time, back")),
        _back_wraps(),
    ),
    "set_aside": (
        FieldSpec("groups", Entry.GROUPS),
        FieldSpec("wraps", Entry.CHOICE, _WRAPS[1:]),
    ),
    "bring_back": (
        FieldSpec("needles", Entry.NEEDLES, unset=_say("all in hold")),
        FieldSpec("ends", Entry.CHOICE, (*_ENDS, ("all_at_once", _say("all at once")))),
        FieldSpec("needles_a_step", Entry.WHOLE, shown=lambda part: part.ends != "all_at_once"),
        FieldSpec("wraps", Entry.CHOICE, _WRAPS, shown=lambda part: part.ends != "all_at_once"),
    ),
    "narrow": _SHAPING,
    "widen": (
        *_SHAPING,
        FieldSpec(
            "how",
            Entry.CHOICE,
            (
                ("heel", _say("moved out, the gap filled from below")),
                ("eyelet", _say("moved out, an eyelet stays")),
                ("laid_in", _say("yarn laid on a new edge needle")),
                ("e_wrap", _say("an e-wrap at the edge")),
            ),
        ),
    ),
    "hem": (
        FieldSpec("rows", Entry.WHOLE),
        FieldSpec("inside_rows", Entry.WHOLE, unset=_say("as many as outside")),
        _TENSION,
        FieldSpec("turning", Entry.NUMBER, unset=_say("two looser")),
        FieldSpec("closing", Entry.NUMBER, unset=_say("the hem's")),
    ),
    "scrap_off": (
        FieldSpec("needles", Entry.NEEDLES, unset=_ALL_WORKING),
        FieldSpec("group", Entry.TEXT, unset=""),
        FieldSpec("rows", Entry.WHOLE),
        FieldSpec("waste", Entry.YARN, unset=_FIRST, role="waste"),
        FieldSpec("ravel", Entry.YARN, unset=_NO_CORD, role="ravel"),
        _TENSION,
        FieldSpec("old_yarn", Entry.CHOICE, _OLD_YARN),
        _tail(),
    ),
    "hang": (
        FieldSpec("group", Entry.TEXT, unset=None, shown=lambda part: part.edge is None),
        FieldSpec("needles", Entry.NEEDLES, unset=_say("where it came from")),
        FieldSpec("turned", Entry.FLAG),
        FieldSpec("rows", Entry.WHOLE, unset=_say("no rows")),
        _YARN,
        _TENSION,
    ),
    "bind_off": (
        FieldSpec("needles", Entry.NEEDLES, unset=_ALL_WORKING),
        FieldSpec("tail_cm", Entry.LENGTH_CM, unset=_say("stays in the feeder"), title=_say("Tail")),
    ),
    "repeat": (FieldSpec("times", Entry.WHOLE, title=_say("Times")),),
    "actions": (),
}
"""Fields by kind."""

ELSEWHERE: Final = ("kind", "title", "meant", "reminders", "segments", "actions", "edge", "length_cm")
"""Fields that are written in another way than in a line of the table."""
