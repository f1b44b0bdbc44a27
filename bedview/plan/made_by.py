"""What a piece remembers of the starter that made it, to be made again for another yarn or bed."""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import BaseModel, Field, PlainValidator, WithJsonSchema

from bedview.language import gettext as _
from bedview.plan.fields import STRICT, shown

MOST_VALUES: Final = 60
"""More than any starter has parameters."""
LONGEST_WORD: Final = 100


def _word_or_number(value: object) -> str | float:
    if isinstance(value, str) and len(value) <= LONGEST_WORD:
        return value
    if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e6:
        return value
    raise ValueError(_("must be a number or a word, not {value}").format(value=shown(value)))


GivenValue = Annotated[
    str | int | float,
    PlainValidator(_word_or_number),
    WithJsonSchema(
        {"anyOf": [{"type": "string", "maxLength": LONGEST_WORD}, {"type": "number"}]},
    ),
]
"""A value as it was given: ``38``, ``"14,5 cm"``."""


class MadeBy(BaseModel):
    """A starter and the values it was given; what was left to the starter is not written.

    Attributes:
        starter: its name.
        values: the values given, by parameter.
        mirrored: whether left and right were exchanged afterwards.
    """

    model_config = STRICT

    starter: Annotated[str, Field(min_length=1, max_length=LONGEST_WORD)]
    values: Annotated[
        dict[Annotated[str, Field(max_length=LONGEST_WORD)], GivenValue], Field(max_length=MOST_VALUES)
    ]
    mirrored: bool = False
