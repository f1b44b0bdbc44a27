"""Sentences: each action says what hands do, as the bed stands before it."""

from __future__ import annotations

import ast
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pytest

from bedview import language
from bedview.plan.words import Words
from tests.plan.making import cast_on, compiled, document


def said(*items: dict[str, Any], needles: int = 12, short_forms: bool = False) -> list[str]:
    """What the hands of the last action are told, after a cast-on over the whole bed."""
    made = compiled(needles, cast_on(needles), {"kind": "actions", "actions": list(items)})
    words = Words(needles, made.piece.yarns, short_forms=short_forms)
    last = made.timeline.lines - 1
    return list(words.hand(made.actions[-1], made.timeline.state_at(last - 1)))  # type: ignore[arg-type]


def place(needles: str, position: str) -> dict[str, Any]:
    return {"do": "place", "needles": needles, "position": position}


KNIT = {"do": "knit", "rows": 1}


@pytest.mark.parametrize(("items", "sentences"), [
    ([place("R6", "hold")], ["Bring R6 to hold"]),
    ([place("L6-L5,R6", "hold")], ["Bring L6, L5 and R6 to hold"]),
    ([place("L6-L3,R2-R6", "hold")], ["Bring L6 to L3 and R2 to R6 to hold"]),
    ([place("L5", "hold"), place("L5", "upper")], ["Push L5 back to upper working"]),
    ([place("L5", "hold"), place("L6-L5", "upper")],
     ["Bring L6 to upper working", "Push L5 back to upper working"]),
    ([place("L5", "work")], ["Leave L5 in working position"]),
    ([place("L5", "out")], ["Push L5 back out of work"]),
    ([{"do": "hold_cams", "on": True}], ["Set the hold cams to on"]),
    ([{"do": "tension", "dial": 6.5}], ["Set the tension dial to 6.5"]),
    ([{"do": "counter", "value": 0}], ["Set the row counter to 0"]),
    ([{"do": "thread", "yarn": "waste"}], ["Cut the blue wool and thread the waste cotton"]),
    ([{"do": "cut", "tail_cm": 40}], ["Cut the blue wool, leaving a tail of 40 cm"]),
    ([{"do": "cut"}], ["Cut the blue wool"]),
    ([{"do": "cut"}, {"do": "thread", "yarn": "second"}], ["Thread the yarn “second”"]),
    ([{"do": "park"}, {"do": "resume", "yarn": "main"}],
     ["Put the blue wool, which waits, back into the feeder"]),
    ([place("R6", "hold"), {"do": "wrap", "needle": "R6"}], ["Wrap R6 by hand"]),
    ([{"do": "transfer", "from": "L6", "to": "L5"}], ["Move the loop of L6 onto L5"]),
    ([{"do": "transfer", "from": "L6", "to": "L5"}, {"do": "transfer", "from": "L5", "to": "L4"}],
     ["Move all 2 loops of L5 onto L4"]),
    ([{"do": "bind_off", "needles": "R1-R6"}], ["Bind off R1 to R6, beginning at the right"]),
    ([{"do": "note", "text": "hang a marker", "needles": "L6,R6"}], ["hang a marker (L6 and R6)"]),
    ([{"do": "note", "text": "100 % wool {x}"}], ["100 % wool {x}"]),
    ([{"do": "free_move"}], ["Lift the carriage off and set it down on the left"]),
    ([KNIT, {"do": "hang", "needles": "L6-R6", "edge": {"made_in_pass": 0, "needles": "L6-R6"}}],
     ["Hang the cast-on edge of L6 to R6 on L6 to R6"]),
])  # fmt: skip
def test_sentences(items: list[dict[str, Any]], sentences: list[str]) -> None:
    assert said(*items) == sentences


def test_side_edges_say_which_face_is_seen() -> None:
    """Laid along the needles, the left edge shows the same face if its first row lies on the left."""
    waste: list[dict[str, Any]] = [
        {"do": "cut"},
        {"do": "thread", "yarn": "waste"},
        {"do": "knit", "rows": 4},
        {"do": "cut"},
    ]
    scrapped: list[dict[str, Any]] = [*[KNIT] * 4, *waste, KNIT]
    same_face = "Hang the left edge, rows 1 to 3 on L2 to R1"
    hang = {"do": "hang", "needles": "L2-R1"}
    sides = [
        said(*scrapped, {**hang, "edge": {"side": side, "passes": [1, 3]}, "turned": turned})
        for side, turned in (("left", False), ("left", True), ("right", False), ("right", True))
    ]
    assert sides[0] == [same_face]
    assert ["other face" in sentence[0] for sentence in sides] == [False, True, True, False]


def test_short_forms() -> None:
    assert said(place("R6", "hold"), short_forms=True) == ["Bring R6 to HP"]
    assert said(place("R6", "hold"), place("R6", "out"), short_forms=True) == ["Push R6 back to NWP"]


def test_long_lists_of_needles_end_in_more() -> None:
    every_other = list(range(0, 60, 2))
    text = Words(60, ()).needles(every_other)
    assert text.endswith("and more")
    assert text.count(",") == 10


class Upside(NullTranslations):
    """A language in which everything is said in capitals, gaps aside."""

    def gettext(self, message: str) -> str:
        return "¡" + message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return "¡" + (msgid1 if n == 1 else msgid2)


def test_every_sentence_goes_through_the_translation() -> None:
    segments = [
        cast_on(12),
        {"kind": "plain", "rows": 2},
        {"kind": "short_rows", "down_to": 4, "back": {"wraps": "hand"}},
        {"kind": "narrow", "stitches": 2, "tool": 3},
        {"kind": "widen", "stitches": 1, "ends": "left"},
        {"kind": "hem", "rows": 1, "tension": 6},
        {"kind": "set_aside", "groups": ["R3-R4"]},
        {"kind": "scrap_off", "needles": "L5-R2", "tail_cm": 20, "group": "left"},
        {"kind": "hang", "group": "left"},
    ]
    language.use(Upside())
    try:
        steps = compiled(12, *segments).steps
        spoken = [[*step.hands, step.carriage or "¡", step.why or "¡"] for step in steps]
    finally:
        language.use(NullTranslations())
    for told in spoken:
        assert all(sentence.startswith("¡") for sentence in told), told


def test_words_are_written_as_constants_for_translators() -> None:
    """A sentence put together before it is translated would never be found in a catalogue."""
    rooms = Path(__file__).parents[2] / "bedview" / "plan"
    calls = 0
    for name in ("words.py", "reasons.py", "instructions.py", "progress.py"):
        for node in ast.walk(ast.parse((rooms / name).read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if called in ("_", "gettext", "ngettext"):
                calls += 1
                sentences = node.args[:2] if called == "ngettext" else node.args[:1]
                known = (ast.Constant, ast.Name, ast.Attribute)  # names: sentences marked where they stand
                assert all(isinstance(each, known) for each in sentences), ast.unparse(node)
    assert calls > 50


def test_a_yarn_without_a_name_goes_by_its_id() -> None:
    assert [yarn.get("name") for yarn in document(4, [])["yarns"]][1] is None
    assert said({"do": "cut"}, {"do": "thread", "yarn": "cord"}) == ["Thread the yarn “cord”"]
