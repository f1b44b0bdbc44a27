"""A piece run from beginning to end on the slow bed: the trace and the account of its fabric."""

from collections import Counter
from dataclasses import dataclass
from typing import Any

from tests.reference.bed import Bed
from tests.reference.fabric import Loop
from tests.reference.hands import do_by_hand
from tests.reference.openings import Face, faces
from tests.reference.steps import Action, CannotDo, Piece, Refused, Step

LOOP_KINDS = ("cast_on", "knit", "laid_in", "wrap", "bind")


@dataclass
class Result:
    """A procedure that ran to its end.

    ``trace`` and ``fabric`` are as the contract prints them; the rest is for the judge. ``faces`` are all the
    openings, ``steps`` one a line of the trace.
    """

    piece: Piece
    trace: list[dict[str, Any]]
    fabric: dict[str, Any]
    bed: Bed
    steps: list[Step]
    faces: list[Face]


def numbered_actions(piece: Piece) -> list[tuple[int, int, Action]]:
    """Every action as (number in the piece, number of its segment, words), both from 0."""
    found: list[tuple[int, int, Action]] = []
    for segment, content in enumerate(piece["segments"]):
        for words in content["actions"]:
            found.append((len(found), segment, words))
    return found


def do_action(bed: Bed, number: int, segment: int, words: Action) -> None:
    """Do one action of the piece, hand action or passes, and write its steps down on the bed.

    Raises:
        CannotDo: the action is refused; the bed stands as before.
    """
    if words["do"] != "knit":
        step = bed.begin_step(number, segment, words, first_of_action=True)
        do_by_hand(bed, words)
        bed.end_step(step)
        return
    if not 1 <= words["rows"] <= 9999:
        raise CannotDo("rows go from 1 to 9999")
    for row in range(words["rows"]):
        step = bed.begin_step(number, segment, words, first_of_action=row == 0)
        bed.cross(step)
        bed.end_step(step)


def run(piece: Piece) -> Result:
    """Run a piece whose segments are all of kind ``actions``.

    Raises:
        Refused: an action can't be done.
    """
    bed = Bed(piece)
    for number, segment, words in numbered_actions(piece):
        try:
            do_action(bed, number, segment, words)
        except CannotDo as reason:
            raise Refused(number, str(reason)) from reason
    return result_of(piece, bed)


def result_of(piece: Piece, bed: Bed) -> Result:
    """The account of what has been knitted on a bed so far."""
    openings = faces(bed.needles, bed.strands, bed.loops)
    return Result(
        piece, [step.line for step in bed.steps], fabric_account(bed, openings), bed, bed.steps, openings
    )


def is_unsecured(loop: Loop, bed: Bed) -> bool:
    """Whether the loop hangs free of the bed with nothing drawn through it: it runs."""
    if loop.is_wrap or not loop.is_fabric or loop.latest_drop is None:
        return False
    return not loop.children and bed.standing_on(loop) is None


def fabric_account(bed: Bed, openings: list[Face]) -> dict[str, Any]:
    """The counts of ``bedview fabric --json``."""
    kinds = Counter(loop.kind for loop in bed.loops)
    sizes = Counter(face.size for face in openings)
    return {
        "loops": {kind: kinds[kind] for kind in LOOP_KINDS},
        "strands": sum(1 for strand in bed.strands if strand.loops),
        "passes": bed.passes,
        "openings": {str(size): sizes[size] for size in sorted(sizes)},
        "unsecured": sum(1 for loop in bed.loops if is_unsecured(loop, bed)),
        "on_bed": sum(len(stack) for stack in bed.stacks),
    }
