"""The body a starter's piece is made for, placed in the piece's resting shape, and how the two compare."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.finish import body_curves as draw
from bedview.finish.body_curves import BodyCurves, What
from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats
from bedview.language import filled
from bedview.language import gettext as _
from bedview.plan.fit import fit
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.starters import Starter, StarterError, find_starter
from bedview.plan.starters.cloth import Cloth, Missing
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.lined_bootee import LinedBootee
from bedview.plan.starters.starter import Values

WORN_STRETCH: Final = 1.2
"""Plain fabric that is worn stretched further than this across feels tight (common practice, no source)."""
WAY_IN_STRETCH: Final = 1.36
"""The same for what is only slipped over once, with a stitch to spare."""
TOO_LOOSE: Final = 1.15
SHORT_MM: Final = 12.0
LONG_MM: Final = 25.0
"""So much shorter or longer than the body is felt."""
LEG_OF_FOOT: Final = 0.45
"""How far up the leg is drawn, over the foot's length: past the ankle, where it turns as it likes."""
PARTS: Final = ("Heel, narrowing", "Toe, narrowing", "Leg")
OUTER_PARTS: Final = ("Outer: heel, narrowing", "Outer: toe, narrowing", "Outer: leg")
"""Titles of the parts by which a foot is placed."""
CROWN_OF_HEAD: Final = 0.36
"""From the rim over the crown to its middle, over the head's round, as the hat takes it."""


@dataclass(frozen=True, slots=True)
class PlacedBody:
    """A body's outline in the space of a shape.

    Attributes:
        what: of what.
        curves: each of shape (k, 3), in millimetres.
        marks: places in millimetres, each with the measure that is seen there, in millimetres too.
        says: how it compares with the piece, in one line.
        upright: directions to the right, up and towards the viewer as rows, for a body that stands; None for
            one that goes with the piece as that stands by itself.
    """

    what: What
    curves: tuple[Floats, ...]
    marks: tuple[tuple[Floats, float], ...]
    says: str
    upright: Floats | None = None


def body_in_shape(piece: Piece, procedure: Procedure, shape: Shape) -> PlacedBody | None:
    """The body in a shape that is made up; None if no starter made the piece, or its parts are gone.

    Args:
        piece: the piece.
        procedure: the piece compiled, to its end.
        shape: its shape with all seams closed.
    """
    if piece.made_by is None or not len(shape):
        return None
    try:
        starter = find_starter(piece.made_by.starter)
        values = starter.resolve(piece.made_by.values)
        places = _Places(Cloth(piece, procedure), shape)
        placed = _placed(starter, values, places)
    except (StarterError, Missing):
        return None
    if placed is None:
        return None
    curves, frame = placed
    return PlacedBody(
        curves.what,
        tuple(frame.placed(curve) for curve in curves.curves),
        tuple((frame.placed(mark.place[None, :])[0], mark.mm) for mark in curves.marks),
        compared(fit(piece, procedure).lines),
        frame.axes if curves.what == "foot" else None,
    )


def stood_with_body(
    shapes: tuple[Shape, ...], body: PlacedBody | None
) -> tuple[tuple[Shape, ...], PlacedBody | None]:
    """Shapes turned so that the body stands, with the body: a foot on its sole, its toe to the right.

    Args:
        shapes: from flat to made up; all are turned alike.
        body: whom the piece is for, in the last of them.
    """
    if body is None or body.upright is None:
        return shapes, body
    turn = body.upright.T
    places = shapes[-1].places_mm @ turn
    middle = (places.min(axis=0) + places.max(axis=0)) / 2
    turned = tuple(replace(shape, places_mm=shape.places_mm @ turn - middle) for shape in shapes)
    curves = tuple(curve @ turn - middle for curve in body.curves)
    marks = tuple((place @ turn - middle, mm) for place, mm in body.marks)
    return turned, replace(body, curves=curves, marks=marks, upright=np.eye(3))


# -- where it lies ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class _Frame:
    """Where a body's frame lies: its origin, and its directions along, up and across as rows."""

    origin: Floats
    axes: Floats

    def placed(self, places: Floats) -> Floats:
        """Places of the body's frame in the shape's space."""
        return np.asarray(self.origin + places @ self.axes)


def _frame(origin: Floats, along: Floats, towards_up: Floats) -> _Frame:
    """The frame whose second direction lies as near to one as can be."""
    one = along / np.linalg.norm(along)
    other = towards_up - one * float(towards_up @ one)
    other = other / np.linalg.norm(other)
    return _Frame(origin, np.stack((one, other, np.cross(one, other))))


