"""The pages of the desktop, one file a page."""

from __future__ import annotations

from importlib import import_module
from typing import Final

_HEAVY: Final = ("making", "start_page")


def load_pages() -> None:
    """Import the pages and all they need; done beside the window, it holds nothing up."""
    for name in _HEAVY:
        import_module(f"{__name__}.{name}")
