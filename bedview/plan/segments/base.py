"""What every segment is: a kind, a title, the findings that are meant, and a way to build itself."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Hashable
from typing import TYPE_CHECKING, Annotated, ClassVar, Literal, Self

from pydantic import BaseModel, Field

from bedview.language import gettext
from bedview.plan.fields import STRICT, Title
from bedview.plan.segments.reminders import Reminders

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker

Ends = Literal["in_turn", "both_each_row", "left", "right"]
"""Where a stretch grows narrower or wider: one end after the other, both in each row, or one end only."""
Wraps = Literal["automatic", "hand", "none"]
"""Who lays the yarn round a held needle: the pass itself, the knitter, or nobody."""
OldYarn = Literal["cut", "park"]
"""What becomes of the strand in the feeder when another yarn is wanted."""
NeedlesAStep = Annotated[int, Field(ge=1, le=400)]

Rules = Annotated[tuple[Annotated[str, Field(max_length=100)], ...], Field(strict=False, max_length=100)]
"""Names of rules of the judge."""


class SegmentError(ValueError):
    """A segment that cannot be done where it stands, with the reason in one sentence.

    Attributes:
        message: the reason, with its numbers.
        field: the field of the segment that is at fault, or "".
        path: index of the segment in the piece, then in each repeat; empty while nobody has said.
    """

    def __init__(self, message: str, field: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.field = field
        self.path: tuple[int, ...] = ()


class Segment(BaseModel, ABC):
    """One part of a piece. A kind adds the field ``kind``, its parameters, and :meth:`build`.

    Attributes:
        title: what the knitter calls it: "Cuff".
        meant: rules whose findings inside it are meant, and print as notes.
        reminders: words for the knitter at rows inside it.
    """

    model_config = STRICT

    says: ClassVar[str]
    """The name of the kind, for people: "Short rows"."""
    does: ClassVar[str]
    """What it does, in one sentence for somebody who chooses among the kinds."""
    looks_below: ClassVar[bool] = False
    """Whether what it does depends on fabric below the loops on the needles."""

    title: Title = ""
    meant: Rules = ()
    reminders: Reminders = Field((), title="Reminders")

    @property
    def called(self) -> str:
        """What people call it: its own title, as starters give it, or the name of its kind."""
        return gettext(self.title or self.says)

    @property
    def doing(self) -> Hashable:
        """Equal for segments that do the same, whatever they are called; not meant to be kept."""
        fields = tuple(value for name, value in self.__dict__.items() if name not in ("title", "meant"))
        try:
            hash(fields)
        except TypeError:
            # Single actions are kept as they were written, in tables, which nothing can be looked up by.
            return id(self)
        return type(self), fields

    @abstractmethod
    def build(self, maker: Maker) -> None:
        """Do the segment, action by action, from the state the bed is in.

        Raises:
            SegmentError: if it cannot be done from there.
            Refused: if the bed refuses one of its actions.
        """

    def rounds(self) -> int:
        """How often what it holds is gone through; 1 for a segment that holds no others."""
        return 1

    def mirrored(self) -> Self:
        """The segment with left and right exchanged, its reminders too."""
        return self.other_side().altered(reminders=tuple(each.mirrored() for each in self.reminders))

    def other_side(self) -> Self:
        """Its parameters with left and right exchanged. A kind that names needles or sides overrides this."""
        return self

    def altered(self, **changes: object) -> Self:
        """A copy with some fields changed; one that keeps its value stays unwritten if it was."""
        return self.model_copy(update={key: new for key, new in changes.items() if new != getattr(self, key)})
