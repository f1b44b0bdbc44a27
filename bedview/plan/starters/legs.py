"""The leg of a foot covering, or the cuff of a mitt, with a hem at its edge."""

from __future__ import annotations

from typing import Final

from bedview.language import gettext as _
from bedview.plan.gauge import ANY, Rounding
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.drafting import Segment
from bedview.plan.starters.feet import Leg
from bedview.plan.starters.parameter import StarterError
from bedview.plan.starters.starter import Values

LEG: Final = "Leg"
HEM: Final = "Hem"


def leg_rows(values: Values, key: str = "leg_length", rounding: Rounding = ANY) -> Leg:
    """Rows of the leg.

    Args:
        values: the length by ``key`` and the hem's height.
        key: the length, hem and all.
        rounding: what the plain rows must be; a hem takes an even number, so all rows are odd or even
            with them.

    Raises:
        StarterError: if the hem is higher than the leg.
    """
    hem = values.rows(values.mm("hem"))
    # The row that closes the hem and the row it folds at make its height one row more.
    double = hem + 1 if hem else 0
    plain = max(1, rounding.nearest(values.mm(key) / values.row_mm - double))
    if hem and (double + 1) * values.row_mm > values.mm(key):
        raise StarterError(
            _("a hem so high leaves nothing of {key}; make hem smaller").format(key=key), "hem"
        )
    return Leg(hem, plain)


def leg_segments(leg: Leg, title: str = LEG) -> list[Segment]:
    """The hem, if there is one, and the plain rows."""
    return [*(draft.hem(each, leg.hem) for each in hem_titles(leg)), draft.plain(title, leg.plain)]


def hem_titles(leg: Leg) -> tuple[str, ...]:
    """Title of the hem, if there is one."""
    return (HEM,) if leg.hem else ()


def leg_titles(leg: Leg, title: str = LEG) -> tuple[str, ...]:
    """Titles of the hem and the plain rows."""
    return (*hem_titles(leg), title)
