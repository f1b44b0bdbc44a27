"""``bedview`` and ``bedview open``: the desktop app."""

from __future__ import annotations

import argparse
import os
import sys
from typing import Final

PAGES: Final = ("plan", "rehearse", "knit", "finish", "learn")
NO_SCREEN: Final = 3
"""The exit code where nothing can be shown: as where an output cannot be written."""


def open_desktop(arguments: list[str]) -> int:
    """Open the window on a piece, a demo, or where it was left.

    Returns:
        The exit code.
    """
    parser = argparse.ArgumentParser("bedview open", description="Open the desktop app.", exit_on_error=False)
    parser.add_argument("piece", nargs="?", help="a piece's file, or the name of a demo")
    parser.add_argument("--page", choices=PAGES, help="the page to open on")
    try:
        named, unknown = parser.parse_known_args(arguments)
    except argparse.ArgumentError as error:
        return _refuse(str(error))
    if unknown:
        return _refuse(f"open takes one piece and --page, not '{unknown[0]}'")

    if _no_screen():
        return _refuse("there is no display to open the window on; the other commands need none", NO_SCREEN)
    from bedview.ui.app import run

    code: int = run(named.piece, named.page)
    return code


def _no_screen() -> bool:
    """Whether Qt would find nothing to paint on; it ends the program then, without a word for people."""
    if sys.platform != "linux":
        return False
    return not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))


def _refuse(reason: str, code: int = 2) -> int:
    print(f"bedview: {reason}", file=sys.stderr)
    return code
