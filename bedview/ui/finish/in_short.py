"""How much there is to make up, in one line."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import QCoreApplication

from bedview.finish.told import StepKind, Told
from bedview.ui.parts.counting import counted


def making_up_in_short(told: Told) -> str:
    """What the steps come to: "2 grafts, 1 sewn seam, 2 ends to darn in".

    Args:
        told: the making up in words.
    """
    kinds = Counter(step.kind for step in told.steps)
    ends = sum(len(step.ends) for step in told.steps if step.kind is StepKind.DARN_IN)
    lines = (
        (
            kinds[StepKind.GRAFT],
            QCoreApplication.translate("Finish", "{count} graft"),
            QCoreApplication.translate("Finish", "{count} grafts"),
        ),
        (
            kinds[StepKind.SEW],
            QCoreApplication.translate("Finish", "{count} sewn seam"),
            QCoreApplication.translate("Finish", "{count} sewn seams"),
        ),
        (
            ends,
            QCoreApplication.translate("Finish", "{count} end to darn in"),
            QCoreApplication.translate("Finish", "{count} ends to darn in"),
        ),
    )
    said = [counted(one, many, count) for count, one, many in lines if count]
    return ", ".join(said) if said else QCoreApplication.translate("Finish", "Nothing to make up.")
