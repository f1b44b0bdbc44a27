"""Steps that remember say the same, and work it out once."""

from __future__ import annotations

from collections import Counter
from unittest.mock import patch

import pytest

from bedview.export.stepping.page import stepping_page
from bedview.plan.procedure import compile_piece
from bedview.plan.steps import Step, Voice
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece

DEMOS = demo_paths()


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_they_say_the_same(name: str) -> None:
    procedure = compile_piece(read_piece(DEMOS[name]))
    remembering = procedure.remembering()
    for step, other in zip(procedure.steps, remembering.steps, strict=True):
        for _ in range(2):
            assert (step.hands, step.carriage, step.why) == (other.hands, other.carriage, other.why)


def test_a_page_works_out_each_sentence_once() -> None:
    piece = read_piece(DEMOS["harbour-bootee"])
    procedure = compile_piece(piece)
    asked: Counter[tuple[str, int]] = Counter()
    hands, why = Voice.hands, Voice.why

    def counted_hands(voice: Voice, step: Step) -> tuple[str, ...]:
        asked["hands", step.number] += 1
        return hands(voice, step)

    def counted_why(voice: Voice, step: Step) -> str:
        asked["why", step.number] += 1
        return why(voice, step)

    with patch.object(Voice, "hands", counted_hands), patch.object(Voice, "why", counted_why):
        stepping_page(piece, procedure)
    assert set(asked.values()) == {1}
    assert len(asked) == 2 * len(procedure.steps)
