"""The lock files: every file of every package by its hash, and one choice of versions for both purposes."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
LOCKS = ["lock-run.txt", "lock-test.txt"]


def entries(lock: str) -> dict[str, int]:
    """How many hashes follow each line that pins a version."""
    text = (ROOT / "scripts" / lock).read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line and not line.lstrip().startswith("#")]
    found: dict[str, int] = {}
    for line in lines:
        if line.startswith(" "):
            assert re.fullmatch(r"    --hash=sha256:[0-9a-f]{64}( \\)?", line)
            found[list(found)[-1]] += 1
        else:
            assert re.match(r"[a-z0-9-]+==[0-9]", line), line
            found[line.removesuffix(" \\")] = 0
    return found


def normal(requirement: str) -> str:
    return re.split(r"[^A-Za-z0-9_.-]", requirement)[0].lower().replace("_", "-")


@pytest.mark.parametrize("lock", LOCKS)
def test_every_version_is_pinned_by_hashes(lock: str) -> None:
    assert min(entries(lock).values()) >= 1


def test_program_has_the_versions_that_are_tested() -> None:
    assert entries("lock-run.txt").items() <= entries("lock-test.txt").items()


def test_locks_hold_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    groups = project["dependency-groups"]
    wanted = {
        "lock-run.txt": project["project"]["dependencies"] + groups["build"],
        "lock-test.txt": project["project"]["dependencies"] + groups["build"] + groups["test"],
    }
    for lock, requirements in wanted.items():
        assert {normal(each) for each in requirements} <= {normal(each) for each in entries(lock)}


def test_python_3_11_gets_a_qt_that_keeps_its_references() -> None:
    pins = [entry for entry in entries("lock-run.txt") if entry.startswith("pyside6==")]
    old = [entry for entry in pins if "python_full_version < '3.12'" in entry]
    assert len(old) == 1
    assert not old[0].startswith("pyside6==6.12.")
