"""What stands behind an edit is taken over only where doing it would have come to the same."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from random import Random
from typing import Any
from unittest.mock import patch

import pytest

from bedview.bed.actions import (
    Action,
    CastOn,
    Cut,
    HoldCams,
    Knit,
    Note,
    Park,
    Place,
    Resume,
    Thread,
    Transfer,
    Wrap,
    YarnRole,
)
from bedview.bed.again import Stretch
from bedview.bed.needles import Bed, Position
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from tests.plan.making import all_of, document
from tests.property.procedures import Procedure as ProcedureOfActions
from tests.property.procedures import known, known_state, of_piece, run
from tests.reference.procedures import random_piece
from tests.reference.sound import sound_piece

NEEDLES = 24
Parts = list[dict[str, Any]]


def possible(timeline: Timeline, actions: tuple[Action, ...]) -> tuple[Action, ...]:
    """Those of some actions that the bed takes, each after the others."""
    start = len(timeline.actions)
    for action in actions:
        try:
            timeline.append(action)
        except Refused:
            continue
    return tuple(timeline.actions[start:])


BETWEEN: tuple[tuple[Action, ...], ...] = (
    (Knit(4),),
    (Knit(2), Knit(2)),
    (Knit(1), Note("look"), Knit(3)),
    (Knit(12),),
    (Knit(5),),
)


def places(actions: tuple[Action, ...]) -> list[int]:
    """Behind which actions to put rows in: behind rows."""
    return [place + 1 for place, action in enumerate(actions[:-1]) if isinstance(action, Knit)]


def taken_over(
    procedure: ProcedureOfActions,
    place: int,
    between: tuple[Action, ...],
    first: tuple[Action, ...] = (Knit(2),),
) -> bool:
    """Put two rows in, then others; whether what follows was taken over, and if so, see that it is right."""
    bed, yarns, actions = procedure.bed, procedure.yarns, procedure.actions
    timeline = run(bed, yarns, (*actions[:place], *first))
    tail = possible(timeline, actions[place:])
    behind = range(place + len(first), len(timeline.actions))
    stretch = timeline.stretch(behind) if tail and timeline.can_be_done_again(behind) else None
    if stretch is None:
        return False
    timeline.rewind(place)
    for action in between:
        timeline.append(action)
    before = known_state(timeline.state)
    if not timeline.go_on_with(stretch):
        assert known_state(timeline.state) == before
        return False
    fresh = run(bed, yarns, (*actions[:place], *between, *tail))
    assert known(timeline) == known(fresh)
    for line in range(-1, fresh.lines, 3):
        assert known_state(timeline.state_at(line)) == known_state(fresh.state_at(line))
    possible(timeline, actions)
    possible(fresh, actions)
    assert known(timeline) == known(fresh)
    return True


@pytest.mark.parametrize("block", range(4))
def test_on_the_bed(block: int) -> None:
    """Random actions, two rows between them made more, and all that follows as it was."""
    taken = 0
    for seed in range(block * 20, block * 20 + 20):
        dice = Random(seed)  # noqa: S311 - a test, no secret
        procedure = of_piece(random_piece(seed) if seed % 3 == 0 else sound_piece(seed))
        possible_places = places(procedure.actions)
        for place in dice.sample(possible_places, min(6, len(possible_places))):
            taken += taken_over(procedure, place, dice.choice(BETWEEN))
    assert taken >= 3


def random_part(dice: Random) -> dict[str, Any]:
    """A part to put in a piece."""
    short = {
        "kind": "short_rows",
        "down_to": dice.randint(5, 9),
        "ends": dice.choice(["in_turn", "both_each_row", "left", "right"]),
        "wraps": dice.choice(["automatic", "hand", "none"]),
        "back": dice.choice([None, {"wraps": "hand"}, {"all_at_once": True}]),
    }
    return dice.choice(
        [
            {"kind": "plain", "rows": dice.randint(1, 9)},
            {"kind": "plain", "rows": 80},
            {"kind": "plain", "rows": dice.randint(4, 9), "tension": dice.choice([6, 7])},
            short,
            short,
            {"kind": "narrow", "stitches": dice.randint(1, 2), "rows": 6},
            {"kind": "widen", "stitches": 1, "how": dice.choice(["heel", "eyelet"])},
            {"kind": "scrap_off", "rows": 6},
            {"kind": "repeat", "times": 2, "segments": [{"kind": "plain", "rows": 3}, short]},
            {"kind": "plain", "rows": 6, "reminders": [{"row": 2, "text": "look"}]},
            {"kind": "bind_off"},
        ]
    )


def piece_of(parts: Parts) -> Piece:
    """A piece of some parts."""
    begun = {"kind": "cast_on", "needles": "L8-R8", "yarn": "main"}
    return Piece.read(document(NEEDLES, [begun, *parts]))


def as_far(piece: Piece, previous: Procedure | None = None) -> Procedure:
    """Its procedure, as far as it can be knitted."""
    try:
        return compile_piece(piece, previous)
    except PlanError as error:
        return error.procedure


def edited(parts: Parts, dice: Random) -> Parts:
    """Parts of which one has other rows, went, came, or has another title."""
    place = dice.randrange(len(parts))
    part = parts[place]
    match dice.randint(0, 5):
        case 0:
            return [*parts[:place], *parts[place + 1 :]] or parts
        case 1:
            return [*parts[:place], random_part(dice), *parts[place:]]
        case 2:
            return [*parts[:place], {**part, "title": "Another"}, *parts[place + 1 :]]
        case _:
            rows = {"rows": part["rows"] + dice.choice((1, 2, 2, 4))} if "rows" in part else {}
            return [*parts[:place], {**part, **rows}, *parts[place + 1 :]]


@contextmanager
def noting() -> Iterator[list[bool]]:
    """Note each time whether a stretch was taken over."""
    taken: list[bool] = []
    take = Timeline.go_on_with

    def noted(timeline: Timeline, stretch: Stretch) -> bool:
        taken.append(take(timeline, stretch))
        return taken[-1]

    with patch.object(Timeline, "go_on_with", noted):
        yield taken


@pytest.mark.parametrize("block", range(4))
def test_in_the_plan(block: int) -> None:
    """Random pieces, edited a few times: each time all is as if it had been compiled afresh."""
    with noting() as taken:
        for seed in range(block * 15, block * 15 + 15):
            dice = Random(seed)  # noqa: S311 - as above
            parts = [random_part(dice) for _ in range(dice.randint(3, 6))]
            procedure: Procedure | None = None
            for _ in range(4):
                piece = piece_of(parts)
                procedure = as_far(piece, procedure)
                fresh = as_far(piece)
                assert known(procedure.timeline) == known(fresh.timeline), f"seed {seed}"
                assert procedure.spans == fresh.spans, f"seed {seed}"
                assert procedure.reasons == fresh.reasons, f"seed {seed}"
                assert [step.hands for step in procedure.steps] == [step.hands for step in fresh.steps]
                parts = edited(parts, dice)
    assert sum(taken) >= 3
    assert not all(taken)


YARNS = (("main", YarnRole.FABRIC), ("second", YarnRole.FABRIC), ("waste", YarnRole.WASTE))


def does_again(
    tail: tuple[Action, ...],
    between: tuple[Action, ...] = (Knit(4),),
    first: tuple[Action, ...] = (Knit(2),),
) -> bool:
    """Whether actions behind some are taken over behind others; ten of twelve needles bear loops."""
    bed = Bed(12, 4.5)
    begun = (Thread("main"), CastOn(tuple(range(1, 11))), HoldCams(on=True))
    return taken_over(ProcedureOfActions(bed, YARNS, (*begun, *tail)), 3, between, first)


def test_holding_is_counted_from_the_new_numbers() -> None:
    tail = (Place((10,), Position.HOLD), Knit(2), HoldCams(on=False), Place((9,), Position.HOLD), Knit(1))
    assert does_again(tail)
    assert does_again(tail, (Knit(2), Note("look"), Knit(2)))


def test_a_wrap_by_hand_is_done_again() -> None:
    assert does_again((Place((1,), Position.HOLD), Wrap(1), Knit(2), Place((1,), Position.UPPER), Knit(2)))


def test_a_column_that_begins_counts_from_nought_wherever_it_does() -> None:
    assert not does_again((CastOn((11,)), Knit(2)))
    assert not does_again((Place((0,), Position.WORK), Knit(2)))


def test_a_wrap_of_waste_is_no_wrap_of_yarn() -> None:
    """The same needles bear as much, but once the fabric is drawn through waste, which somebody must say."""

    def wrapped(yarn: str, other: str, rows: int) -> tuple[Action, ...]:
        held, cut = Place((1,), Position.HOLD), Cut()
        return cut, held, Thread(other), cut, Thread(yarn), Wrap(1), cut, Thread("main"), Knit(rows)

    tail = (Place((1,), Position.UPPER), Knit(2))
    assert does_again(tail, wrapped("second", "waste", 3), wrapped("second", "waste", 1))
    assert does_again(tail, wrapped("waste", "second", 3), wrapped("waste", "second", 1))
    assert not does_again(tail, wrapped("second", "waste", 3), wrapped("waste", "second", 1))
    assert not does_again(tail, wrapped("waste", "second", 3), wrapped("second", "waste", 1))


def test_yarn_that_waited_comes_from_where_it_was_left() -> None:
    """The strand's last loop stays, however many loops another strand made in between."""

    def stripe(rows: int) -> tuple[Action, ...]:
        return Park(), Thread("second"), Knit(rows), Cut(), Resume("main")

    assert does_again((Knit(2), Place((10,), Position.HOLD), Knit(2)), stripe(4), stripe(2))


