"""A strip to lay along the bed: every needle at the bed's own pitch, in bands to cut out and join."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from bedview.bed.needles import needle_name
from bedview.export.paper.pages import INK, MM, Page, Paper
from bedview.export.paper.ruler import TALL, ruler
from bedview.language import filled
from bedview.picture.marks import Anchor, Box, Floats, Lines, Mark, MeasureText, Pen, Shape, Text, polyline
from bedview.plan.words import Words

BAND_TALL: Final = 20.0 * MM
_GAP: Final = 8.0 * MM
_HEAD: Final = 12.0 * MM
OVERLAP: Final = 2
"""Needles that a band repeats of the one before, to be laid on one another."""
_MIDDLE: Final[Anchor] = "middle"
_FINE: Final = Pen(INK.ink, 0.2 * MM, "flat")
_HEAVY: Final = Pen(INK.ink, 0.45 * MM, "flat")
_CUT: Final = Pen(INK.quiet_ink, 0.2 * MM, "flat", (2 * MM, 1.2 * MM))


@dataclass(frozen=True, slots=True)
class Band:
    """A part of the strip.

    Attributes:
        number: of the band, from 0.
        first: its first needle.
        last: its last.
    """

    number: int
    first: int
    last: int


def bands(first: int, last: int, pitch_mm: float, room_mm: float) -> list[Band]:
    """The needles ``first`` to ``last`` in bands that fit into ``room_mm``, each overlapping the one before.

    A band takes half a pitch beyond its outermost needles.
    """
    fit = max(OVERLAP + 1, int(room_mm / pitch_mm + 1e-9))
    found: list[Band] = []
    start = first
    while True:
        end = min(last, start + fit - 1)
        found.append(Band(len(found), start, end))
        if end == last:
            return found
        start = end - OVERLAP + 1


def strip_pages(
    needles: int,
    used: tuple[int, int],
    pitch_mm: float,
    paper: Paper,
    words: Words,
    measure: MeasureText,
) -> list[Page]:
    """Pages, sideways, with the strip for the needles a piece uses.

    Args:
        needles: how many the bed has.
        used: the first and last that the piece uses.
        pitch_mm: of the bed.
        paper: its size.
        words: the language.
        measure: how wide a text is.
    """
    sheet = paper.sideways()
    left, top = sheet.margin_mm * MM, sheet.margin_mm * MM
    parts = bands(*used, pitch_mm, sheet.room / MM)
    a_page = int((sheet.height_of_text - _HEAD - TALL) // (BAND_TALL + _GAP))
    pages: list[Page] = []
    for start in range(0, len(parts), a_page):
        marks: list[Mark] = list(_head(left, top, pitch_mm, words))
        for place, band in enumerate(parts[start : start + a_page]):
            y = top + _HEAD + place * (BAND_TALL + _GAP)
            marks += _Drawer(needles, pitch_mm, measure, words).band(band, left, y)
        foot = top + sheet.height_of_text - TALL
        marks += ruler(
            left + 2 * MM, foot, words.gettext("Measure this: it must be 100 mm. If not, print at 100 %.")
        )
        pages.append(Page(sheet, tuple(marks)))
    return pages


def _head(x: float, y: float, pitch_mm: float, words: Words) -> Iterator[Mark]:
    text = filled(words.gettext("Needle strip, {pitch:g} mm from needle to needle"), pitch=pitch_mm)
    yield Text(x, y + 4 * MM, text, 4.6 * MM, INK.ink, bold=True)
    how = words.gettext(
        "Cut along the broken lines; the first {count} needles of a strip go on the last of the one before."
    ).format(count=OVERLAP)
    yield Text(x, y + 9 * MM, how, 3.2 * MM, INK.quiet_ink)


@dataclass(frozen=True, slots=True)
class _Drawer:
    needles: int
    pitch_mm: float
    measure: MeasureText
    words: Words

    def band(self, band: Band, x: float, y: float) -> Iterator[Mark]:
        """One band with its left edge half a pitch before its first needle."""
        pitch = self.pitch_mm * MM
        count = band.last - band.first + 1
        yield Box(x, y, count * pitch, BAND_TALL, 0, None, _CUT)
        if band.number:
            yield Box(x, y, OVERLAP * pitch, BAND_TALL, 0, f"{INK.idle}26")
        centres = {
            needle: x + (needle - band.first + 0.5) * pitch for needle in range(band.first, band.last + 1)
        }
        half = self.needles // 2
        fives = [needle for needle in centres if _outward(needle, half) % 5 == 0]
        others = [needle for needle in centres if needle not in set(fives)]
        yield Lines(_FINE, _ticks([centres[needle] for needle in others], y, 6 * MM))
        yield Lines(_HEAVY, _ticks([centres[needle] for needle in fives], y, 9 * MM))
        if band.first < half <= band.last:
            middle = centres[half] - pitch / 2
            size = 1.6 * MM
            wedge = polyline(
                (middle - size, y + BAND_TALL),
                (middle + size, y + BAND_TALL),
                (middle, y + BAND_TALL - 2 * size),
                closed=True,
            )
            yield Shape(wedge, INK.ink)
        yield from self._names(centres, fives, y)

    def _names(self, centres: dict[int, float], fives: list[int], y: float) -> Iterator[Mark]:
        """Every needle's name where there is room, else every fifth and the innermost."""
        size = 3.0 * MM
        widest = self.measure(needle_name(0, self.needles), size, False)
        every = widest + 0.8 * MM <= self.pitch_mm * MM
        half = self.needles // 2
        named = list(centres) if every else sorted({*fives, half - 1, half} & set(centres))
        for needle in named:
            name, bold = needle_name(needle, self.needles), needle in fives
            at, anchor = centres[needle], _MIDDLE
            if not every and needle in (half - 1, half):
                # The two innermost stand side by side; their names lean outwards.
                anchor = "end" if needle < half else "start"
                at += 0.6 * MM if needle < half else -0.6 * MM
            yield Text(at, y + 13.2 * MM, name, size, INK.ink, anchor, bold)


def _outward(needle: int, half: int) -> int:
    """The number in a needle's name."""
    return half - needle if needle < half else needle - half + 1


def _ticks(xs: list[float], y: float, tall: float) -> Floats:
    return np.array([[x, y, x, y + tall] for x in xs], np.float64).reshape(-1, 4)
