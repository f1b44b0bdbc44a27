"""More stitches: the edges move out."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Final, Literal, Self

from pydantic import Field, model_validator

from bedview.bed import actions as do
from bedview.bed.actions import MadeEdge
from bedview.bed.needles import Position, Side
from bedview.language import gettext as _
from bedview.language import ngettext
from bedview.plan.segments.base import SegmentError
from bedview.plan.segments.edge_stitches import edge_needles, heel, move_out, next_out, room
from bedview.plan.segments.shaping import Shaping, knit_rows, rows_due

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker

_AT_THE_YARN: Final = ("laid_in", "e_wrap")
"""Ways that add a needle where the yarn comes from, at the carriage."""


class WidenSegment(Shaping):
    """Adds stitches at the edges, one at an end each time.

    ``heel`` and ``eyelet`` move the outermost stitches, as many as the tool has needles, one needle out
    together; inside of them a needle stays empty. ``laid_in`` and ``e_wrap`` add a needle outside the edge on
    the carriage's side, so one end takes every second row at most, and both ends two rows each time: at one
    end, then at the other. It takes ``rows`` rows, or ``stitches`` times ``every``.

    Attributes:
        how: ``heel`` fills the empty needle with the heel of the stitch beside it, which leaves no hole;
            ``eyelet`` leaves it empty, and the next row is laid in there (where a narrowing later joins an
            older stitch to this column, that is told as a gap); ``laid_in`` brings the new edge needle to
            work for the row to be laid in; ``e_wrap`` casts one on there by hand.
    """

    says: ClassVar[str] = "Widen"
    does: ClassVar[str] = "Stitches are added at the edges, and the fabric grows wider."
    looks_below: ClassVar[bool] = True

    kind: Literal["widen"]
    how: Literal["heel", "eyelet", "laid_in", "e_wrap"] = Field("heel", title="How")

    @model_validator(mode="after")
    def _where_the_yarn_is(self) -> Self:
        if self.how not in _AT_THE_YARN:
            return self
        if self.every is not None and (self.every < 2 or (self.every % 2 and self.ends != "both")):
            text = _(
                "a new edge needle comes on the carriage's side; rows from one to the next must be "
                "an even number, not {every}"
            )
            if self.ends == "both":
                text = _(
                    "a new edge needle comes on the carriage's side; rows from one to the next must be "
                    "at least 2, not {every}"
                )
            raise ValueError(text.format(every=self.every))
        if self.rows is not None and self.rows < self._fewest_rows(waits=False):
            raise ValueError(self._too_few(self.rows, self._fewest_rows(waits=False)))
        return self

    def build(self, maker: Maker) -> None:
        """Widen row by row."""
        working = len(maker.need_working())
        maker.need_yarn()
        self._refuse_no_room(maker)
        rows = self.rows_in_all(maker)
        if self.how in _AT_THE_YARN:
            knit_rows(maker, rows, self._rows_at_the_yarn(maker, rows), lambda: self._new_edge(maker))
            return
        needed = len(self.sides(maker)) + 1
        if working < needed:
            text = ngettext(
                "only {count} needle works here; moving stitches out at an end takes {needed}",
                "only {count} needles work here; moving stitches out at an end takes {needed}",
                working,
            )
            if self.ends == "both":
                text = ngettext(
                    "only {count} needle works here; moving stitches out at both ends takes {needed}",
                    "only {count} needles work here; moving stitches out at both ends takes {needed}",
                    working,
                )
            raise SegmentError(text.format(count=working, needed=needed), "how")
        due = rows_due(rows, self.stitches, at_once=self.at_once)
        knit_rows(maker, rows, due, lambda: self._one_out(maker))

    def _refuse_no_room(self, maker: Maker) -> None:
        for side in self.sides(maker):
            free, stopped_by = room(maker, side)
            if free < self.stitches:
                free_there = _said_free(free, side, "" if stopped_by is None else maker.names([stopped_by]))
                raise SegmentError(
                    _("{free_there}; you asked for {stitches} more there").format(
                        free_there=free_there, stitches=self.stitches
                    ),
                    "stitches",
                )

    # -- stitches moved out -------------------------------------------------------------------------------

    def _one_out(self, maker: Maker) -> None:
        sides = self.sides(maker)
        stitches = min(self.tool, (len(maker.working()) - 1) // len(sides))
        for side, below in [(side, self._heel(maker, side, stitches)) for side in sides]:
            empty, _ = move_out(maker, side, stitches)
            if below is not None:
                maker.do(do.Hang((empty,), below))

    def _heel(self, maker: Maker, side: Side, stitches: int) -> MadeEdge | None:
        """The heel of the innermost stitch that moves; None if the needle is to stay empty."""
        if self.how == "eyelet":
            return None
        beside = edge_needles(maker, side, stitches)[-1]
        below = heel(maker, beside)
        if below is None:
            raise SegmentError(
                _(
                    "the stitch on {needles} is new and has no heel to hang yet; knit rows first, or "
                    "choose another way"
                ).format(needles=maker.names([beside])),
                "how",
            )
        return below

    # -- new needles where the yarn is --------------------------------------------------------------------

    def _new_edge(self, maker: Maker) -> None:
        new = next_out(maker, maker.state.carriage)
        if self.how == "e_wrap":
            maker.do(do.CastOn((new,)))
        else:
            maker.place([new], Position.WORK)

    def _rows_at_the_yarn(self, maker: Maker, rows: int) -> list[int]:
        """The rows that begin with a new needle."""
        waits = self.ends != "both" and maker.state.carriage is not Side(self.ends)
        fewest = self._fewest_rows(waits=waits)
        if rows < fewest:
            raise SegmentError(self._too_few(rows, fewest), "rows" if self.length_cm is None else "length_cm")
        if self.ends != "both":
            first = 2 if waits else 1
            return list(rows_due(rows, self.stitches, at_once=self.at_once, first=first, apart=2))
        # Two rows each time: from one end, then from the other.
        other = 1 if self.at_once else -1
        due = rows_due(rows, self.stitches, at_once=self.at_once)
        return sorted([*due, *(row + other for row in due)])

    def _fewest_rows(self, *, waits: bool) -> int:
        """Rows that new edge needles take; at one end one less if the carriage stands there already."""
        return 2 * self.stitches - (self.ends != "both" and not waits)

    def _too_few(self, rows: int, fewest: int) -> str:
        text = {
            "both": _(
                "{stitches} new edge needles at both ends, each on the carriage's side, take at least "
                "{fewest} rows from here, not {rows}"
            ),
            "left": _(
                "{stitches} new edge needles on the left, each on the carriage's side, take at least "
                "{fewest} rows from here, not {rows}"
            ),
            "right": _(
                "{stitches} new edge needles on the right, each on the carriage's side, take at least "
                "{fewest} rows from here, not {rows}"
            ),
        }[self.ends]
        return text.format(stitches=self.stitches, fewest=fewest, rows=rows)


def _said_free(free: int, side: Side, stopped_by: str) -> str:
    """How many needles are free at a side; before which needle, if one that bears loops ends them."""
    if side is Side.LEFT:
        text = ngettext(
            "only {count} needle is free on the left", "only {count} needles are free on the left", free
        )
        if not free:
            text = _("no needle is free on the left")
    else:
        text = ngettext(
            "only {count} needle is free on the right", "only {count} needles are free on the right", free
        )
        if not free:
            text = _("no needle is free on the right")
    said = text.format(count=free)
    if not stopped_by:
        return said
    return _("{free} before {needle}, which bears loops").format(free=said, needle=stopped_by)
