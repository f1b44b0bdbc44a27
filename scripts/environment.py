"""The project's own Python environment in ``.venv``, filled from a lock file.

Only the standard library is used: this runs before anything is installed. A stamp in the environment says
which lock file it was filled from, so that a second start costs nothing.
"""

import hashlib
import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Literal

import system_parts

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"

Purpose = Literal["run", "test"]

_LOCKS: dict[Purpose, Path] = {
    "run": ROOT / "scripts" / "lock-run.txt",
    "test": ROOT / "scripts" / "lock-test.txt",
}
_STAMP = VENV / "filled-from"
_LOG = VENV / "set-up.log"
_NETWORK_SIGNS = ("NewConnectionError", "NameResolutionError", "ConnectTimeoutError", "ReadTimeoutError")


class SetupError(Exception):
    """The environment could not be made; the message is one line for the person at the terminal."""


def prepare(purpose: Purpose) -> Path:
    """Make sure that everything needed is installed.

    Args:
        purpose: ``run`` for the program alone, ``test`` for the tools of development as well.

    Returns:
        The Python of the environment.

    Raises:
        SetupError: something is missing that this script can't supply.
    """
    system_parts.prepare(for_tests=purpose == "test")
    python = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    if python.exists() and _is_filled_for(purpose):
        return python
    if not _works(python) or _was_moved():
        _create()
    print(f"Installing the Python packages into {VENV} (some 300 MB; a minute or two) ...", flush=True)
    _install(python, "--require-hashes", "--requirement", str(_LOCKS[purpose]))
    _install(python, "--no-deps", "--no-build-isolation", "--editable", str(ROOT))
    _STAMP.write_text(f"{purpose} {_fingerprint(purpose)}\n{ROOT}\n", encoding="utf-8")
    return python


def _is_filled_for(purpose: Purpose) -> bool:
    """Whether the stamp says so; what the tests need contains what the program needs."""
    enough: tuple[Purpose, ...] = ("test",) if purpose == "test" else ("run", "test")
    stamps = [[f"{kind} {_fingerprint(kind)}", str(ROOT)] for kind in enough]
    return _stamp() in stamps


def _was_moved() -> bool:
    """Whether the environment was filled elsewhere: its programs still name the old place."""
    return _stamp()[1:] not in ([], [str(ROOT)])


def _stamp() -> list[str]:
    """The lines of the stamp: what the environment was filled from, and where; none before it is whole."""
    try:
        return _STAMP.read_text(encoding="utf-8").splitlines()
    except FileNotFoundError:
        return []


def _fingerprint(purpose: Purpose) -> str:
    """What an environment depends on: the lock and the entry points."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    facts = json.dumps([_LOCKS[purpose].read_text(encoding="utf-8"), project], sort_keys=True)
    return hashlib.sha256(facts.encode()).hexdigest()


def _works(python: Path) -> bool:
    """Whether an environment is there and can install; one left by a Python since removed is not."""
    if not python.exists():
        return False
    probe = "import sys, pip; sys.exit(sys.version_info < (3, 11))"
    return subprocess.run([python, "-c", probe], capture_output=True, check=False).returncode == 0


def _create() -> None:
    print(f"Making a Python environment in {VENV} ...", flush=True)
    made = subprocess.run(
        [sys.executable, "-m", "venv", "--clear", str(VENV)], capture_output=True, text=True, check=False
    )
    if made.returncode:
        why = _last_line(made.stdout + made.stderr)
        raise SetupError(f"no Python environment could be made in {VENV}: {why}")


def _install(python: Path, *arguments: str) -> None:
    """Let pip install something, its many words going to a log.

    Raises:
        SetupError: pip could not.
    """
    command = [str(python), "-m", "pip", "install", "--disable-pip-version-check", "--no-input", *arguments]
    with _LOG.open("w", encoding="utf-8") as log:
        code = subprocess.run(
            command, stdin=subprocess.DEVNULL, stdout=log, stderr=subprocess.STDOUT, check=False
        ).returncode
    if code:
        raise SetupError(_why_pip_failed(_LOG.read_text(encoding="utf-8", errors="replace")))


def _why_pip_failed(said: str) -> str:
    if any(sign in said for sign in _NETWORK_SIGNS):
        return f"the Python package index can't be reached; is there a network? (more in {_LOG})"
    errors = [line for line in said.splitlines() if line.startswith("ERROR:")]
    why = errors[-1].removeprefix("ERROR: ") if errors else _last_line(said)
    return f"the Python packages could not be installed: {why} (more in {_LOG})"


def _last_line(text: str) -> str:
    lines = text.strip().splitlines()
    return lines[-1].strip() if lines else "it gave no reason"
