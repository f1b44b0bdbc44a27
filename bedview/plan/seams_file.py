"""Seams as a file writes them: two edges joined loop to loop (``graft``) or edge to edge.

A sewn seam may leave a part open at one of its ends, for a hand, a thumb or a collar. The part is measured
along each edge by its own rows, from the last loops that would be joined (``open_at`` ``end``) or from the
first (``start``).
"""

from __future__ import annotations

from typing import Annotated, Final, Literal, Self

from pydantic import BaseModel, FailFast, Field, model_validator

from bedview.language import gettext as _
from bedview.plan.edges_file import SeamEdgeItem
from bedview.plan.fields import STRICT

MAX_SEAMS: Final = 10_000

StitchesIn = Annotated[int, Field(ge=0, le=20)]
"""How many stitches inside the edge a seam runs; those outside lie in the seam."""
OpenCm = Annotated[float, Field(gt=0, le=1_000)]
OpenRows = Annotated[int, Field(ge=1, le=200_000)]


class Graft(BaseModel):
    """Loops of ``a`` joined to loops of ``b``, one to one, by a course of stitches."""

    model_config = STRICT

    kind: Literal["graft"]
    a: SeamEdgeItem
    b: SeamEdgeItem


class _Sewn(BaseModel):
    """A seam from edge to edge.

    Attributes:
        open_cm: how much of it stays open.
        open_rows: the same in rows (in stitches, where an edge runs along a course); not both.
        open_at: the end at which it stays open.
    """

    model_config = STRICT

    kind: Literal["mattress", "overcast"]
    a: SeamEdgeItem
    b: SeamEdgeItem
    stitches_in: StitchesIn = 0
    open_cm: OpenCm | None = None
    open_rows: OpenRows | None = None
    open_at: Literal["start", "end"] = "end"

    @model_validator(mode="after")
    def _said_once(self) -> Self:
        if self.open_cm is not None and self.open_rows is not None:
            raise ValueError(_("says what stays open twice: give open_cm or open_rows"))
        return self


class Mattress(_Sewn):
    """Edges joined from the right side, so many stitches inside; unequal lengths are eased evenly."""

    kind: Literal["mattress"]
    stitches_in: StitchesIn = 1


class Overcast(_Sewn):
    """Edges joined over and over; unequal lengths are eased evenly."""

    kind: Literal["overcast"]
    stitches_in: StitchesIn = 0


Seam = Annotated[Graft | Mattress | Overcast, Field(discriminator="kind")]
SeamList = Annotated[tuple[Seam, ...], Field(strict=False, max_length=MAX_SEAMS), FailFast()]
