"""Lesson files with one thing wrong each: what is changed, where it is wrong, words the message must have."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from typing import Any, NamedTuple

Document = dict[str, Any]

SOUND: Document = {
    "format": 1,
    "title": "Two rows",
    "says": ["Two rows of knitting."],
    "bed": {"needles": 8, "pitch_mm": 9.0, "carriage": "right"},
    "yarns": [{"id": "main", "role": "fabric"}],
    "start": [{"do": "thread", "yarn": "main"}, {"do": "cast_on", "needles": "L4-R4"}],
    "task": "Knit two rows.",
    "goals": [
        {"kind": "rows", "needles": "L4-R4", "least": 2, "says": "Look at {needles}."},
        {"kind": "yarn", "yarn": "main", "says": "The wool is not in the feeder."},
    ],
    "hint": "Push the carriage across twice.",
    "done": "Two rows.",
    "solutions": [{"actions": [{"do": "knit", "rows": 2}]}],
}


class Broken(NamedTuple):
    """A change that must be refused."""

    change: Callable[[Document], object]
    where: str
    says: str

    def data(self) -> bytes:
        """The file."""
        document = deepcopy(SOUND)
        self.change(document)
        return json.dumps(document).encode()


def put(value: object, *path: int | str) -> Callable[[Document], object]:
    """Put a value in a place."""

    def change(document: Document) -> None:
        holder: Any = document
        for part in path[:-1]:
            holder = holder[part]
        holder[path[-1]] = value

    return change


def without(*path: int | str) -> Callable[[Document], object]:
    """Take a key away."""

    def change(document: Document) -> None:
        holder: Any = document
        for part in path[:-1]:
            holder = holder[part]
        del holder[path[-1]]

    return change


def goal(**fields: object) -> Callable[[Document], object]:
    """Another first goal."""
    return put({"says": "Look at {needles}.", **fields}, "goals", 0)


def start(*items: Document) -> Callable[[Document], object]:
    """Another start."""
    return put(list(items), "start")


def solution(*items: Document) -> Callable[[Document], object]:
    """Another way to solve it."""
    return put([{"actions": list(items)}], "solutions")


KNIT: Document = {"do": "knit", "rows": 2}
ROWS = "goals[0]"

BROKEN = {
    "no format": Broken(without("format"), "format", "is missing"),
    "format of the future": Broken(put(2, "format"), "format", "must be 1, not 2"),
    "format in words": Broken(put("1", "format"), "format", "must be 1, not '1'"),
    "unknown key": Broken(put(1, "level"), "level", "is not a key bedview knows here"),
    "no title": Broken(without("title"), "title", "is missing"),
    "empty title": Broken(put("", "title"), "title", "must not be empty"),
    "title of many lines": Broken(put("long " * 50, "title"), "title", "at most 200 characters"),
    "place zero": Broken(put(0, "place"), "place", "from 1 to 999"),
    "says nothing": Broken(put([], "says"), "says", "at least 1"),
    "says a text": Broken(put("Two rows.", "says"), "says", "must be a list"),
    "empty paragraph": Broken(put("", "says", 0), "says[0]", "must not be empty"),
    "no bed": Broken(without("bed"), "bed", "is missing"),
    "odd bed": Broken(put(7, "bed", "needles"), "bed.needles", "must be an even number"),
    "pitch of nothing": Broken(put(0, "bed", "pitch_mm"), "bed.pitch_mm", "from 2 to 20"),
    "carriage in the middle": Broken(put("middle", "bed", "carriage"), "bed.carriage", "'left' or 'right'"),
    "yarn without role": Broken(without("yarns", 0, "role"), "yarns[0].role", "is missing"),
    "yarn of another role": Broken(put("wool", "yarns", 0, "role"), "yarns[0].role", "not 'wool'"),
    "two yarns of one id": Broken(
        put([{"id": "main", "role": "fabric"}, {"id": "main", "role": "waste"}], "yarns"),
        "yarns[1].id",
        "each needs its own",
    ),
    "start beyond the bed": Broken(
        start({"do": "cast_on", "needles": "L9-R4"}), "start[0].needles", "beyond the bed"
    ),
    "start backwards": Broken(start({"do": "cast_on", "needles": "R4-L4"}), "start[0].needles", "backwards"),
    "start with an unknown action": Broken(start({"do": "purl"}), "start[0].do", "not an action"),
    "start with a position of another bed": Broken(
        start({"do": "place", "needles": "L1", "position": "middle"}), "start[0].position", "not 'middle'"
    ),
    "start with rows in words": Broken(start({"do": "knit", "rows": "2"}), "start[0].rows", "whole number"),
    "start refused by the bed": Broken(
        start({"do": "cast_on", "needles": "L4-R4"}), "start[0]", "no yarn in the feeder"
    ),
    "start with a yarn that is not there": Broken(
        start({"do": "thread", "yarn": "silk"}), "start[0]", "'silk' is not in the piece"
    ),
    "start takes back too much": Broken(
        start({"do": "unpick", "rows": 3}), "start[0]", "only 0 rows are knitted"
    ),
    "no task": Broken(without("task"), "task", "is missing"),
    "task in a list": Broken(put(["Knit."], "task"), "task", "must be text"),
    "no goals": Broken(put([], "goals"), "goals", "at least 1"),
    "goal without kind": Broken(put({"says": "?"}, "goals", 0), f"{ROWS}.kind", "is missing"),
    "goal of an unknown kind": Broken(goal(kind="clicks"), f"{ROWS}.kind", "'clicks' is not a kind"),
    "goal without feedback": Broken(
        put({"kind": "carriage", "side": "left"}, "goals", 0), f"{ROWS}.says", "is missing"
    ),
    "feedback with other braces": Broken(
        put({"kind": "carriage", "side": "left", "says": "Not {side}."}, "goals", 0),
        f"{ROWS}.says",
        "nothing but {needles}",
    ),
    "goal beyond the bed": Broken(
        goal(kind="loops", needles="R5", each=1), f"{ROWS}.needles", "R5 is beyond the bed"
    ),
    "goal without needles": Broken(goal(kind="loops", needles="", each=1), f"{ROWS}.needles", "is empty"),
    "goal with a needle twice": Broken(
        goal(kind="loops", needles="L1,L1", each=1), f"{ROWS}.needles", "L1 is named twice"
    ),
    "goal of half a row": Broken(goal(kind="rows", needles="L1", least=1.5), f"{ROWS}.least", "whole number"),
    "goal of true": Broken(goal(kind="rows", needles="L1", least=True), f"{ROWS}.least", "whole number"),
    "goal with cams in words": Broken(goal(kind="hold_cams", on="yes"), f"{ROWS}.on", "true or false"),
    "goal of an unknown rule": Broken(
        goal(kind="findings", rules=["ugly"]), f"{ROWS}.rules[0]", "'ugly' is not a rule bedview knows"
    ),
    "goal of another yarn": Broken(
        goal(kind="yarn", yarn="silk"), f"{ROWS}.yarn", "'silk' is not in the lesson"
    ),
    "goal of openings that are plain": Broken(
        goal(kind="openings", most=2), f"{ROWS}.most", "from 3 to 9999"
    ),
    "goal that asks for more than most": Broken(
        goal(kind="rows", needles="L1", least=5, most=4), ROWS, "least is more than most"
    ),
    "goals reached at once": Broken(
        put([{"kind": "yarn", "yarn": "main", "says": "?"}], "goals"), "goals", "before anything is done"
    ),
    "no hint": Broken(without("hint"), "hint", "is missing"),
    "nothing said at the end": Broken(without("done"), "done", "is missing"),
    "no solution": Broken(put([], "solutions"), "solutions", "at least 1"),
    "solution of no actions": Broken(solution(), "solutions[0].actions", "at least 1"),
    "solution with a mistake": Broken(
        solution({"do": "knit", "rows": 0}), "solutions[0].actions[0].rows", "from 1 to 9999"
    ),
    "solution refused by the bed": Broken(
        solution(KNIT, {"do": "wrap", "needle": "L1"}), "solutions[0].actions[1]", "L1 is not in hold"
    ),
    "solution that misses the goal": Broken(
        solution({"do": "knit", "rows": 1}), "solutions[0]", "misses goals[0] at L4-R4: Look at L4 to R4"
    ),
    "solution without end": Broken(
        solution(*[{"do": "knit", "rows": 9999}] * 2), "solutions[0].actions", "more than 10000 passes"
    ),
    "language that is none": Broken(put({"Deutsch": {}}, "texts"), "texts.Deutsch", "de or pt_BR"),
    "translation of another text": Broken(
        put({"de": {"Three rows": "Drei Reihen"}}, "texts"), 'texts.de["Three rows"]', "is no text of"
    ),
    "empty translation": Broken(
        put({"de": {"Two rows": ""}}, "texts"), 'texts.de["Two rows"]', "must not be empty"
    ),
}

BROKEN_TEXTS: dict[str, tuple[bytes, str, str]] = {
    "empty file": (b"", "file", "is empty"),
    "no JSON": (b"{format: 1}", "line 1 column 2", "double quotes"),
    "a list": (b"[]", "top level", "must be an object, not a list"),
    "a key twice": (b'{"format": 1, "format": 1}', "format", "stands here twice"),
    "not a number": (b'{"format": NaN}', "line 1 column 12", "NaN"),
    "cut short": (b'{"format": 1, "title": "Two', "line 1 column 27", "ends in the middle"),
    "a picture": (b"\x89PNG\r\n\x1a\n", "line 1 column 1", "UTF-8"),
}
