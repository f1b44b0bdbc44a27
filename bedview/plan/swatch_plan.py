"""A swatch to knit: how large, where the markers hang, and the piece that says so step by step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from bedview.bed.needles import format_needles, needle_name, parse_needles
from bedview.language import filled
from bedview.language import gettext as _
from bedview.plan.piece import FORMAT, BedPlan, Piece, Yarn

OUTSIDE_STITCHES: Final = 5
"""Stitches between marker and edge: edges curl and lie (common practice)."""
OUTSIDE_ROWS: Final = 10
"""Rows between marker and cast-on or bind-off (common practice)."""
TAIL_CM: Final = 20
_PARTS: Final = 7
"""Cast-on, rows, markers, rows, markers, rows, bind-off."""


class SwatchTooWide(ValueError):
    """More stitches than the bed has needles, in one sentence."""


@dataclass(frozen=True, slots=True)
class SwatchPlan:
    """A swatch with its markers.

    Attributes:
        marked_stitches: stitches between the two markers of a row.
        marked_rows: rows from one pair of markers to the other.
        outside_stitches: stitches outside each marker, beside the one it hangs on.
        outside_rows: rows below the first pair and above the second.
    """

    marked_stitches: int = 30
    marked_rows: int = 40
    outside_stitches: int = OUTSIDE_STITCHES
    outside_rows: int = OUTSIDE_ROWS

    @property
    def needles(self) -> int:
        """Needles the swatch is knitted on: each marker hangs on a stitch of its own."""
        return self.marked_stitches + 2 * (self.outside_stitches + 1)

    @property
    def rows(self) -> int:
        """Rows of the whole swatch."""
        return self.marked_rows + 2 * self.outside_rows

    def marker_needles(self, bed_needles: int) -> tuple[int, int]:
        """Indices of the needles whose stitches bear the markers, the swatch in the middle of the bed.

        Raises:
            SwatchTooWide: if it needs more needles than there are.
        """
        if self.needles > bed_needles:
            raise SwatchTooWide(
                _("the swatch needs {needles} needles; the bed has {bed_needles}").format(
                    needles=self.needles, bed_needles=bed_needles
                )
            )
        left = (bed_needles - self.needles) // 2 + self.outside_stitches
        return left, left + self.marked_stitches + 1


def swatch_piece(plan: SwatchPlan, bed: BedPlan, yarn: Yarn, tension: float) -> Piece:
    """The piece that knits a swatch: a cast-on, plain rows with markers hung twice, a bind-off.

    Raises:
        SwatchTooWide: if the bed has too few needles.
    """
    left, right = plan.marker_needles(bed.needles)
    first = left - plan.outside_stitches
    all_of_it = format_needles(range(first, first + plan.needles), bed.needles)
    markers = [needle_name(needle, bed.needles) for needle in (left, right)]
    hang = _hang_markers(markers, plan.marked_stitches)
    segments: list[dict[str, Any]] = [
        {"kind": "cast_on", "title": _("Cast on"), "needles": all_of_it, "yarn": yarn.id, "tension": tension},
        {"kind": "plain", "title": _("Below the markers"), "rows": plan.outside_rows},
        hang | {"title": _("First pair of markers")},
        {"kind": "plain", "title": _("Between the markers"), "rows": plan.marked_rows},
        hang | {"title": _("Second pair of markers")},
        {"kind": "plain", "title": _("Above the markers"), "rows": plan.outside_rows},
        {"kind": "bind_off", "title": _("Bind off loosely"), "tail_cm": TAIL_CM},
    ]
    return Piece.read(
        {
            "format": FORMAT,
            "title": filled(_("Swatch: {yarn} at tension {dial:g}"), yarn=yarn.name or yarn.id, dial=tension),
            "bed": bed.model_dump(exclude_unset=True),
            "yarns": [yarn.model_dump(exclude_unset=True)],
            "segments": segments,
        }
    )


def _hang_markers(markers: list[str], between: int) -> dict[str, Any]:
    words = _("Hang a marker on the stitch of {first} and of {last}: {between} stitches lie between").format(
        first=markers[0], last=markers[1], between=between
    )
    note = {"do": "note", "text": words, "needles": ",".join(markers)}
    return {"kind": "actions", "actions": [note]}


def plan_of(piece: Piece) -> SwatchPlan | None:
    """The swatch that a piece knits, so that its counts need not be typed again; None if it knits another.

    Titles and words may be others by now; needles and rows must be what :func:`swatch_piece` makes.
    """
    if not piece.yarns or len(piece.segments) != _PARTS:
        return None
    document = piece.to_document()["segments"]
    try:
        needles = len(parse_needles(document[0]["needles"], piece.bed.needles))
        below, marked_rows = document[1]["rows"], document[3]["rows"]
        plan = SwatchPlan(needles - 2 * (OUTSIDE_STITCHES + 1), marked_rows, outside_rows=below)
        made = swatch_piece(plan, piece.bed, piece.yarns[0], document[0]["tension"])
    except (KeyError, ValueError):
        return None
    return plan if _bare(made) == _bare(piece) else None


def _bare(piece: Piece) -> list[dict[str, Any]]:
    """The segments without titles and without the words of notes."""
    found = []
    for segment in piece.to_document()["segments"]:
        bare = {key: value for key, value in segment.items() if key not in ("title", "actions")}
        bare["needles_named"] = [action.get("needles") for action in segment.get("actions", ())]
        found.append(bare)
    return found
