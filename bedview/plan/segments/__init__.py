"""The kinds of segment, one file a kind: its parameters and how they become actions.

A new kind is a file with a class that derives from :class:`~bedview.plan.segments.base.Segment`, and its name
in the list below.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from bedview.plan.segments.actions import ActionsSegment
from bedview.plan.segments.bind_off import BindOffSegment
from bedview.plan.segments.bring_back import BringBackSegment
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.hang import HangSegment
from bedview.plan.segments.hem import HemSegment
from bedview.plan.segments.narrow import NarrowSegment
from bedview.plan.segments.plain import PlainSegment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.plan.segments.scrap_off import ScrapOffSegment
from bedview.plan.segments.set_aside import SetAsideSegment
from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.plan.segments.widen import WidenSegment

AnySegment = Annotated[
    ActionsSegment
    | BindOffSegment
    | BringBackSegment
    | CastOnSegment
    | HangSegment
    | HemSegment
    | NarrowSegment
    | PlainSegment
    | RepeatSegment
    | ScrapOffSegment
    | SetAsideSegment
    | ShortRowsSegment
    | WidenSegment,
    Field(discriminator="kind"),
]
"""Any segment of a piece, told apart by ``kind``."""

# A repeat holds segments of any kind, itself among them, so it can only be finished when all are known.
RepeatSegment.model_rebuild(_types_namespace={"AnySegment": AnySegment})