class _Places:
    """Where parts of a piece lie in its shape."""

    def __init__(self, cloth: Cloth, shape: Shape) -> None:
        self.cloth, self._shape = cloth, shape

    def of_pass(self, number: int) -> Floats:
        """The middle of a course."""
        return self._middle(self._shape.pass_number == number)

    def first(self, title: str) -> Floats:
        """The middle of the first course of a part."""
        return self.of_pass(self._passes(title)[0])

    def last(self, title: str) -> Floats:
        """The middle of the last course of a part."""
        return self.of_pass(self._passes(title)[-1])

    def of_needle(self, needle: int, title: str = "") -> Floats:
        """The middle of a wale, or of what one part knitted of it."""
        chosen = self._shape.needle == needle
        if title:
            chosen &= np.isin(self._shape.pass_number, self._passes(title))
        return self._middle(chosen)

    def wale_between(self, title: str, other: str) -> Floats:
        """The wale in the middle of two turns, from the narrowest course of one to that of the other."""
        narrow = self.cloth.narrowest(title).needles
        first, last = sorted((self._passes(title)[-1], self._passes(other)[-1]))
        passes = self._shape.pass_number
        mine = (self._shape.needle == narrow[len(narrow) // 2]) & (first <= passes) & (passes <= last)
        if not mine.any():
            raise Missing(title)
        return np.asarray(self._shape.places_mm[mine])

    def _passes(self, title: str) -> list[int]:
        found = self.cloth.fabric_passes(title)
        if not found:
            raise Missing(title)
        return found

    def _middle(self, chosen: npt.NDArray[np.bool_]) -> Floats:
        if not chosen.any():
            raise Missing("a part of the shape")
        return np.asarray(self._shape.places_mm[chosen].mean(axis=0))


def _placed(starter: Starter, values: Values, places: _Places) -> tuple[BodyCurves, _Frame] | None:
    match starter.body:
        case "foot":
            return _foot(values, places, lined=starter.name == LinedBootee.name)
        case "head":
            return _head(values, places)
        case "hand":
            return _hand(values, places)
        case "trunk":
            return _trunk(values, places)
    return None


def _foot(values: Values, places: _Places, *, lined: bool) -> tuple[BodyCurves, _Frame]:
    """Between the turns of heel and toe, the leg towards the cuff; of a lined one in its outer."""
    heel_title, toe_title, leg_title = OUTER_PARTS if lined else PARTS
    heel, toe = places.last(heel_title), places.last(toe_title)
    leg = places.last(leg_title) if lined else places.first(leg_title)
    length = values.mm("foot_length")
    along = toe - heel
    frame = _frame((heel + toe) / 2 - along / np.linalg.norm(along) * length / 2, along, leg - heel)
    # The sole of a shape that hangs free sags below the line from turn to turn; a foot stands on it.
    sag = float(((places.wale_between(heel_title, toe_title) - frame.origin) @ frame.axes[1]).mean())
    frame = replace(frame, origin=frame.origin + sag * frame.axes[1])
    curves = draw.foot(length, values.mm("foot_girth"), values.mm("heel_girth"), LEG_OF_FOOT * length)
    return curves, frame


def _head(values: Values, places: _Places) -> tuple[BodyCurves, _Frame]:
    """Its ring on the rim, its crown towards the end that was held."""
    whole = places.cloth.widest("Wedge, first rows").needles
    rows = {needle: places.cloth.wale(needle, "Wedge") for needle in (whole[0], whole[-1])}
    rim = max(rows, key=lambda needle: rows[needle])
    crown = min(rows, key=lambda needle: rows[needle])
    origin, along = places.of_needle(rim), places.of_needle(crown) - places.of_needle(rim)
    any_side = np.eye(3)[int(np.abs(along).argmin())]
    girth = values.mm("head_girth")
    return draw.head(girth, CROWN_OF_HEAD * girth), _frame(origin, along, any_side)


def _hand(values: Values, places: _Places) -> tuple[BodyCurves, _Frame]:
    """From the first row above the cuff to the turn of the tip, the thumb on its side."""
    wrist, tip = places.first("Hand below the thumb"), places.last("Tip, narrowing")
    thumb = places.last("Thumb tip, narrowing")
    curves = draw.hand(
        values.mm("hand_length"),
        values.mm("hand_girth"),
        values.mm("thumb_height"),
        values.mm("thumb_length"),
        values.mm("thumb_girth"),
    )
    return curves, _frame(wrist, tip - wrist, thumb - wrist)


def _trunk(values: Values, places: _Places) -> tuple[BodyCurves, _Frame]:
    """From the seams of the shoulders down, between front and back."""
    front = [places.last(f"Front: {side} shoulder across") for side in ("left", "right")]
    shoulders = (places.last("Back: across all") + sum(front) / 2) / 2
    lower = (places.first("Back piece") + places.first("Front piece")) / 2
    whole = places.cloth.widest("Back piece").needles
    curves = draw.trunk(
        values.mm("chest_girth"),
        values.mm("neck_width"),
        values.mm("slope"),
        values.mm("armhole"),
        values.mm("body_length"),
    )
    sideways = places.of_needle(whole[-1], "Back piece") - places.of_needle(whole[0], "Back piece")
    return curves, _frame(shoulders, shoulders - lower, sideways)


# -- how it compares --------------------------------------------------------------------------------------


def compared(lines: tuple[FitLine, ...]) -> str:
    """The measures of a piece beside the body's, and where it is too tight or too loose, in one line."""
    measured = [line for line in lines if line.body is not None and line.got is not None]
    if not measured:
        return ""
    wrong = [said for line in measured if (said := _wrong(line))]
    verdict = "; ".join(wrong) if wrong else _("Nothing is too tight or too loose")
    figures = [
        _("{measure} {got} on {body}").format(measure=line.name, got=got, body=body)
        for line in measured
        for __, got, body in (line.figures(),)
    ]
    return _("{verdict}. {figures}.").format(verdict=verdict, figures="; ".join(figures))


def _wrong(line: FitLine) -> str:
    got, body = line.got or 0.0, line.body or 1.0
    if "length" in line.key:
        short, long = got < body - SHORT_MM, got > body + LONG_MM
        text = (
            _("{measure}: {percent:.0f} % too short") if short else _("{measure}: {percent:.0f} % too long")
        )
    else:
        most = WAY_IN_STRETCH if line.bound == "at_least" else WORN_STRETCH
        short, long = got * most < body, got > TOO_LOOSE * body and line.bound != "at_least"
        text = (
            _("{measure}: {percent:.0f} % too tight") if short else _("{measure}: {percent:.0f} % too loose")
        )
    if not short and not long:
        return ""
    return filled(text, measure=line.name, percent=100 * abs(got / body - 1))
