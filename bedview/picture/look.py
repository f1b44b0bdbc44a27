"""Light, dark and high contrast: the colours of every part of a picture, by the part they play.

Two accents only: one for hands, one for the carriage. Everything else is quiet. Text has a contrast of at
least 4.5 against what it stands on, a mark that carries meaning at least 3 (WCAG 2.2, 1.4.3 and 1.4.11).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from bedview.bed.yarn_role import YarnRole
from bedview.picture.colour import Colour, contrast, luminance, mix, readable

TEXT_CONTRAST: Final = 4.5
MARK_CONTRAST: Final = 3.0


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of one look.

    Attributes:
        name: ``light``, ``dark`` or ``contrast``.
        paper: what everything lies on.
        card: a panel on the paper.
        line: a thin line that parts things and means nothing by itself.
        ink: text and marks that matter.
        quiet_ink: text that can wait.
        plate: the bed's plate.
        rail: the track along its back on which the carriage rides.
        lip: the plate's front edge.
        groove: the slot of a needle.
        needle: needles in work and beyond.
        idle: needles out of work.
        hands: what hands do now.
        on_hands: text on ``hands``.
        carriage: what the carriage does now.
        on_carriage: text on ``carriage``.
        body: the carriage itself.
        on_body: text on it.
        body_field: the field for dial and yarn on it.
        warning: a finding that will show, or loses the piece.
        on_warning: text on ``warning``.
        note: a finding worth knowing.
        tints: colours for segments, by turns lighter and darker, so that neighbours differ in grey too.
    """

    name: str
    paper: Colour
    card: Colour
    line: Colour
    ink: Colour
    quiet_ink: Colour
    plate: Colour
    rail: Colour
    lip: Colour
    groove: Colour
    needle: Colour
    idle: Colour
    hands: Colour
    on_hands: Colour
    carriage: Colour
    on_carriage: Colour
    body: Colour
    on_body: Colour
    body_field: Colour
    warning: Colour
    on_warning: Colour
    note: Colour
    tints: tuple[Colour, ...]

    def tint(self, segment: int) -> Colour:
        """Colour of a segment by its place in the piece, from 0."""
        return self.tints[segment % len(self.tints)]

    def on(self, ground: Colour) -> Colour:
        """Ink for text on any opaque ground: this look's ink or paper, whichever is read more easily."""
        return max((self.ink, self.paper), key=lambda ink: contrast(ink, ground))


LIGHT: Final = Palette(
    name="light",
    paper="#f6f4ee",
    card="#ffffff",
    line="#d3cec2",
    ink="#1e2328",
    quiet_ink="#5d6269",
    plate="#e7e1d4",
    rail="#d9d1c0",
    lip="#c3b9a4",
    groove="#d2c9b7",
    needle="#343b43",
    idle="#7f7869",
    hands="#c03c0a",
    on_hands="#ffffff",
    carriage="#0b5f58",
    on_carriage="#ffffff",
    body="#1f2429",
    on_body="#f6f4ee",
    body_field="#3a4047",
    warning="#b3261e",
    on_warning="#ffffff",
    note="#6b6457",
    tints=("#738cb7", "#986029", "#4a9694", "#9f557a", "#719557", "#7a5fa9", "#a0892f", "#ac5151"),
)

DARK: Final = Palette(
    name="dark",
    paper="#14171b",
    card="#1d2126",
    line="#3a4047",
    ink="#f1efe8",
    quiet_ink="#a5aab1",
    plate="#23282e",
    rail="#2d333a",
    lip="#3b424a",
    groove="#30363e",
    needle="#d5d8db",
    idle="#8b9097",
    hands="#ff9a5c",
    on_hands="#14171b",
    carriage="#6fd3c6",
    on_carriage="#14171b",
    body="#efede6",
    on_body="#1c2025",
    body_field="#d3d0c7",
    warning="#ff8a7a",
    on_warning="#14171b",
    note="#a39d90",
    tints=("#8a9fc3", "#b67331", "#55aba9", "#b16e90", "#84a86b", "#8e78b6", "#b69d35", "#bb6d6d"),
)

CONTRAST: Final = Palette(
    name="contrast",
    paper="#000000",
    card="#000000",
    line="#ffffff",
    ink="#ffffff",
    quiet_ink="#ffffff",
    plate="#000000",
    rail="#1c1c1c",
    lip="#4a4a4a",
    groove="#3c3c3c",
    needle="#ffffff",
    idle="#9a9a9a",
    hands="#ffd400",
    on_hands="#000000",
    carriage="#3df2ff",
    on_carriage="#000000",
    body="#ffffff",
    on_body="#000000",
    body_field="#dcdcdc",
    warning="#ffd400",
    on_warning="#000000",
    note="#ffffff",
    tints=("#c1d0e9", "#f19436", "#92dcd9", "#d797b7", "#bad7a5", "#b59fdb", "#edcc48", "#e09797"),
)

PALETTES: Final = {palette.name: palette for palette in (LIGHT, DARK, CONTRAST)}


@dataclass(frozen=True, slots=True)
class Shades:
    """How a yarn is painted.

    Attributes:
        body: its own colour.
        light: of every other course, so that courses can be counted.
        deep: where it passes behind other loops.
        rim: the line round it that keeps it visible on the paper and against its own neighbours.
    """

    body: Colour
    light: Colour
    deep: Colour
    rim: Colour


@lru_cache(maxsize=256)
def yarn_shades(colour: Colour, palette: Palette) -> Shades:
    """Shades of a yarn of any colour, white on white and black on black included.

    The rim has a contrast of at least 2 against the body; where the body itself does not stand out from the
    paper by 3, the rim does.
    """
    dark = luminance(colour) < 0.18
    light = mix(colour, "#ffffff", 0.36 if dark else 0.34)
    if luminance(colour) > 0.6:
        light = mix(colour, "#000000", 0.10)
    deep = mix(colour, "#000000" if luminance(colour) > 0.02 else "#ffffff", 0.30)
    return Shades(colour, light, deep, _rim(colour, palette))


def _rim(body: Colour, palette: Palette) -> Colour:
    """The mildest rim that keeps a yarn of this colour visible: darker than the yarn, if that will do."""
    stands_out = contrast(body, palette.paper) >= MARK_CONTRAST
    for end in ("#000000", "#ffffff"):
        for step in range(4, 21):
            rim = mix(body, end, step / 20)
            if contrast(rim, body) >= 2 and (stands_out or contrast(rim, palette.paper) >= MARK_CONTRAST):
                return rim
    return readable(palette.ink, body, MARK_CONTRAST)


DEFAULT_YARNS: Final = {
    YarnRole.FABRIC: ("#3b6ea5", "#c2573f", "#6f8f4e", "#8a5a9c", "#c79a2e", "#4f8f97"),
    YarnRole.WASTE: ("#c9a24a", "#b58f5a"),
    YarnRole.RAVEL: ("#b0b4ba",),
}
"""Colours for yarns that name none, by role, in the order of the piece."""
