"""The piece: what a knitter plans, as a document.

A piece never changes. An edit makes a new one (:meth:`Piece.revised`), and undo moves between them. What a
single value may be stands in :mod:`bedview.plan.fields`; what a piece may be as a whole stands here: yarns
are named once, and gauges are of yarns that are there. Whether it can be knitted shows when it is compiled.
"""

from __future__ import annotations

from typing import Annotated, Any, Final, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    FailFast,
    Field,
    PlainValidator,
    WithJsonSchema,
    model_validator,
)

from bedview.bed.actions import YarnRole
from bedview.bed.needles import Bed, Side, shorten
from bedview.language import gettext as _
from bedview.plan.fields import (
    STRICT,
    BedNeedles,
    Colour,
    Dial,
    LoopsOverSwatch,
    NeedleCount,
    PitchMm,
    RoleWord,
    SideWord,
    SwatchMm,
    Tex,
    Title,
    YarnId,
    at_place,
    shown,
)
from bedview.plan.made_by import MadeBy
from bedview.plan.seams_file import SeamList
from bedview.plan.segments import AnySegment

FORMAT: Final = 1
"""The number of the piece file's format that this program writes."""
MAX_YARNS: Final = 200
MAX_GAUGES: Final = 2_000
MAX_SEGMENTS: Final = 20_000


def _known_format(value: object) -> int:
    # A literal 1 would let true and 1.0 through, which are equal to it.
    if type(value) is not int or value != FORMAT:
        raise ValueError(_("must be {format}, not {value}").format(format=FORMAT, value=shown(value)))
    return value


FormatNumber = Annotated[int, PlainValidator(_known_format), WithJsonSchema({"const": FORMAT})]


class BedPlan(BaseModel):
    """The bed a piece is planned for, and where the carriage stands at the start."""

    model_config = STRICT

    needles: NeedleCount
    pitch_mm: PitchMm
    carriage: SideWord = "right"


class Yarn(BaseModel):
    """A yarn of the piece.

    Attributes:
        id: the name actions use, unique in the piece.
        role: ``fabric`` stays; ``waste`` and ``ravel`` are taken out again.
        name: what people call it.
        tex: grams of 1,000 metres.
        colour: ``#rrggbb``, for screen and print.
    """

    model_config = STRICT

    id: YarnId
    role: RoleWord
    name: Title = ""
    tex: Tex | None = None
    colour: Colour | None = None


def _named_once(yarns: tuple[Yarn, ...]) -> tuple[Yarn, ...]:
    seen: set[str] = set()
    for place, yarn in enumerate(yarns):
        if yarn.id in seen:
            raise at_place(
                (place, "id"),
                _("'{id}' is an earlier yarn's id; each needs its own").format(id=shorten(yarn.id)),
            )
        seen.add(yarn.id)
    return yarns


NamedOnce: Final = AfterValidator(_named_once)
"""Of the yarns of a document: each id stands once."""


class Gauge(BaseModel):
    """Stitches and rows counted over a swatch of one yarn at one tension."""

    model_config = STRICT

    yarn: YarnId
    tension: Dial
    stitches: LoopsOverSwatch
    rows: LoopsOverSwatch
    over_mm: SwatchMm


class Piece(BaseModel):
    """A whole piece, in the order of the file.

    ``made_by`` is there if a starter made it; whatever was changed since is not undone by it.
    """

    model_config = STRICT

    format: FormatNumber
    title: Title = ""
    made_by: MadeBy | None = None
    bed: BedPlan
    yarns: Annotated[tuple[Yarn, ...], Field(strict=False, max_length=MAX_YARNS), FailFast(), NamedOnce] = ()
    gauges: Annotated[tuple[Gauge, ...], Field(strict=False, max_length=MAX_GAUGES), FailFast()] = ()
    segments: Annotated[tuple[AnySegment, ...], Field(strict=False, max_length=MAX_SEGMENTS), FailFast()]
    seams: SeamList = ()

    @model_validator(mode="after")
    def _gauges_of_yarns(self) -> Self:
        known = {yarn.id for yarn in self.yarns}
        for place, gauge in enumerate(self.gauges):
            if gauge.yarn not in known:
                raise at_place(
                    ("gauges", place, "yarn"),
                    _("the yarn '{yarn}' is not in the piece").format(yarn=shorten(gauge.yarn)),
                )
        return self

    @classmethod
    def read(cls, document: dict[str, Any]) -> Self:
        """Make a piece of a document, as JSON gives it.

        Unlike plain ``model_validate`` it holds every needle list against the piece's own bed.

        Raises:
            pydantic.ValidationError: if anything in it is not as it should be.
        """
        return cls.model_validate(document, context=BedNeedles.of(document))

    def revised(self, **changes: object) -> Self:
        """The piece with some of its fields changed and the whole checked again.

        Raises:
            pydantic.ValidationError: if it would not be a piece any more; this one stands.
        """
        return self.read(self.model_copy(update=changes).to_document())

    def to_document(self) -> dict[str, Any]:
        """The piece as JSON takes it: only what was said, in the order of the file."""
        return self.model_dump(exclude_unset=True)

    def to_bed(self) -> Bed:
        """The bed as the simulator takes it."""
        return Bed(self.bed.needles, self.bed.pitch_mm, Side(self.bed.carriage))

    def yarn_roles(self) -> tuple[tuple[str, YarnRole], ...]:
        """Id and role of each yarn, in the order of the piece."""
        return tuple((yarn.id, YarnRole(yarn.role)) for yarn in self.yarns)
