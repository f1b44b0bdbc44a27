"""The bed against the slow reference, which was written apart from it: random procedures, line for line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from bedview.bed.needles import NeedleError, needle_name
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from bedview.checks.judge import Meant, judge
from bedview.export.fabric_counts import fabric_counts
from bedview.export.trace import trace_lines
from tests.bed.running import run
from tests.reference.judge import findings as reference_findings
from tests.reference.procedures import random_piece, random_refused_piece
from tests.reference.simulator import run as reference_run
from tests.reference.sound import sound_piece
from tests.reference.steps import Refused as ReferenceRefused

WORKED = sorted((Path(__file__).parents[1] / "reference" / "worked").glob("*.json"))
SEEDS_A_TEST = 20


def found(timeline: Timeline, piece: dict[str, Any]) -> list[dict[str, Any]]:
    """The findings without their words, as the reference writes them."""
    meant, first = [], 0
    for segment in piece["segments"]:
        stop = first + len(segment["actions"])
        meant.append(Meant(first, stop, frozenset(segment.get("meant", []))))
        first = stop
    return [
        {
            "rule": finding.rule,
            "severity": str(finding.severity),
            "action": finding.action,
            "pass": finding.pass_number,
            "needles": [needle_name(needle, timeline.bed.needles) for needle in finding.needles],
        }
        for finding in judge(timeline, meant)
    ]


@pytest.mark.parametrize("path", WORKED, ids=lambda path: path.stem)
def test_worked_procedures(path: Path) -> None:
    worked = json.loads(path.read_text(encoding="utf-8"))
    timeline = run(worked["piece"])
    assert list(trace_lines(timeline)) == worked["trace"]
    counts = fabric_counts(timeline)
    assert {key: counts[key] for key in worked["fabric"]} == worked["fabric"]
    said = [{k: v for k, v in each.items() if k != "action"} for each in found(timeline, worked["piece"])]
    said.sort(key=lambda each: (each["pass"], each["rule"], each["needles"]))
    assert said == worked["findings"]


@pytest.mark.parametrize("block", range(10))
def test_random_procedures(block: int) -> None:
    for seed in range(block * SEEDS_A_TEST, (block + 1) * SEEDS_A_TEST):
        piece = random_piece(seed)
        expected = reference_run(piece)
        timeline = run(piece)
        assert list(trace_lines(timeline)) == expected.trace, f"seed {seed}"
        assert fabric_counts(timeline) == expected.fabric, f"seed {seed}"
        assert found(timeline, piece) == reference_findings(expected), f"seed {seed}"


def test_refusals() -> None:
    for seed in range(100):
        piece = random_refused_piece(seed)
        with pytest.raises(ReferenceRefused) as expected:
            reference_run(piece)
        last = sum(len(segment["actions"]) for segment in piece["segments"]) - 1
        assert expected.value.action == last
        with pytest.raises((Refused, NeedleError)) as refused:
            run(piece)
        if isinstance(refused.value, Refused):
            assert refused.value.action == last, f"seed {seed}"


def test_sound_shaping_has_no_error() -> None:
    for seed in range(60):
        piece = sound_piece(seed)
        timeline = run(piece)
        said = found(timeline, piece)
        assert said == reference_findings(reference_run(piece)), f"seed {seed}"
        assert not [each for each in said if each["severity"] == "error"], f"seed {seed}"
