"""Confirms steps one after another until it is killed: started by the test of the journal.

Before each confirmation it prints the step with a question mark, after it with an exclamation mark.
"""

import sys
from pathlib import Path

from bedview.store.journal import Journal


def main() -> None:
    """Go on from the last confirmed step."""
    with Journal(Path(sys.argv[1])) as journal:
        session = journal.session_for(Path(sys.argv[2]))
        last = session.last()
        step = 0 if last is None else last.step + 1
        while True:
            _say(f"{step}?")
            session.confirm(step, step + 1, 1_000_000, step.to_bytes(16, "big"))
            _say(f"{step}!")
            step += 1


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


main()
