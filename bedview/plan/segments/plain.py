"""Plain rows over whatever works."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import Field, model_validator

from bedview.language import gettext as _
from bedview.plan.fields import Dial, LengthCm, Rows, TailCm, YarnId
from bedview.plan.segments.base import OldYarn, Segment

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class PlainSegment(Segment):
    """So many rows, or a length that the gauge turns into rows.

    Attributes:
        rows: rows; left out if a length is given.
        length_cm: length.
        yarn: the yarn; the one in the feeder if left out. A parked strand of it is picked up again.
        tension: dial; as it is set if left out.
        old_yarn: what becomes of another yarn that is in the feeder.
        tail_cm: the tail it leaves if it is cut.
    """

    says: ClassVar[str] = "Plain rows"
    does: ClassVar[str] = "Rows over all needles that work, by number or by length."

    kind: Literal["plain"]
    rows: Rows | None = Field(None, title="Rows")
    length_cm: LengthCm | None = Field(None, title="Length in cm")
    yarn: YarnId | None = Field(None, title="Yarn")
    tension: Dial | None = Field(None, title="Tension")
    old_yarn: OldYarn = Field("cut", title="The yarn before")
    tail_cm: TailCm | None = Field(None, title="Its tail in cm")

    @model_validator(mode="after")
    def _one_measure(self) -> Self:
        if (self.rows is None) == (self.length_cm is None):
            raise ValueError(_("give either rows or length_cm"))
        return self

    def build(self, maker: Maker) -> None:
        """Knit the rows."""
        maker.need_working()
        if self.yarn is not None:
            maker.use_yarn(self.yarn, "yarn", old=self.old_yarn, tail_cm=self.tail_cm)
        maker.need_yarn()
        maker.set_dial(self.tension)
        rows = self.rows if self.rows is not None else maker.rows_for(self.length_cm or 0, "length_cm")
        maker.knit(rows)
