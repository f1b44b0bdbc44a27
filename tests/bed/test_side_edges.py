"""Side edges of random procedures, all of them and stretches of them, against the slow reference."""

from __future__ import annotations

from random import Random

import pytest

from bedview.bed.actions import SideEdge
from bedview.bed.edges import EdgeError
from bedview.bed.needles import Side
from bedview.bed.timeline import Timeline
from tests.bed.running import run
from tests.reference.edges import side_loops
from tests.reference.procedures import random_piece
from tests.reference.simulator import run as reference_run
from tests.reference.steps import CannotDo, Step

SEEDS_A_TEST = 15


def expected(side: Side, first: int, last: int, steps: list[Step]) -> list[int] | None:
    """What the reference finds; None for no edge."""
    try:
        return [loop.number for loop in side_loops(side.value, first, last, steps)]
    except CannotDo:
        return None


def found(timeline: Timeline, side: Side, first: int, last: int) -> list[int] | None:
    """What the bed finds; None for no edge."""
    try:
        return timeline.edge_loops(SideEdge(side, first, last))
    except EdgeError:
        return None


@pytest.mark.parametrize("block", range(6))
def test_sides_are_those_of_the_reference(block: int) -> None:
    edges = 0
    for seed in range(block * SEEDS_A_TEST, (block + 1) * SEEDS_A_TEST):
        piece, dice = random_piece(seed), Random(seed)  # noqa: S311 - a test, no secret
        timeline, steps = run(piece), reference_run(piece).steps
        for _ in range(6):
            first = dice.randint(1, timeline.passes + 1)
            last = dice.randint(first, timeline.passes + 3)
            for side in Side:
                wanted = expected(side, first, last, steps)
                assert found(timeline, side, first, last) == wanted, f"seed {seed}: {side} {first} to {last}"
                edges += wanted is not None
    assert edges > SEEDS_A_TEST
