"""The slow reference against 24 worked procedures, and against tables counted by hand."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.reference.judge import findings
from tests.reference.simulator import run

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
