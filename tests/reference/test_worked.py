"""The slow reference against 24 worked procedures, and against tables counted by hand."""

import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.reference.by_hand import heel, shoulder_slope
from tests.reference.judge import findings
from tests.reference.simulator import Result, run

WORKED = sorted((Path(__file__).parent / "worked").glob("*.json"))


def load(path: Path) -> dict[str, Any]:
    """One worked procedure: its piece and what it must give."""
    worked: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return worked


def test_all_worked_procedures_are_there() -> None:
    assert len(WORKED) == 24


@pytest.mark.parametrize("path", WORKED, ids=lambda path: path.stem)
def test_trace_agrees(path: Path) -> None:
    worked = load(path)
    assert run(worked["piece"]).trace == worked["trace"]


@pytest.mark.parametrize("path", WORKED, ids=lambda path: path.stem)
def test_fabric_agrees(path: Path) -> None:
    worked = load(path)
    account = run(worked["piece"]).fabric
    del account["strands"]
    assert account == worked["fabric"]


def bare(finding: dict[str, Any]) -> dict[str, Any]:
    """A finding without the keys the worked procedures leave out."""
    return {key: value for key, value in finding.items() if key not in ("action", "message")}


@pytest.mark.parametrize("path", WORKED, ids=lambda path: path.stem)
def test_findings_agree(path: Path) -> None:
    worked = load(path)
    found = [bare(finding) for finding in findings(run(worked["piece"]))]
    found.sort(key=lambda finding: (finding["pass"], finding["rule"], finding["needles"]))
    assert found == worked["findings"]


HEELS = [
    ("carriage", False, {"1": 22, "2": 1003, "4": 1, "5": 20}, {"note": 21}),
    ("carriage", True, {"1": 44, "2": 1044}, {}),
    ("far", False, {"2": 1002, "4": 2, "6": 20}, {"warning": 22}),
]
SLOPES = [
    ("none", {"2": 312, "4": 5}, {"warning": 5}),
    ("hand", {"1": 10, "2": 317}, {}),
    ("automatic", {"1": 5, "2": 317, "3": 5}, {}),
]


def opening_severities(result: Result) -> dict[str, int]:
    """How many openings speak, by severity; nothing else may be said but that stitches are left."""
    found = findings(result)
    assert {finding["rule"] for finding in found} <= {"opening", "stitches-left"}
    return dict(Counter(finding["severity"] for finding in found if finding["rule"] == "opening"))


@pytest.mark.parametrize(("hold_on", "hand_wraps", "openings", "severities"), HEELS)
def test_heel_of_30_needles(
    hold_on: str, hand_wraps: bool, openings: dict[str, int], severities: dict[str, int]
) -> None:
    result = run(heel(30, 8, hold_on, hand_wraps))
    assert result.fabric["openings"] == openings
    assert opening_severities(result) == severities
    assert result.fabric["passes"] == 4 + 44 + 4
    assert result.fabric["loops"]["cast_on"] == 30


@pytest.mark.parametrize(("wraps", "openings", "severities"), SLOPES)
def test_shoulder_slope_of_24_needles(
    wraps: str, openings: dict[str, int], severities: dict[str, int]
) -> None:
    result = run(shoulder_slope(wraps))
    assert result.fabric["openings"] == openings
    assert opening_severities(result) == severities
