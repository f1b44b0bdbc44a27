"""Choose the versions in the lock files anew, with the program ``uv``.

Versions already chosen stay where they still fit; ``--upgrade`` asks for the newest.
"""

import subprocess
import sys

from environment import ROOT

_TEST_LOCK = "scripts/lock-test.txt"
_RUN_LOCK = "scripts/lock-run.txt"


def main(arguments: list[str]) -> None:
    """Write both lock files, for every Python from 3.11 on and every system.

    The tests' lock is chosen first and binds the program's, so that an environment for tests serves both.
    """
    _compile(_TEST_LOCK, "--group", "test", *arguments)
    _compile(_RUN_LOCK, "--constraint", _TEST_LOCK)


def _compile(lock: str, *arguments: str) -> None:
    command = ["uv", "pip", "compile", "--quiet", "--generate-hashes"]
    command += ["--universal", "--python-version", "3.11"]
    command += ["--custom-compile-command", "python3 scripts/relock.py", "--group", "build"]
    command += ["pyproject.toml", "--output-file", lock, *arguments]
    subprocess.run(command, cwd=ROOT, check=True)


if __name__ == "__main__":
    main(sys.argv[1:])
