"""The pages of the desktop, one file a page."""

from __future__ import annotations

import threading
from importlib import import_module
from typing import Final

_HEAVY: Final = ("making", "start_page")
LATER_MS: Final = 1500
"""How long after a piece is shown what may be wanted next is imported."""


def load_pages() -> None:
    """Import the pages and all they need; done beside the window, it holds nothing up."""
    for name in _HEAVY:
        import_module(f"{__name__}.{name}")


def load_learning() -> None:
    """Import the page Learn beside the window, so that it opens at once when it is wanted."""
    name = f"{__name__}.learn_page"
    threading.Thread(target=import_module, args=(name,), name="bedview-import", daemon=True).start()
