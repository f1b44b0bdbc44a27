"""What the window and the process that works for the page Finish say to each other: plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from bedview.finish.body_curves import What
from bedview.finish.told import Told
from bedview.picture.look import Palette
from bedview.ui.finish.turning import Turning

if TYPE_CHECKING:
    from bedview.form.colouring import ColourBy

# -- questions --------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Marks:
    """Loops to point out.

    Attributes:
        loops: of the first edge of a step, or where the step is; in the colour of hands.
        other_loops: of its second edge, in the colour of the carriage.
        pressed: loops that were pressed.
        wale, course: loops of the wale and of the course through the one that was pressed.
    """

    loops: tuple[int, ...] = ()
    other_loops: tuple[int, ...] = ()
    pressed: tuple[int, ...] = ()
    wale: tuple[int, ...] = ()
    course: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class PictureWanted:
    """A picture of the shape is asked for.

    Attributes:
        position: which of the shapes, or between which two; 0 is flat.
        turning: where it is looked at from.
        width, height: of the picture, in pixels of the window.
        ratio: pixels of the screen to one of the window.
        colour_by: what colours mean.
        marks: what to point out.
        with_way: whether the way measured last is drawn.
        palette: the look.
        moving: whether it is being turned, so that it may be rough.
        with_body: whether the body it is made for is drawn in it, where it is made up.
    """

    position: float
    turning: Turning
    width: int
    height: int
    ratio: float
    colour_by: ColourBy
    marks: Marks
    with_way: bool
    palette: Palette
    moving: bool
    with_body: bool = False


@dataclass(frozen=True, slots=True)
class LoopWanted:
    """Which loop is seen at a point of the picture that was sent last?

    Attributes:
        x, y: the point, in pixels of the window.
        passing: whether the pointer only passes over it.
    """

    x: float
    y: float
    passing: bool = False


@dataclass(frozen=True, slots=True)
class WayWanted:
    """How long is the shortest way along one of the shapes, between two loops?

    Attributes:
        number: tells this question from others.
        frame: which shape.
        start, end: the loops.
    """

    number: int
    frame: int
    start: int
    end: int


Question = PictureWanted | LoopWanted | WayWanted

# -- answers ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the shape has come, 0 to 1."""

    done: float


@dataclass(frozen=True, slots=True)
class Shaped:
    """The shape is there.

    Attributes:
        frames: how many shapes there are from flat to made up; one where there are no seams, none without
            fabric.
        notes: what the model leaves out, and what had to be assumed, a sentence each.
        body: of what an outline can be drawn in it; None if it is not known for whom it is.
        compared: how the piece compares with that body, in one line.
    """

    frames: int
    notes: tuple[str, ...]
    body: What | None = None
    compared: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture of the shape.

    Attributes:
        width, height: in pixels of the screen.
        ratio: pixels of the screen to one of the window.
        pixels: row by row, each of blue, green, red and alpha, colours times alpha.
        figures: lengths in millimetres to be written into it, with their places in pixels of the window.
    """

    width: int
    height: int
    ratio: float
    pixels: bytes
    figures: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class LoopFound:
    """The answer to a :class:`LoopWanted`; None beside the shape."""

    loop: int | None
    passing: bool = False


@dataclass(frozen=True, slots=True)
class WayFound:
    """The answer to a :class:`WayWanted`; None where no way leads there."""

    number: int
    length_mm: float | None


@dataclass(frozen=True, slots=True)
class Failed:
    """Something kept it from being worked out, in one sentence."""

    why: str


Answer = Told | Progress | Shaped | Picture | LoopFound | WayFound | Failed
