"""Technique cards: how a thing is done by hand, in a drawing and a few sentences.

Cards lie in ``resources/cards``, one file a card. A drawing is written in stitches across and rows down, so
that it is drawn in any size and look; :mod:`bedview.finish.card_drawing` paints it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Final, Literal

from pydantic import BaseModel, Field

from bedview.language import gettext
from bedview.plan.fields import STRICT
from bedview.resources import resource_path

Colouring = Literal["one", "other", "waste"]
"""Which yarn: that of the one piece, of the other, or waste."""
Number = Annotated[float, Field(ge=-50, le=50)]
Count = Annotated[int, Field(ge=1, le=40)]


class _Part(BaseModel):
    """Something drawn at a place: ``x`` stitches from the left, ``y`` rows from the top."""

    model_config = STRICT

    x: Number
    y: Number


class FabricPart(_Part):
    """A patch of fabric, open loops first.

    Attributes:
        x: middle of its first column.
        y: crowns of its open loops.
        hangs: whether its rows lie below the open loops or above them.
        face: which side is seen.
    """

    kind: Literal["fabric"]
    stitches: Count
    rows: Count
    hangs: Literal["down", "up"] = "down"
    face: Literal["knit", "purl"] = "knit"
    yarn: Colouring = "one"


class NeedlesPart(_Part):
    """Needles of the bed, their hooks at ``y``, in one row; loops hang in the hooks of the ``yarn``."""

    kind: Literal["needles"]
    count: Count
    forward: Number = 0.0


class CrownsPart(_Part):
    """Loops over needles, without the fabric they belong to."""

    kind: Literal["crowns"]
    count: Count
    yarn: Colouring = "one"


class ThreadPart(BaseModel):
    """A sewing thread through points; the word of each says how it comes there: over the fabric or under it.

    Attributes:
        points: stitches from the left, rows from the top, ``over`` or ``under``.
        needle: whether an eyed needle hangs at its last point.
    """

    model_config = STRICT

    kind: Literal["thread"]
    points: Annotated[
        tuple[tuple[Number, Number, Literal["over", "under"]], ...], Field(strict=False, min_length=2)
    ]
    needle: bool = True


class ArrowPart(BaseModel):
    """An arrow."""

    model_config = STRICT

    kind: Literal["arrow"]
    start: Annotated[tuple[Number, Number], Field(strict=False)]
    end: Annotated[tuple[Number, Number], Field(strict=False)]


class WordPart(_Part):
    """A word in the drawing, or a number that a sentence refers to."""

    kind: Literal["word"]
    text: Annotated[str, Field(min_length=1, max_length=40)]
    anchor: Literal["start", "middle", "end"] = "middle"


AnyPart = Annotated[
    FabricPart | NeedlesPart | CrownsPart | ThreadPart | ArrowPart | WordPart, Field(discriminator="kind")
]


class Drawing(BaseModel):
    """A drawing: its size in stitches and rows, and its parts in the order of painting."""

    model_config = STRICT

    stitches: Annotated[float, Field(gt=0, le=50)]
    rows: Annotated[float, Field(gt=0, le=50)]
    says: Annotated[str, Field(min_length=1, max_length=200)]
    parts: Annotated[tuple[AnyPart, ...], Field(strict=False, max_length=100)]


class TechniqueCard(BaseModel):
    """One card.

    Attributes:
        title: what is shown.
        when: when one does it.
        steps: what hands do, a sentence or two each.
        drawing: the picture.
    """

    model_config = STRICT

    title: Annotated[str, Field(min_length=1, max_length=80)]
    when: Annotated[str, Field(min_length=1, max_length=300)]
    steps: Annotated[
        tuple[Annotated[str, Field(min_length=1, max_length=400)], ...], Field(strict=False, min_length=2)
    ]
    drawing: Drawing


CARDS: Final = (
    "grafting_right_side",
    "grafting_wrong_side",
    "mattress",
    "overcasting",
    "joining_on_the_machine",
    "taking_off",
    "hanging_back",
)
"""Names of all cards."""


def technique_card(name: str) -> TechniqueCard:
    """A card by its name, in the language in use.

    Raises:
        KeyError: if there is no such card.
    """
    if name not in CARDS:
        raise KeyError(name)
    return _spoken(_read(name))


@lru_cache(maxsize=len(CARDS))
def _read(name: str) -> TechniqueCard:
    path = resource_path("cards", f"{name}.json")
    return TechniqueCard.model_validate_json(path.read_text(encoding="utf-8"))


def _spoken(card: TechniqueCard) -> TechniqueCard:
    parts = tuple(
        part.model_copy(update={"text": gettext(part.text)}) if isinstance(part, WordPart) else part
        for part in card.drawing.parts
    )
    drawing = card.drawing.model_copy(update={"says": gettext(card.drawing.says), "parts": parts})
    said = {"title": gettext(card.title), "when": gettext(card.when), "drawing": drawing}
    return card.model_copy(update=said | {"steps": tuple(map(gettext, card.steps))})
