"""Seams as a file writes them: two edges joined loop to loop (``graft``) or edge to edge."""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import BaseModel, FailFast, Field

from bedview.plan.edges_file import SeamEdgeItem
from bedview.plan.fields import STRICT

MAX_SEAMS: Final = 10_000

StitchesIn = Annotated[int, Field(ge=0, le=20)]
"""How many stitches inside the edge a seam runs; those outside lie in the seam."""


class Graft(BaseModel):
    """Loops of ``a`` joined to loops of ``b``, one to one, by a course of stitches."""

    model_config = STRICT

    kind: Literal["graft"]
    a: SeamEdgeItem
    b: SeamEdgeItem


class Mattress(BaseModel):
    """Edges joined from the right side, so many stitches inside; unequal lengths are eased evenly."""

    model_config = STRICT

    kind: Literal["mattress"]
    a: SeamEdgeItem
    b: SeamEdgeItem
    stitches_in: StitchesIn = 1


class Overcast(BaseModel):
    """Edges joined over and over; unequal lengths are eased evenly."""

    model_config = STRICT

    kind: Literal["overcast"]
    a: SeamEdgeItem
    b: SeamEdgeItem
    stitches_in: StitchesIn = 0


Seam = Annotated[Graft | Mattress | Overcast, Field(discriminator="kind")]
SeamList = Annotated[tuple[Seam, ...], Field(strict=False, max_length=MAX_SEAMS), FailFast()]
