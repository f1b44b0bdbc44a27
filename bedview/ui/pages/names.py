"""Names of the pages, as the command line and the settings write them, in the order of the work."""

from __future__ import annotations

from typing import Final

START: Final = ""
"""The page of pieces to choose from, while none is open."""
PLAN: Final = "plan"
REHEARSE: Final = "rehearse"
KNIT: Final = "knit"
FINISH: Final = "finish"
LEARN: Final = "learn"
PAGES: Final = (PLAN, REHEARSE, KNIT, FINISH)
"""Those that show a piece."""
ALL_PAGES: Final = (*PAGES, LEARN)
"""Learn needs none."""
