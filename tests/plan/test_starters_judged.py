"""Every starter × size × gauge judged with a tape measure: stitches and rows counted off the passes.

Nothing of the program's own measuring is used here: what is knitted on which needle in which part is
read from the steps, and multiplied by the swatch's stitch and row.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import hypot, pi

import pytest

from bedview.finish.finish_plan import finish_plan
from bedview.finish.fitting import does_not_fit
from bedview.form.resting import resting_shape
from bedview.plan.fit import fit
from bedview.plan.mirror import mirror_piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.starters import STARTERS, Starter, find_starter
from tests.plan.test_starters_sizes import ALL, GAUGES

FOOT_OF_SOCK = ("Heel, widening", "Instep back", "Foot", "Instep to hold again", "Toe, narrowing")
FOOT_DOWN = ("Heel, widening", "Foot", "Flaps to hold", "Toe, narrowing")
FOOT_UP = ("Outer: toe, widening", "Outer: flaps back", "Outer: foot", "Outer: heel, narrowing")
WEDGES = ("Wedge, first rows", "Wedge")
GORES = ("Gore, first rows", "Gore", "Gore, all back")
STITCH, ROW = "stitch", "row"


@dataclass(frozen=True)
class Asked:
    """A measure: what is asked, what is knitted, and by how much of what they may differ."""

    key: str
    asked_mm: float
    knitted_mm: float
    within: str


class Tape:
    """Counts stitches and rows of a piece by the titles of its parts."""

    def __init__(self, procedure: Procedure, stitches: float, rows: float) -> None:
        self.stitch_mm, self.row_mm = 100 / stitches, 100 / rows
        self._passes: list[tuple[set[str], frozenset[int]]] = []
        for step in procedure.steps:
            if step.makes_pass:
                event = procedure.timeline.event_of(step.last_line)
                action = procedure.timeline.action_of_line(step.last_line)
                titles = {span.segment.title for span in procedure.spans_of_action(action)}
                self._passes.append((titles, frozenset(event.knit.tolist())))

    def courses(self, *titles: str) -> list[frozenset[int]]:
        return [knit for of, knit in self._passes if of & set(titles) and knit]

    def broadest(self, *titles: str) -> frozenset[int]:
        return max(self.courses(*titles), key=len)

    def narrowest(self, title: str) -> frozenset[int]:
        return min(self.courses(title), key=len)

    def widest(self, title: str) -> int:
        return max(len(knit) for knit in self.courses(title))

    def middle_of_narrowest(self, title: str) -> int:
        needles = sorted(self.narrowest(title))
        return needles[len(needles) // 2]

    def rows(self, needle: int, *titles: str) -> int:
        return sum(needle in knit for knit in self.courses(*titles))


def sock(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    around = (tape.widest("Foot") - 2) * tape.stitch_mm
    yield Asked("foot_girth", 10 * value("foot_girth") * (1 + value("ease") / 100), around, STITCH)
    sole = tape.rows(tape.middle_of_narrowest("Heel, narrowing"), *FOOT_OF_SOCK) * tape.row_mm
    yield Asked("foot_length", 10 * (value("foot_length") + value("room")), sole, ROW)


def bootee(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    around = (tape.widest("Foot") - 2) * tape.stitch_mm
    yield Asked("foot_girth", 10 * value("foot_girth") * (1 + value("ease") / 100), around, STITCH)
    sole = tape.rows(tape.middle_of_narrowest("Heel, narrowing"), *FOOT_DOWN) * tape.row_mm
    yield Asked("foot_length", 10 * (value("foot_length") + value("room")), sole, ROW)


def lined(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    around = (tape.widest("Outer: foot") - 2) * tape.stitch_mm
    yield Asked("foot_girth", 10 * value("foot_girth") * (1 + value("ease") / 100), around, STITCH)
    sole = tape.rows(tape.middle_of_narrowest("Outer: heel, narrowing"), *FOOT_UP) * tape.row_mm
    yield Asked("foot_length", 10 * (value("foot_length") + value("room")), sole, ROW)
    lining = (tape.widest("Lining: foot") - 2) * 100 / value("lining_stitches")
    yield Asked("lining_girth", around * (1 - value("lining_ease") / 100), lining, STITCH)
    assert lining < around or value("lining_ease") * around / 100 < tape.stitch_mm


def mitt(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    around = (tape.widest("Hand above the thumb") - 2) * tape.stitch_mm
    yield Asked("hand_girth", 10 * value("hand_girth") * (1 + value("ease") / 100), around, STITCH)
    edge = min(tape.broadest("Hand above the thumb"))
    below = tape.rows(edge, "Hand below the thumb")
    yield Asked("thumb_height", 10 * value("thumb_height"), below * tape.row_mm, ROW)
    above = tape.rows(edge, "Hand above the thumb")
    tip = tape.rows(tape.middle_of_narrowest("Tip, narrowing"), "Back of the hand to hold", "Tip, narrowing")
    length = 10 * (value("hand_length") + value("room"))
    yield Asked("hand_length", length, (below + above + tip) * tape.row_mm, ROW)


def shoulders(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    around = (tape.widest("Back piece") + tape.widest("Front piece") - 4) * tape.stitch_mm
    yield Asked("chest_girth", 10 * value("chest_girth") * (1 + value("ease") / 100), around, STITCH)
    needles = sorted(tape.broadest("Back piece"))
    middle = needles[len(needles) // 2]
    hem = tape.rows(middle, "Back: hem") / 2
    back = hem + tape.rows(middle, "Back piece", "Back: shoulders", "Back: across all")
    yield Asked("back_length", 10 * value("body_length"), back * tape.row_mm, ROW)


def hat(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    whole = tape.broadest(*WEDGES)
    yield Asked("depth", 10 * value("depth"), len(whole) * tape.stitch_mm, STITCH)
    around = max(tape.rows(needle, *WEDGES) for needle in whole) + 1
    asked = 10 * value("head_girth") * (1 + value("ease") / 100)
    yield Asked("head_girth", asked, around * tape.row_mm, ROW)


def cone(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    whole = tape.broadest(*WEDGES)
    slant = hypot(5 * value("across"), 10 * value("height"))
    yield Asked("slope", slant, len(whole) * tape.stitch_mm, STITCH)
    around = max(tape.rows(needle, *WEDGES) for needle in whole) + 1
    yield Asked("round", 10 * pi * value("across"), around * tape.row_mm, ROW)


def ball(tape: Tape, value: Callable[[str], float]) -> Iterator[Asked]:
    whole = sorted(tape.broadest(GORES[0]))
    yield Asked("half_round", 5 * pi * value("across"), len(whole) * tape.stitch_mm, STITCH)
    middle = whole[len(whole) // 2]
    around = tape.rows(middle, *GORES) + 1
    yield Asked("round", 10 * pi * value("across"), around * tape.row_mm, ROW)


JUDGES = {
    "sock": sock,
    "bootee": bootee,
    "lined-bootee": lined,
    "mitt": mitt,
    "shoulders": shoulders,
    "hat": hat,
    "cone": cone,
    "ball": ball,
}


def test_every_starter_has_its_judge() -> None:
    assert set(JUDGES) == {starter.name for starter in STARTERS}


@pytest.mark.parametrize(("starter", "size"), ALL, ids=[f"{each.name}-{size}" for each, size in ALL])
def test_it_measures_what_was_asked_and_can_be_made_up(starter: Starter, size: str) -> None:
    for gauge in GAUGES:
        asked: dict[str, str | float] = {**gauge, **({"size": size} if size else {})}
        piece = starter.make(asked)
        procedure = compile_piece(piece)
        tape = Tape(procedure, gauge["stitches"], gauge["rows"])
        reasons = {line.key for line in fit(piece, procedure).lines if line.reason}
        for each in JUDGES[starter.name](tape, starter.resolve(asked).number):
            within = tape.stitch_mm if each.within == STITCH else tape.row_mm
            if each.key not in reasons:
                assert each.knitted_mm == pytest.approx(each.asked_mm, abs=within + 1e-6), each.key
        found = does_not_fit(finish_plan(piece, procedure))
        assert [(each.rule, each.says) for each in found if each.severity != "note"] == []


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_the_other_one_of_a_pair_can_be_made_up_too(starter: Starter) -> None:
    piece = mirror_piece(starter.make({"stitches": 15, "rows": 21}))
    found = does_not_fit(finish_plan(piece, compile_piece(piece)))
    assert [(each.rule, each.says) for each in found if each.severity != "note"] == []


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_its_shape_closes(starter: Starter) -> None:
    smallest = {"size": starter.sizes[0].name} if starter.sizes else {"across": 8}
    piece = starter.make({**smallest, "stitches": 15, "rows": 21, "needles": 110, "pitch": 9})
    shape = resting_shape(piece, compile_piece(piece))
    assert shape.seam_gap_mean_mm < 1.0
    assert shape.strain_mean < 0.01


def test_the_palm_of_a_mitt_is_grafted_to_its_back_and_not_the_thumb_s_end() -> None:
    piece = find_starter("mitt").make({"stitches": 20, "rows": 28})
    plan = finish_plan(piece, compile_piece(piece))
    joined = {
        frozenset(plan.groups[side.group].name for side in seam.sides if side.group is not None)
        for seam in plan.seams
        if seam.is_graft
    }
    assert joined == {frozenset({"palm", "back of the hand"}), frozenset({"end of the thumb"})}


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_no_long_tail_is_left_unused(starter: Starter) -> None:
    piece = starter.make({})
    plan = finish_plan(piece, compile_piece(piece))
    sews = {sewing.tail for sewing in plan.sewing}
    idle = [end.cm for number, end in enumerate(plan.ends) if number not in sews and (end.cm or 0) >= 30]
    assert idle == []
