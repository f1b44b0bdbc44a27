"""Set up, then run every check of the project, one stage after the other."""

import os
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

import environment

Stage = tuple[str, list[str]]


def main(arguments: list[str]) -> int:
    """Run all stages, or pytest alone with ``arguments``.

    Returns:
        0 where every stage passed, else 1.
    """
    started = time.monotonic()
    try:
        python = environment.prepare("test")
    except environment.SetupError as error:
        print(f"bedview: {error}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nbedview: stopped", file=sys.stderr)
        return 130
    print(f"== set up ({time.monotonic() - started:.0f} s)", flush=True)
    failed = [name for name, command in _stages(python, arguments) if not _passes(name, command)]
    print(f"== failed: {', '.join(failed)}" if failed else "== all passed", flush=True)
    return 1 if failed else 0


def _stages(python: Path, arguments: list[str]) -> list[Stage]:
    """Each stage by name; the quick ones first, and pytest last so that its summary is what one sees."""
    run = [str(python), "-m"]
    if arguments:
        return [("pytest", [*run, "pytest", *arguments])]
    return [
        ("ruff check", [*run, "ruff", "check"]),
        ("ruff format", [*run, "ruff", "format", "--check"]),
        ("import-linter", [str(python.parent / "lint-imports"), "--no-logo"]),
        ("mypy", [*run, "mypy"]),
        ("pytest", [*run, "pytest", "-n", "2", "--dist", "worksteal"]),
    ]


def _passes(name: str, command: list[str]) -> bool:
    print(f"== {name}", flush=True)
    started = time.monotonic()
    code = subprocess.run(
        command, cwd=environment.ROOT, env=_unseen(os.environ), stdin=subprocess.DEVNULL, check=False
    ).returncode
    word = "passed" if code == 0 else "FAILED"
    print(f"== {name}: {word} ({time.monotonic() - started:.0f} s)", flush=True)
    return code == 0


def _unseen(variables: Mapping[str, str]) -> dict[str, str]:
    """The same variables for programs that draw without a screen."""
    return {**variables, "QT_QPA_PLATFORM": "offscreen"}
