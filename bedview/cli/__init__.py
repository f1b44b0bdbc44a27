"""Commands. The desktop starts without waiting for what only the others need."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command that the command line names, and exit with its code."""
    arguments = sys.argv[1:]
    if not arguments or arguments[0] == "open":
        from bedview.cli.desktop import open_desktop

        sys.exit(open_desktop(arguments[1:]))
    from bedview.cli.running import run

    sys.exit(run(arguments))
