"""What yarns are called where people read it."""

from __future__ import annotations

from bedview.language import gettext as _
from bedview.plan.piece import Yarn


def yarn_called(yarn: Yarn) -> str:
    """Its name, in the language in use where a starter gave it; its id if it has none."""
    return _(yarn.name) if yarn.name else yarn.id
