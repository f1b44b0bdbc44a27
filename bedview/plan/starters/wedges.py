"""Wedges of short rows, held at one end only: how many, how steep, and the parts they are knitted in.

A wedge begins with plain rows over all needles. Then ``step`` more needles are held at one end every two
rows, and at last all come back at once. Its outer edge is as many rows as it has; its inner end only the
plain ones. Courses are drawn together at the inner end into a disc, a cone or the crown of a hat.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import pi
from typing import Final, NamedTuple

from bedview.language import gettext as _
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.parameter import StarterError

ACROSS: Final = 2
"""Plain rows at the beginning of each wedge: as many as one step takes."""
GENTLE: Final = 8
"""Steps of so many needles keep to the plane; steep ones shear."""
GRAFT_ROWS: Final = 1
"""A graft is itself a row of stitches."""
FEWEST: Final = 3
"""Fewer wedges do not close round a point."""
TITLES: Final = ("Wedge, first rows", "Wedge")
"""Titles of the two parts of a wedge."""


@dataclass(frozen=True, slots=True)
class Wedges:
    """Counts of a piece of wedges.

    Attributes:
        needles: needles in all.
        held: how many of them are held in each wedge, at the right end.
        step: how many go to hold each time.
        times: how many wedges.
        longer: how many of these begin with two rows more, to meet the round that was asked.
    """

    needles: int
    held: int
    step: int
    times: int
    longer: int

    @property
    def rows_each(self) -> int:
        """Rows of one wedge at its outer edge."""
        return _rows_each(self.held, self.step)

    @property
    def rows(self) -> int:
        """Rows round the outer edge, the graft among them."""
        return self.times * self.rows_each + ACROSS * self.longer + GRAFT_ROWS

    @property
    def left(self) -> int:
        """Offset of the leftmost needle."""
        return -(self.needles - self.needles // 2)

    @property
    def whole(self) -> str:
        """All needles."""
        return draft.span(self.left, self.needles)


class Layout(NamedTuple):
    """How the needles of a wedge may be laid out.

    Attributes:
        needles: needles in all.
        held: how many of them are held in each wedge.
        step: how many go to hold each time.
        unlike: how little it suits, beside a row to spare or a step of one needle more than wished.
    """

    needles: int
    held: int
    step: int
    unlike: float = 0.0


def flat_disc(step: int, stitches_to_cm: float, rows_to_cm: float) -> float:
    """How many wedges make a flat disc: every needle further out adds 2π stitch widths to the round.

    Source: plane geometry; each wedge adds two rows to the round every ``step`` needles.
    """
    return pi * step * rows_to_cm / stitches_to_cm


def choose(rows: int, layouts: Iterable[Layout], wished: int) -> Wedges:
    """The wedges that meet a round with the fewest rows to spare, in steps near those wished.

    Args:
        rows: rows round the outer edge, the graft among them.
        layouts: what may be chosen from.
        wished: the step to come near to.

    Raises:
        StarterError: if no wedges of these steps come to so many rows.
    """
    best: tuple[float, Wedges] | None = None
    for needles, held, step, unlike in layouts:
        each = _rows_each(held, step)
        times = (rows - GRAFT_ROWS) // each
        longer = round((rows - GRAFT_ROWS - times * each) / ACROSS)
        if times < FEWEST or longer > times:
            continue
        cost = longer + abs(step - wished) + unlike
        if best is None or cost < best[0]:
            best = cost, Wedges(needles, held, step, times, longer)
    if best is None:
        raise StarterError(
            _(
                "a round of {rows} rows does not come to {fewest} wedges of this depth; "
                "take a finer yarn or a larger piece"
            ).format(rows=rows, fewest=FEWEST)
        )
    return best[1]


def _rows_each(held: int, step: int) -> int:
    return 2 * -(-held // step) + ACROSS


def wedge_segments(plan: Wedges, *, tension: float, tail: float, group: str) -> Iterator[Segment]:
    """The whole piece: waste, wedges, waste."""
    yield draft.waste_start("Waste start", plan.whole, tension=tension)
    if plan.longer:
        yield _repeat("Wedges with two rows more", plan, plan.longer, 2 * ACROSS)
    if plan.times > plan.longer:
        yield _repeat("Wedges", plan, plan.times - plan.longer, ACROSS)
    yield draft.scrap_off("Scrap off", plan.whole, group, tail=tail)


def _repeat(title: str, plan: Wedges, times: int, across: int) -> Segment:
    waits = draft.span(plan.left + plan.needles - plan.held, plan.held)
    knits = draft.span(plan.left, plan.needles - plan.held)
    weights = "These needles wait in every wedge: hang the weights under the others, and move them up often"
    return {
        "kind": "repeat",
        "title": title,
        "times": times,
        "segments": [
            draft.plain(TITLES[0], across),
            {
                "kind": "short_rows",
                "title": TITLES[1],
                "down_to": plan.needles - plan.held,
                "ends": "right",
                "needles_a_step": plan.step,
                "wraps": "automatic",
                "back": {"all_at_once": True},
            },
        ],
        "reminders": [draft.reminder(0, weights, waits), draft.reminder(0, "Hang the weights here", knits)],
    }


def closing_graft(plan: Wedges, cloth: Cloth) -> Seam:
    """The last course to the first."""
    first = cloth.fabric_passes(TITLES[0])[0]
    return draft.graft({"open": plan.whole}, {"made_in_pass": first, "needles": plan.whole})


def edge_mm(cloth: Cloth) -> float:
    """The way round the outer edge: the rows of its wale, and that of the graft.

    Raises:
        Missing: if the wedges are not there any more.
    """
    ends = cloth.widest(TITLES[0]).needles
    # Seen in a mirror the outer edge is at the other end.
    outer = max(cloth.wale_mm(needle, *TITLES) for needle in (ends[0], ends[-1]))
    return outer + GRAFT_ROWS * cloth.row_mm(TITLES[0])
