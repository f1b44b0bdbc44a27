"""What a check says: a rule, how bad it is, where, and in words what will happen and what to do."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Severity(StrEnum):
    """How much a finding matters."""

    ERROR = "error"
    """The piece is lost, or the next steps are wrong."""
    WARNING = "warning"
    """It will show."""
    NOTE = "note"
    """Worth knowing."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that goes wrong, or is worth knowing.

    Attributes:
        rule: its name in the table of rules.
        severity: after what the piece says is meant was taken into account.
        action: number of the action, or None where no single one does it.
        pass_number: the pass that does it; for a hand action the passes made by then.
        needles: indices from the left.
        message: what will happen, where, and what to do.
        saying: key of its words, where a rule speaks in more than one way.
    """

    rule: str
    severity: Severity
    action: int | None
    pass_number: int
    needles: tuple[int, ...]
    message: str
    saying: str = ""


RULES: Final = (
    "unsecured-stitches",
    "carriage-side",
    "held-knitted",
    "laid-in-run",
    "seam-mismatch",
    "opening",
    "latch-closes",
    "group-wrapped",
    "long-float",
    "stacked-wraps",
    "stacked-loops",
    "waste-caught",
    "nothing-knits",
    "waste-too-short",
    "stitches-left",
    "laid-in",
    "loops-put-out",
    "cut-without-tail",
)
"""All rules, in the order in which findings of one pass are told."""