def test_new_yarn_comes_from_no_loop() -> None:
    assert does_again((Knit(1), Cut(), Thread("second"), Knit(3)))


DART_AT_THE_RIGHT: tuple[Action, ...] = (
    Place((9, 10), Position.HOLD),
    Knit(2),
    Place((9, 10), Position.UPPER),
    Knit(2),
)


def test_columns_need_not_have_grown_alike() -> None:
    assert does_again((Knit(3), Place((1, 2), Position.HOLD), Knit(2), Wrap(2)), DART_AT_THE_RIGHT)


def test_columns_that_a_transfer_joins_must_have_grown_alike() -> None:
    narrower = (Transfer(8, 9), Place((8,), Position.OUT), Knit(2))
    assert not does_again(narrower, DART_AT_THE_RIGHT)
    assert does_again(narrower)


WHOLE = {"kind": "cast_on", "needles": all_of(NEEDLES), "yarn": "main"}
DART = {"kind": "short_rows", "down_to": 12, "back": {}}


def takes_over(before: Parts, after: Parts) -> bool:
    """Whether an edit takes over what stands behind it."""
    procedure = compile_piece(Piece.read(document(NEEDLES, before)))
    with noting() as taken:
        compile_piece(Piece.read(document(NEEDLES, after)), procedure)
    return any(taken)


