"""Names of the pages, as the command line and the settings write them, in the order of the work."""

from __future__ import annotations

from typing import Final

PLAN: Final = "plan"
REHEARSE: Final = "rehearse"
KNIT: Final = "knit"
FINISH: Final = "finish"
PAGES: Final = (PLAN, REHEARSE, KNIT, FINISH)
