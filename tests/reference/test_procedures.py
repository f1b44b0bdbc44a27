"""The random procedures are what they claim to be, and the slow reference treats left and right alike."""

from collections import Counter
from typing import Any

import pytest

from tests.reference.judge import findings
from tests.reference.procedures import MOVES, random_piece, random_refused_piece
from tests.reference.simulator import Result, numbered_actions, run
from tests.reference.sound import sound_piece
from tests.reference.steps import Action, Piece, Refused

SEEDS = range(40)
OTHER = {"left": "right", "right": "left", "L": "R", "R": "L"}


def mirrored_names(text: str) -> str:
    """A needle list with left and right exchanged, left end first again."""
    parts = []
    for part in reversed(text.split(",")):
        ends = [OTHER[end[0]] + end[1:] for end in reversed(part.split("-"))]
        parts.append("-".join(ends))
    return ",".join(parts)


def mirrored_action(words: Action) -> Action:
    """The action of somebody who works at the mirrored bed."""
    turned = dict(words)
    for key in ("needles", "needle", "to"):
        if key in words:
            turned[key] = mirrored_names(words[key])
    if "from" in words:
        turned["from"] = OTHER[words["from"]] if words["do"] == "knit" else mirrored_names(words["from"])
    if "edge" in words:
        edge = dict(words["edge"])
        for key in ("open", "needles"):
            if key in edge:
                edge[key] = mirrored_names(edge[key])
        if "side" in edge:
            # Its loops run from the first pass to the last whichever way one looks, the needles do not.
            edge["side"] = OTHER[edge["side"]]
            turned["turned"] = not words.get("turned", False)
        turned["edge"] = edge
    return turned


def mirrored(piece: Piece) -> Piece:
    """The piece with left and right exchanged."""
    segments = [
        {**segment, "actions": [mirrored_action(words) for words in segment["actions"]]}
        for segment in piece["segments"]
    ]
    bed = {**piece["bed"], "carriage": OTHER[piece["bed"]["carriage"]]}
    return {**piece, "bed": bed, "segments": segments}


def without_order(found: list[dict[str, Any]]) -> Counter[str]:
    """Findings as a bag, each written out with its needles sorted."""
    return Counter(str({**finding, "needles": sorted(finding["needles"])}) for finding in found)


def mirrored_findings(result: Result) -> list[dict[str, Any]]:
    """The findings with each needle's name exchanged for its mirror image."""
    return [
        {**finding, "needles": [mirrored_names(name) for name in finding["needles"]]}
        for finding in findings(result)
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_mirrored_procedure_gives_the_mirrored_fabric(seed: int) -> None:
    piece = random_piece(seed)
    one, other = run(piece), run(mirrored(piece))
    assert one.fabric == other.fabric
    for line, opposite in zip(one.trace, other.trace, strict=True):
        assert line["positions"] == opposite["positions"][::-1]
        assert line["loops"] == opposite["loops"][::-1]
    assert without_order(mirrored_findings(one)) == without_order(findings(other))


def test_random_procedures_repeat_and_use_every_action() -> None:
    assert random_piece(3) == random_piece(3)
    assert random_piece(3) != random_piece(4)
    done = {words["do"] for seed in SEEDS for _, _, words in numbered_actions(random_piece(seed))}
    assert done == set(MOVES) - {"set_aside", "scrap_off", "bare_pass"}


def test_random_procedures_hang_edges_of_every_kind() -> None:
    edges = [
        words["edge"]
        for seed in SEEDS
        for _, _, words in numbered_actions(random_piece(seed))
        if words["do"] == "hang"
    ]
    for key in ("open", "pass", "made_in_pass", "side"):
        assert any(key in edge for edge in edges)


def test_random_procedures_make_almost_every_finding() -> None:
    rules = {finding["rule"] for seed in range(120) for finding in findings(run(random_piece(seed)))}
    assert len(rules) == 17  # all but seam-mismatch: these pieces have no seams


@pytest.mark.parametrize("seed", SEEDS)
def test_refused_procedure_is_refused_at_its_last_action(seed: int) -> None:
    piece = random_refused_piece(seed)
    last = len(numbered_actions(piece)) - 1
    with pytest.raises(Refused) as refusal:
        run(piece)
    assert refusal.value.action == last
    piece["segments"][-1]["actions"].pop()
    assert run(piece).trace[-1]["action"] == last - 1


@pytest.mark.parametrize("seed", SEEDS)
def test_sound_shaping_has_no_error(seed: int) -> None:
    result = run(sound_piece(seed))
    assert [finding for finding in findings(result) if finding["severity"] == "error"] == []
    assert result.fabric["unsecured"] == 0
