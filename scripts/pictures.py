"""Paint the pictures that the README shows anew, from the demos."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path
from typing import Final

from environment import ROOT

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.update({"LC_ALL": "C.UTF-8", "LANGUAGE": "en"})

from bedview.ui.shots import all_shots, paint_shots

PICTURES: Final = {
    "knit-harbour-bootee-light-1280x720.png": "knit.png",
    "rehearse-harbour-bootee-light-1280x720.png": "rehearse.png",
    "plan-harbour-heel-light-1280x720.png": "plan.png",
}
"""Names of shots, and what the README calls them."""


def main() -> None:
    """Paint all shots, and keep those the README shows."""
    target = ROOT / "resources" / "pictures"
    target.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        shown = [shot for shot in all_shots() if any(name.startswith(f"{shot.name}-") for name in PICTURES)]
        for path in paint_shots(Path(scratch), shown):
            if path.name in PICTURES:
                shutil.copyfile(path, target / PICTURES[path.name])


if __name__ == "__main__":
    main()
