"""How the bed says what it cannot do."""

from __future__ import annotations

from bedview.language import filled
from bedview.language import gettext as _


class Refused(Exception):
    """An action the bed cannot do; nothing has changed.

    Attributes:
        action: number of the action, from 0.
        message: the needle and the reason in one sentence.
    """

    def __init__(self, action: int, message: str) -> None:
        super().__init__(_("action {action}: {message}").format(action=action, message=message))
        self.action = action
        self.message = message


def beyond(number: int, otherwise: str, most: int, value: float) -> Refused:
    """A number beyond its limits, to be told in a sentence with the gaps ``most`` and ``value``."""
    return Refused(number, filled(_(otherwise), most=most, value=value))
