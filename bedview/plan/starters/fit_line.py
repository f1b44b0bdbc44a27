"""One measure of a piece: what was asked, what comes off the bed, and whether it will do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from bedview.language import filled, gettext, number
from bedview.plan.units import LengthUnit, say_length

Verdict = Literal["fits", "off", "changed"]
"""``fits``: within one stitch or one row. ``off``: not, and the reason says why. ``changed``: the part it is
measured on is not there any more."""


@dataclass(frozen=True, slots=True)
class FitLine:
    """One measure.

    Attributes:
        key: a short name that stays the same in every language: ``foot_length``.
        measure: what is measured, in English: "Round the foot".
        unit: what the numbers count: millimetres or loops.
        asked: what the piece should measure, ease included.
        got: what the fabric measures; None if it cannot be measured any more.
        within: how far from ``asked`` still fits: one stitch, one row, or no loop.
        bound: whether it should come ``near`` what is asked, or be ``at_least`` or ``at_most`` that.
        body: the body's own measure; None if there is none.
        reason: why it cannot come nearer, or what is worth knowing; English, with named gaps.
        values: what goes into the gaps.
    """

    key: str
    measure: str
    unit: Literal["mm", "loops"]
    asked: float
    got: float | None
    within: float
    bound: Literal["near", "at_least", "at_most"] = "near"
    body: float | None = None
    reason: str = ""
    values: Mapping[str, float | int | str] = field(default_factory=dict)

    @property
    def ease(self) -> float | None:
        """How much larger than the body the piece is; negative if it must stretch."""
        return None if self.body is None or self.got is None else self.got - self.body

    @property
    def verdict(self) -> Verdict:
        """Whether it will do."""
        if self.got is None:
            return "changed"
        # What floating point adds far behind the point must not decide.
        slack = self.within + 1e-6
        too_small = self.bound != "at_most" and self.got < self.asked - slack
        too_large = self.bound != "at_least" and self.got > self.asked + slack
        return "off" if too_small or too_large else "fits"

    def says(self, unit: LengthUnit = LengthUnit.CM, *, comma: bool | None = None) -> str:
        """The line as a sentence: "Round the foot: 20.3 cm asked, 20.0 cm knitted; body 22.5 cm"."""
        asked, got, body = self.figures(unit, comma=comma)
        if self.got is None:
            sentence = gettext("{measure}: {asked} asked; the part it is measured on has changed")
        elif self.body is None:
            sentence = gettext("{measure}: {asked} asked, {got} knitted")
        else:
            sentence = gettext("{measure}: {asked} asked, {got} knitted; body {body}")
        wanted = {
            "near": "{size}",
            "at_least": gettext("at least {size}"),
            "at_most": gettext("at most {size}"),
        }
        said = sentence.format(
            measure=gettext(self.measure), asked=wanted[self.bound].format(size=asked), got=got, body=body
        )
        why = self.why()
        return f"{said}. {why}" if why else said

    @property
    def name(self) -> str:
        """What is measured, in the language in use."""
        return gettext(self.measure)

    def figures(self, unit: LengthUnit = LengthUnit.CM, *, comma: bool | None = None) -> tuple[str, str, str]:
        """What is asked, knitted and the body's, each with its unit; "" for what there is not."""

        def say(value: float | None) -> str:
            if value is None:
                return ""
            return say_length(value, unit, comma=comma) if self.unit == "mm" else number(value)

        return say(self.asked), say(self.got), say(self.body)

    def why(self) -> str:
        """The reason, with its figures."""
        return filled(gettext(self.reason), **self.values)
