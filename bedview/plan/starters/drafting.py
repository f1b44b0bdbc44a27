"""The parts starters write: segments as a file has them, needles by their distance from the middle."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Any, Final

from bedview.bed.needles import format_needles
from bedview.language import marked
from bedview.plan.yarn import graft_tail_cm

Segment = dict[str, Any]
Seam = dict[str, Any]

MIDDLE: Final = 200
"""Half of the widest bed. Offsets are named on it: a name is the same on every bed that has the needle."""
WASTE_ROWS: Final = 8
"""Seven or eight are usual (class notes on waste yarn); an even number leaves the carriage where it was."""
END_CM: Final = 15.0
"""A tail that is only darned in."""

YARNS: Final[dict[str, dict[str, Any]]] = {
    "main": {"id": "main", "name": marked("main yarn"), "role": "fabric", "colour": "#2f6690"},
    "lining": {"id": "lining", "name": marked("lining yarn"), "role": "fabric", "colour": "#b5495b"},
    "waste": {"id": "waste", "name": marked("waste yarn"), "role": "waste", "colour": "#d8c3a5"},
    "cord": {"id": "cord", "name": marked("ravel cord"), "role": "ravel", "colour": "#c9463d"},
}


def span(first: int, count: int) -> str:
    """Needle list of ``count`` neighbours from an offset: 0 is the first right of the middle."""
    return format_needles(range(MIDDLE + first, MIDDLE + first + count), 2 * MIDDLE)


def centred(count: int) -> str:
    """Needle list of ``count`` neighbours round the middle; an odd one lies on the left."""
    return span(-(count - count // 2), count)


def tail_cm(stitches: int, stitch_mm: float) -> float:
    """A tail long enough to graft so many stitches, in whole steps of 5 cm."""
    return 5.0 * ceil(graft_tail_cm(stitches * stitch_mm) / 5)


def cast_on(title: str, needles: str, *, tension: float, yarn: str = "main") -> Segment:
    """Closed loops by e-wrap."""
    return {
        "kind": "cast_on",
        "title": title,
        "needles": needles,
        "how": "e_wrap",
        "yarn": yarn,
        "tension": tension,
    }


def waste_start(title: str, needles: str, *, tension: float, waste_rows: int = WASTE_ROWS) -> Segment:
    """Open loops on waste and a row of ravel cord; the carriage ends on the other side."""
    return {
        "kind": "cast_on",
        "title": title,
        "needles": needles,
        "how": "waste",
        "yarn": "main",
        "tension": tension,
        "waste": "waste",
        "waste_rows": waste_rows,
        "ravel": "cord",
    }


def plain(title: str, rows: int, **more: Any) -> Segment:  # noqa: ANN401 - fields of a segment
    """So many rows."""
    return {"kind": "plain", "title": title, "rows": rows, **more}


def reminder(row: int, text: str, needles: str = "") -> dict[str, Any]:
    """Words for the knitter after so many rows of a segment, with the needles they concern if it has some."""
    return {"row": row, "text": text} | ({"needles": needles} if needles else {})


def hem(title: str, rows: int) -> Segment:
    """So many rows double, closed on the needles."""
    return {"kind": "hem", "title": title, "rows": rows}


def notes(title: str, *said: str | tuple[str, str]) -> Segment:
    """Words between the rows, each with the needles they concern if it has some."""
    items = []
    for each in said:
        text, needles = (each, "") if isinstance(each, str) else each
        items.append({"do": "note", "text": text} | ({"needles": needles} if needles else {}))
    return {"kind": "actions", "title": title, "actions": items}


def hands(title: str, *actions: dict[str, Any]) -> Segment:
    """Single actions."""
    return {"kind": "actions", "title": title, "actions": list(actions)}


def scrap_off(
    title: str, needles: str, group: str, *, tail: float | None = None, rows: int = WASTE_ROWS
) -> Segment:
    """A group on waste, named as in the title."""
    made: Segment = {"kind": "scrap_off", "title": title, "needles": needles, "group": group, "rows": rows}
    return made if tail is None else made | {"tail_cm": tail}


def turn(titles: tuple[str, str], first: int, across: int, held: int, *said: str) -> list[Segment]:
    """A heel or toe: one needle to hold at each end in turn, wrapped by the pass, and back again.

    On the way back they are wrapped by hand, so that no gap stays.

    Args:
        titles: of the half that narrows, and of the half that widens.
        first: offset of the leftmost needle of the stretch it is knitted over.
        across: needles of the stretch.
        held: how many of them are held at each end in the end.
        said: reminders before its first row.
    """
    ends = f"{span(first, held)},{span(first + across - held, held)}"
    middle = span(first + held, across - 2 * held)
    return [
        {
            "kind": "short_rows",
            "title": titles[0],
            "down_to": across - 2 * held,
            "ends": "in_turn",
            "wraps": "automatic",
            "reminders": [
                *(reminder(0, text) for text in said),
                reminder(0, "Hang the weights on the middle: the edges are held from here", middle),
            ],
        },
        {
            "kind": "bring_back",
            "title": titles[1],
            "needles": ends,
            "ends": "in_turn",
            "wraps": "hand",
            "reminders": [reminder(0, "Move the weights up, close under the needles that knit", middle)],
        },
    ]


def graft(a: dict[str, Any], b: dict[str, Any]) -> Seam:
    """Two edges joined loop to loop."""
    return {"kind": "graft", "a": a, "b": b}


def side_seam(passes: Sequence[int], passes_b: Sequence[int] | None = None) -> Seam:
    """The left edge to the right one over some passes, one stitch inside; or to other passes of it."""
    other = passes if passes_b is None else passes_b
    return {
        "kind": "mattress",
        "a": {"side": "left", "passes": [passes[0], passes[-1]]},
        "b": {"side": "right", "passes": [other[0], other[-1]]},
        "stitches_in": 1,
    }