def plain(rows: int, tension: int | None = None) -> dict[str, Any]:
    """Plain rows."""
    return {"kind": "plain", "rows": rows, "tension": tension}


def test_two_rows_more_change_nothing_behind_them() -> None:
    assert takes_over([WHOLE, plain(10), DART, plain(4)], [WHOLE, plain(12), DART, plain(4)])


def test_a_part_more_changes_nothing_behind_it() -> None:
    assert takes_over([WHOLE, plain(10), DART], [WHOLE, plain(10), plain(2), DART])


def test_one_row_more_ends_on_the_other_side() -> None:
    assert not takes_over([WHOLE, plain(10), DART], [WHOLE, plain(11), DART])


def test_another_dial_is_asked_for_again() -> None:
    assert not takes_over([WHOLE, plain(10), DART], [WHOLE, plain(10, tension=5), DART])


def test_fewer_needles_are_another_bed() -> None:
    narrower = {**WHOLE, "needles": "L10-R10"}
    assert not takes_over([WHOLE, plain(10), DART], [narrower, plain(10), DART])


def test_what_drops_looks_further_down_than_the_needles() -> None:
    scrap = {"kind": "scrap_off", "rows": 6}
    assert not takes_over([WHOLE, plain(10), scrap], [WHOLE, plain(12), scrap])


def test_widening_looks_at_the_stitch_below() -> None:
    narrow, wide = {**WHOLE, "needles": "L8-R8"}, {"kind": "widen", "stitches": 2}
    assert not takes_over([narrow, plain(10), wide], [narrow, plain(12), wide])
