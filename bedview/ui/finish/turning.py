"""How the shape is looked at: turned, tipped, drawn nearer, and fitted into its picture."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from bedview.form.camera import VIEWS, Camera
from bedview.form.stitch_sizes import Floats

if TYPE_CHECKING:
    from bedview.form.shape import Shape

MARGIN: Final = 26.0
CLOSEST: Final = 12.0
FURTHEST: Final = 0.4
"""How many times nearer or further than fitted one may look."""


@dataclass(frozen=True, slots=True)
class Turning:
    """Where the piece is looked at from.

    Attributes:
        turn: degrees about the upright axis.
        tip: degrees the top comes forward; -90 to 90.
        near: how many times larger than fitted.
        shift: how far the picture is moved, to the right and down, in pixels.
        fitted_at: turn and tip for which the shape was fitted in; turning by hand keeps its size.
    """

    turn: float
    tip: float
    near: float = 1.0
    shift: tuple[float, float] = (0.0, 0.0)
    fitted_at: tuple[float, float] = (0.0, 0.0)

    @classmethod
    def from_view(cls, view: str) -> Turning:
        """A named view; see :data:`bedview.form.camera.VIEWS`.

        Raises:
            KeyError: if there is no such view.
        """
        turn, tip = VIEWS[view]
        return cls(turn, tip, fitted_at=(turn, tip))

    def turned(self, turn: float, tip: float) -> Turning:
        """Turned on by so many degrees."""
        return replace(
            self, turn=(self.turn + turn + 180) % 360 - 180, tip=float(np.clip(self.tip + tip, -90, 90))
        )

    def nearer(self, times: float) -> Turning:
        """Drawn nearer, or further away."""
        return replace(self, near=float(np.clip(self.near * times, FURTHEST, CLOSEST)))

    def moved(self, right: float, down: float) -> Turning:
        """Moved across the picture."""
        return replace(self, shift=(self.shift[0] + right, self.shift[1] + down))

    def camera(
        self,
        shapes: tuple[Shape, ...],
        shown: Shape,
        width: float,
        height: float,
        around_mm: Floats | None = None,
    ) -> Camera:
        """The camera for a shape, one of several that are to fit into the picture all.

        Args:
            shapes: from flat to made up.
            shown: the one that is looked at.
            width: of the picture.
            height: likewise.
            around_mm: other places that are to fit in with the one looked at, shape (k, 3).
        """
        beside = np.empty((0, 3)) if around_mm is None else around_mm
        fitted = min(
            _fit(shape, turn, tip, width, height, beside)
            for shape in (shapes[0], shapes[-1])
            # Turned by hand it keeps its size, unless it would not fit any more.
            for turn, tip in (self.fitted_at, (self.turn, self.tip))
        )
        scale = self.near * fitted
        aside = Camera(self.turn, self.tip, scale, (0.0, 0.0, 0.0), width, height)
        low, high = _box(shown, self.turn, self.tip, beside)
        middle = (low + high) / 2 - np.array((self.shift[0], -self.shift[1], 0.0)) / scale
        x, y, z = (middle @ aside.axes).tolist()
        return replace(aside, middle_mm=(x, y, z))


def _fit(shape: Shape, turn: float, tip: float, width: float, height: float, beside: Floats) -> float:
    """Pixels a millimetre at which a shape and some places beside it just fit."""
    low, high = _box(shape, turn, tip, beside)
    span = np.maximum((high - low)[:2], 1e-6)
    room = np.array((max(width - 2 * MARGIN, 20.0), max(height - 2 * MARGIN, 20.0)))
    return float(min((room / span).min(), 50.0))


def _box(shape: Shape, turn: float, tip: float, beside: Floats) -> tuple[Floats, Floats]:
    """Lowest and highest places of a shape to the right, up and towards the viewer."""
    places = np.concatenate((shape.surface.places_mm, beside))
    if not len(places):
        return np.zeros(3), np.zeros(3)
    # A row for each direction: numpy looks through long rows many times faster than through short ones.
    turned = Camera(turn, tip, 1.0, (0.0, 0.0, 0.0), 0.0, 0.0).axes @ np.ascontiguousarray(places.T)
    return turned.min(axis=1), turned.max(axis=1)
