"""What is said aloud about a step: the same acts as on the screen, as one hears them."""

from __future__ import annotations

import re
from typing import Final

from bedview.plan.procedure import Procedure

_NEEDLE: Final = re.compile(r"\b([LR])([1-9]\d{0,2})\b")


def spoken(procedure: Procedure, step: int) -> str:
    """The line for a step: its acts, a sentence each; ``len(steps)`` gives the last word of all.

    Needle names are parted ("R 10"), so that a voice says a letter and a number.
    """
    _ = procedure.words.gettext
    if step >= len(procedure.steps):
        whole = procedure.finished == len(procedure.piece.segments)
        return _("All rows are knitted.") if whole else _("The plan breaks off here.")
    here = procedure.steps[step]
    acts = [*here.hands, *([here.carriage] if here.carriage else [])]
    if here.makes_pass and not here.hands:
        acts.insert(0, _("Row {row}").format(row=here.passes))
    parted = (_NEEDLE.sub(r"\1 \2", act).rstrip(".") for act in acts)
    return " ".join(f"{act}." for act in parted)
