"""What is written down about each line of the trace, and how a refusal is told."""

from dataclasses import dataclass, field
from typing import Any

from tests.reference.fabric import Loop

Action = dict[str, Any]
Piece = dict[str, Any]


class Refused(Exception):
    """An action that can't be done. The bed stands as it did before it.

    Attributes:
        action: the action's number in the piece, from 0.
        message: needle and reason.
    """

    def __init__(self, action: int, message: str) -> None:
        super().__init__(f"action {action}: {message}")
        self.action = action
        self.message = message


class CannotDo(Exception):
    """Why the bed refuses an action, before it is known which number the action has."""


@dataclass
class Step:
    """One line of the trace, with all that a judge wants to know about it.

    Needles are indices from the left, 0-based. ``before`` and ``after`` are the stacks, bottom loop first.
    ``role`` is that of the yarn in the feeder before the step, None without yarn. ``waste_rows``
    gives, of each needle that dropped, the rows of waste under each waste loop; ``unsecured`` the
    numbers of the fabric loops that were lost.
    """

    number: int
    action: int
    segment: int
    words: Action
    passes: int
    positions_before: list[str]
    before: list[list[Loop]]
    hold_cams: bool
    carriage_before: str
    first_of_action: bool
    role: str | None
    made: list[Loop] = field(default_factory=list)
    knit: list[int] = field(default_factory=list)
    wrapped: list[int] = field(default_factory=list)
    wrapped_outside: list[int] = field(default_factory=list)
    dropped: dict[int, list[Loop]] = field(default_factory=dict)
    waste_rows: dict[int, list[int]] = field(default_factory=dict)
    unsecured: list[int] = field(default_factory=list)
    after: list[list[Loop]] = field(default_factory=list)
    positions_after: list[str] = field(default_factory=list)
    line: dict[str, Any] = field(default_factory=dict)

    @property
    def is_pass(self) -> bool:
        """Whether the carriage crossed the bed."""
        return bool(self.words["do"] == "knit")
