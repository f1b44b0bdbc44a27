"""Single actions as lines of text that people can read and write: ``wrap R7``, ``knit 4 from right``.

Each action is one line, and reading what was written gives the same action again.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from bedview.language import gettext as _
from bedview.language import marked
from bedview.session.editing import EditError

Item = Mapping[str, Any]
_NUMBER: Final = r"[0-9]+(?:[.,][0-9]+)?"
_LIST: Final = r"[LRlr][0-9LRlr,\-]*"


def say_action(item: Item) -> str:
    """An action of a file as a line."""
    return _SAY[item["do"]](item)


def read_actions(text: str) -> list[dict[str, Any]]:
    """The actions of some lines, as a file writes them. Empty lines say nothing.

    Raises:
        EditError: naming the first line that cannot be read.
    """
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        item = _read(line.strip())
        if item is None:
            raise EditError(
                _("line {number}: '{text}' is no action; {examples}").format(
                    number=number, text=line.strip()[:40], examples=_(_EXAMPLES)
                )
            )
        found.append(item)
    return found


_EXAMPLES: Final = marked("write for example R1-R5 to hold, wrap R1, knit 2, or note: hang the weights")

_SAY: Final[Mapping[str, Callable[[Item], str]]] = {
    "thread": lambda item: f"thread {item['yarn']}",
    "cut": lambda item: f"cut, tail {item['tail_cm']} cm" if "tail_cm" in item else "cut",
    "park": lambda _item: "park",
    "resume": lambda item: f"resume {item['yarn']}",
    "note": lambda item: (
        f"note{' at ' + item['needles'] if 'needles' in item else ''}: {_one_line(item['text'])}"
    ),
    "hold_cams": lambda item: f"hold cams {'on' if item['on'] else 'off'}",
    "tension": lambda item: f"tension {item['dial']}",
    "counter": lambda item: f"counter {item['value']}",
    "place": lambda item: f"{item['needles']} to {item['position']}",
    "cast_on": lambda item: f"cast on {item['needles']}",
    "wrap": lambda item: f"wrap {item['needle']}",
    "transfer": lambda item: f"transfer {item['from']} to {item['to']}",
    "bind_off": lambda item: f"bind off {item['needles']}",
    "hang": lambda item: (
        f"hang {item['needles']} from {json.dumps(item['edge'])}{' turned' if item.get('turned') else ''}"
    ),
    "free_move": lambda _item: "carriage across",
    "knit": lambda item: f"knit {item['rows']}{' from ' + item['from'] if 'from' in item else ''}",
}


def _one_line(text: str) -> str:
    return text.replace("\\", "\\\\").replace("\n", "\\n")


def _more_lines(text: str) -> str:
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] == "n" else found[1], text)


def _number(text: str) -> float:
    number = float(text.replace(",", "."))
    return int(number) if number.is_integer() and not re.search(r"[.,]", text) else number


def _note(found: Sequence[str]) -> Item:
    item = {"do": "note", "text": _more_lines(found[1])}
    return item | {"needles": found[0].upper()} if found[0] else item


def _hang(found: Sequence[str]) -> Item:
    try:
        edge = json.loads(found[1])
    except json.JSONDecodeError:
        raise EditError(_("an edge is written as in the piece's file")) from None
    item = {"do": "hang", "needles": found[0].upper(), "edge": edge}
    return item | {"turned": True} if found[2] else item


def _cut(found: Sequence[str]) -> Item:
    return {"do": "cut", "tail_cm": _number(found[0])} if found[0] else {"do": "cut"}


def _knit(found: Sequence[str]) -> Item:
    item = {"do": "knit", "rows": int(found[0])}
    return item | {"from": found[1].lower()} if found[1] else item


_READ: Final[tuple[tuple[str, Callable[[Sequence[str]], Item]], ...]] = (
    (r"note(?: at ({list}))?: (.+)", _note),
    (r"thread (.+)", lambda found: {"do": "thread", "yarn": found[0]}),
    (r"cut(?:,? tail ({number})(?: ?cm)?)?", _cut),
    (r"park", lambda _found: {"do": "park"}),
    (r"resume (.+)", lambda found: {"do": "resume", "yarn": found[0]}),
    (r"hold cams (on|off)", lambda found: {"do": "hold_cams", "on": found[0].lower() == "on"}),
    (r"tension ({number})", lambda found: {"do": "tension", "dial": _number(found[0])}),
    (r"counter ([0-9]+)", lambda found: {"do": "counter", "value": int(found[0])}),
    (r"cast on ({list})", lambda found: {"do": "cast_on", "needles": found[0].upper()}),
    (r"bind off ({list})", lambda found: {"do": "bind_off", "needles": found[0].upper()}),
    (r"wrap ({list})", lambda found: {"do": "wrap", "needle": found[0].upper()}),
    (
        r"transfer ({list}) to ({list})",
        lambda found: {"do": "transfer", "from": found[0].upper(), "to": found[1].upper()},
    ),
    (r"hang ({list}) from (.+?)( turned)?", _hang),
    (r"carriage across", lambda _found: {"do": "free_move"}),
    (r"knit ([0-9]+)(?: rows?)?(?: from (left|right))?", _knit),
    (
        r"(?:bring |push )?({list}) to (out|work|upper|hold)",
        lambda found: {"do": "place", "needles": found[0].upper(), "position": found[1].lower()},
    ),
)


def _read(line: str) -> dict[str, Any] | None:
    for pattern, make in _READ:
        whole = pattern.replace("{list}", _LIST).replace("{number}", _NUMBER)
        found = re.fullmatch(whole, line, re.IGNORECASE)
        if found:
            return dict(make([group or "" for group in found.groups()]))
    return None
