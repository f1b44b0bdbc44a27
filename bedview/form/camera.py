"""Where the shape is seen from: parallel light rays, turned by two angles."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Final

import numpy as np

from bedview.form.stitch_sizes import Floats

VIEWS: Final = {
    "corner": (-35.0, 25.0),
    "side": (0.0, 0.0),
    "front": (-90.0, 0.0),
    "back": (90.0, 0.0),
    "other side": (180.0, 0.0),
    "top": (0.0, 90.0),
    "sole": (0.0, -90.0),
}
"""Named views: how far the piece is turned about its upright axis, and how far it is tipped, in degrees.

A bootee stands with its leg up and its toe to the right, so that it is seen from its side at rest."""


@dataclass(frozen=True)
class Camera:
    """A view of the shape.

    Attributes:
        turn: degrees about the upright axis; positive brings the left side forward.
        tip: degrees the top comes forward; 90 looks down from above.
        pixels_a_mm: scale.
        middle_mm: point that is seen in the middle of the picture.
        width, height: of the picture in pixels.
    """

    turn: float
    tip: float
    pixels_a_mm: float
    middle_mm: tuple[float, float, float]
    width: float
    height: float

    @property
    def axes(self) -> Floats:
        """Rows: what runs right, up, and towards the viewer in the picture, as directions in space."""
        turn, tip = radians(self.turn), radians(self.tip)
        about = np.array(((cos(turn), 0, sin(turn)), (0, 1, 0), (-sin(turn), 0, cos(turn))))
        over = np.array(((1, 0, 0), (0, cos(tip), -sin(tip)), (0, sin(tip), cos(tip))))
        return np.asarray(over @ about)

    def seen(self, places_mm: Floats) -> Floats:
        """Where places appear: x right and y down in pixels, and how near in millimetres; shape (n, 3)."""
        turned = (places_mm - np.array(self.middle_mm)) @ self.axes.T
        scale = self.pixels_a_mm
        return np.stack(
            (self.width / 2 + turned[:, 0] * scale, self.height / 2 - turned[:, 1] * scale, turned[:, 2]),
            axis=1,
        )

    def ray(self, x: float, y: float) -> tuple[Floats, Floats]:
        """The ray into the picture at a pixel: where it begins, and its direction."""
        right, up, near = self.axes
        across = (x - self.width / 2) / self.pixels_a_mm
        upward = (self.height / 2 - y) / self.pixels_a_mm
        # It begins far in front of anything a bed can knit.
        return np.array(self.middle_mm) + right * across + up * upward + near * 1e6, -near


def looking_at(places_mm: Floats, view: str, width: float, height: float, *, margin: float = 24) -> Camera:
    """The camera of a named view that shows all places.

    Raises:
        KeyError: if there is no such view.
    """
    turn, tip = VIEWS[view]
    unit = Camera(turn, tip, 1.0, (0.0, 0.0, 0.0), 0.0, 0.0)
    if not len(places_mm):
        return Camera(turn, tip, 1.0, (0.0, 0.0, 0.0), width, height)
    turned = places_mm @ unit.axes.T
    low, high = turned.min(axis=0), turned.max(axis=0)
    span = np.maximum(high - low, 1e-6)
    room = np.array((max(width - 2 * margin, 1.0), max(height - 2 * margin, 1.0)))
    scale = float((room / span[:2]).min())
    x, y, z = ((low + high) / 2 @ unit.axes).tolist()
    return Camera(turn, tip, min(scale, 50.0), (x, y, z), width, height)
