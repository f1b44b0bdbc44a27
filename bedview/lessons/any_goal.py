"""All kinds of goals, told apart by ``kind``."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from bedview.lessons.fabric_goals import (
    BoundOffGoal,
    FindingsGoal,
    GapGoal,
    InTurnGoal,
    OpeningsGoal,
    OpenOnWasteGoal,
    ShortRowsGoal,
)
from bedview.lessons.goals import (
    CarriageGoal,
    CounterGoal,
    HoldCamsGoal,
    LoopsGoal,
    PositionGoal,
    RowsGoal,
    WrapsGoal,
    YarnGoal,
)

AnyGoal = Annotated[
    PositionGoal
    | LoopsGoal
    | WrapsGoal
    | CarriageGoal
    | HoldCamsGoal
    | YarnGoal
    | CounterGoal
    | RowsGoal
    | OpeningsGoal
    | GapGoal
    | FindingsGoal
    | OpenOnWasteGoal
    | InTurnGoal
    | BoundOffGoal
    | ShortRowsGoal,
    Field(discriminator="kind"),
]
