"""Pieces whose shape is known, written action by action."""

from __future__ import annotations

from typing import Any

from bedview.bed.needles import needle_name
from bedview.plan.piece import Piece

Item = dict[str, Any]
Document = dict[str, Any]
Gauge = tuple[float, float] | None
"""Stitches and rows to 10 cm; None: no swatch."""
TWENTY_BY_THIRTY: Gauge = (20, 30)


class Writer:
    """Writes a piece on ``stitches`` needles about the middle of the bed.

    Needles are named by their place in the fabric, 0 to ``stitches`` - 1 from the left.
    """

    def __init__(self, stitches: int, *, gauge: Gauge = TWENTY_BY_THIRTY) -> None:
        self.stitches = stitches
        self.bed = 2 * ((stitches + 3) // 2)
        self.first = (self.bed - stitches) // 2
        self.gauge = gauge
        self.items: list[Item] = []
        self.seams: list[Item] = []
        self.passes = 0
        self.carriage = "right"
        every = self.names(0, stitches)
        self.do("thread", yarn="main")
        self.do("cast_on", needles=every)
        self.do("hold_cams", on=True)

    def do(self, what: str, **words: object) -> None:
        self.items.append({"do": what, **words})

    def name(self, place: int) -> str:
        return needle_name(self.first + place, self.bed)

    def names(self, start: int, stop: int) -> str:
        """Needles from ``start`` up to ``stop`` - 1."""
        if stop - start == 1:
            return self.name(start)
        return f"{self.name(start)}-{self.name(stop - 1)}"

    def knit(self, rows: int = 1) -> None:
        self.do("knit", rows=rows)
        self.passes += rows
        if rows % 2:
            self.carriage = "left" if self.carriage == "right" else "right"

    def hold(self, start: int, stop: int) -> None:
        if stop > start:
            self.do("place", needles=self.names(start, stop), position="hold")

    def back(self, start: int, stop: int) -> None:
        if stop > start:
            self.do("place", needles=self.names(start, stop), position="upper")

    def wedge(self, steps: list[int]) -> None:
        """A wedge with the carriage on the right: ``steps`` needles more held at the left, each for two rows.

        The last needle of a step is held on the carriage's side, so that the pass wraps it. Then all knit two
        rows.
        """
        held = 0
        for step in steps:
            self.hold(held, held + step - 1)
            self.knit()
            self.hold(held + step - 1, held + step)
            self.knit()
            held += step
        self.back(0, held)
        self.knit(2)

    def graft_ends(self) -> None:
        """Join the last course to the cast-on."""
        every = self.names(0, self.stitches)
        self.seams.append({"kind": "graft", "a": {"made_in_pass": 0, "needles": every}, "b": {"open": every}})

    def join_sides(self, first: int, last: int, *, inside: int = 0, kind: str = "mattress") -> None:
        self.seams.append(
            {
                "kind": kind,
                "a": {"side": "left", "passes": [first, last]},
                "b": {"side": "right", "passes": [first, last]},
                "stitches_in": inside,
            }
        )

    def document(self) -> Document:
        document: Document = {
            "format": 1,
            "bed": {"needles": self.bed, "pitch_mm": 5, "carriage": "right"},
            "yarns": [{"id": "main", "role": "fabric"}, {"id": "scrap", "role": "waste"}],
            "segments": [{"kind": "actions", "title": "all of it", "actions": self.items}],
            "seams": self.seams,
        }
        if self.gauge is not None:
            stitches, rows = self.gauge
            document["gauges"] = [
                {"yarn": "main", "tension": 6, "stitches": stitches, "rows": rows, "over_mm": 100}
            ]
        return document

    def piece(self) -> Piece:
        return Piece.read(self.document())


def rectangle(stitches: int, rows: int, *, gauge: Gauge = TWENTY_BY_THIRTY) -> Piece:
    """A flat piece."""
    writer = Writer(stitches, gauge=gauge)
    writer.knit(rows)
    return writer.piece()


def tube(stitches: int, rows: int, *, inside: int = 0, gauge: Gauge = TWENTY_BY_THIRTY) -> Piece:
    """A flat piece whose sides are joined."""
    writer = Writer(stitches, gauge=gauge)
    writer.knit(rows)
    writer.join_sides(1, rows, inside=inside)
    return writer.piece()


def wedges(stitches: int, count: int, each: list[int], *, gauge: Gauge = TWENTY_BY_THIRTY) -> Piece:
    """Like wedges one after the other, the last course grafted to the cast-on."""
    writer = Writer(stitches, gauge=gauge)
    for _ in range(count):
        writer.wedge(each)
    writer.graft_ends()
    return writer.piece()


def heel_cup(stitches: int, down_to: int, rows: int, *, gauge: Gauge = TWENTY_BY_THIRTY) -> Piece:
    """Rows, a short-row heel over all needles, rows; then the sides are joined.

    Holds one needle each row on the carriage's side, and brings one back each row on the far side with a hand
    wrap on the next one.
    """
    writer = Writer(stitches, gauge=gauge)
    writer.knit(rows)
    left, right = 0, stitches
    while right - left > down_to:
        if writer.carriage == "right":
            right -= 1
            writer.hold(right, right + 1)
        else:
            left += 1
            writer.hold(left - 1, left)
        writer.knit()
    while right - left < stitches:
        if writer.carriage == "right":
            left -= 1
            writer.back(left, left + 1)
            writer.knit()
            if left > 0:
                writer.do("wrap", needle=writer.name(left - 1))
        else:
            right += 1
            writer.back(right - 1, right)
            writer.knit()
            if right < stitches:
                writer.do("wrap", needle=writer.name(right))
    writer.knit(rows)
    writer.join_sides(1, writer.passes)
    return writer.piece()
