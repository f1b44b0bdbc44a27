"""The pages of the desktop, one file a page."""

from __future__ import annotations

import threading
from importlib import import_module
from typing import Final

_HEAVY: Final = ("making", "start_page")
_LATER: Final = "finish_page"
"""It needs the solver of the shape, which takes as long to import as all other pages."""


def load_pages() -> None:
    """Import the pages and all they need; done beside the window, it holds nothing up."""
    for name in _HEAVY:
        import_module(f"{__name__}.{name}")


def load_later() -> None:
    """Begin to import the page that nobody waits for yet, and come back at once."""
    name = f"{__name__}.{_LATER}"
    threading.Thread(target=import_module, args=(name,), name="bedview-imports", daemon=True).start()
