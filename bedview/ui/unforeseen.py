"""What nobody foresaw: a quiet line for the user, the whole story for the log, and the window goes on."""

from __future__ import annotations

import logging
import sys
import threading
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

_LOG = logging.getLogger(__name__)
_MOST_BYTES = 1 << 20


def log_path() -> Path:
    """Where the story is written."""
    from platformdirs import user_log_path

    return user_log_path("bedview", appauthor=False) / "bedview.log"


def write_down(story: str) -> None:
    """Add a story to the log file; a file that has grown too long begins anew.

    Nothing is raised where it cannot be written: there is nobody left to tell.
    """
    from datetime import UTC, datetime

    path = log_path()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        fresh = path.exists() and path.stat().st_size > _MOST_BYTES
        with path.open("w" if fresh else "a", encoding="utf-8") as file:
            file.write(f"{datetime.now(UTC).isoformat(timespec='seconds')}\n{story}\n")
    except OSError as error:
        _LOG.debug("the log could not be written: %s", error)


def keep_going(say: Callable[[], object]) -> None:
    """From now on an exception that nobody took is written down, and ``say`` is called.

    Args:
        say: tells the user; it is called on the thread where it happened.
    """

    def take(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
            return
        story = "".join(traceback.format_exception(kind, error, trace))
        write_down(story)
        _LOG.error("unforeseen: %r", error)
        say()

    def take_on_thread(args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None:
            take(args.exc_type, args.exc_value, args.exc_traceback)

    sys.excepthook = take
    threading.excepthook = take_on_thread
