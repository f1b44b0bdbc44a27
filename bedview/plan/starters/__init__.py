"""Parametric pieces from measurements.

A new starter is a file with a class, and its name in the list below.
"""

from __future__ import annotations

from typing import Final

from bedview.language import gettext as _
from bedview.plan.starters.ball import Ball
from bedview.plan.starters.bootee import Bootee
from bedview.plan.starters.cone import Cone
from bedview.plan.starters.hat import Hat
from bedview.plan.starters.lined_bootee import LinedBootee
from bedview.plan.starters.mitt import Mitt
from bedview.plan.starters.parameter import Parameter, StarterError
from bedview.plan.starters.shoulders import Shoulders
from bedview.plan.starters.sock import Sock
from bedview.plan.starters.starter import Starter

STARTERS: Final[tuple[Starter, ...]] = (
    Sock(),
    Bootee(),
    LinedBootee(),
    Hat(),
    Mitt(),
    Shoulders(),
    Cone(),
    Ball(),
)
"""All starters, in the order in which they are offered."""


def find_starter(name: str) -> Starter:
    """The starter of that name.

    Raises:
        StarterError: if there is none; the sentence names those there are.
    """
    for starter in STARTERS:
        if starter.name == name:
            return starter
    names = ", ".join(starter.name for starter in STARTERS)
    raise StarterError(
        _("there is no starter '{name}'; there are {names}").format(name=name[:40], names=names)
    )


__all__ = ["STARTERS", "Parameter", "Starter", "StarterError", "find_starter"]
