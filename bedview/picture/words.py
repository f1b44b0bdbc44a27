"""The bed in words, for those who do not see the picture."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from bedview.bed.needles import Position, needle_name, runs
from bedview.picture.bed_scene import PLAIN_LABELS, BedScene

_SAID = {
    Position.WORK: "working",
    Position.UPPER: "upper working",
    Position.HOLD: "hold",
}


def needles_in_words(indices: Iterable[int], needles: int) -> str:
    """Needles as one says them: ``L10 to R4, R7``; ``none`` for none."""
    parts = []
    for first, last in runs(indices):
        name = needle_name(first, needles)
        parts.append(name if first == last else f"{name} to {needle_name(last, needles)}")
    return ", ".join(parts) or "none"


def bed_in_words(scene: BedScene) -> str:
    """Positions from the left, wraps, carriage, yarn and row, in one line."""
    parts = [*_stretches(scene), *_wraps(scene)]
    if not parts:
        parts = ["all needles out of work"]
    parts.append(f"carriage on the {scene.carriage}")
    parts.append("hold cams on" if scene.hold_cams else "hold cams off")
    parts.append(
        f"{scene.yarns[scene.feeder].name} in the feeder" if scene.feeder >= 0 else "no yarn in the feeder"
    )
    parts.append(f"row {scene.row}")
    return ", ".join(parts)


def _stretches(scene: BedScene) -> list[str]:
    """Stretches of needles that are not out of work, from the left."""
    said = []
    for first, last in _equal_stretches(scene.positions.tolist()):
        position = Position(int(scene.positions[first]))
        if position is not Position.OUT:
            needles = needles_in_words(range(first, last + 1), scene.needles)
            said.append(f"{needles} {_name_of(scene, position)}")
    return said


def _equal_stretches(values: Sequence[int]) -> list[tuple[int, int]]:
    """First and last index of every stretch of equal values."""
    edges = [place for place in range(1, len(values)) if values[place] != values[place - 1]]
    return list(zip([0, *edges], [edge - 1 for edge in [*edges, len(values)]], strict=True))


def _wraps(scene: BedScene) -> list[str]:
    wrapped = np.flatnonzero(scene.wraps).tolist()
    return [f"wraps on {needles_in_words(wrapped, scene.needles)}"] if wrapped else []


def _name_of(scene: BedScene, position: Position) -> str:
    """What a position is called: as the machine at hand calls it, or else the trade's word."""
    label = scene.view.labels[position]
    return label if label != PLAIN_LABELS[position] else _SAID.get(position, "out of work")


def needle_in_words(scene: BedScene, needle: int) -> str:
    """One needle: its name, where it stands and what it bears."""
    position = Position(int(scene.positions[needle]))
    parts = [needle_name(needle, scene.needles), _name_of(scene, position)]
    loops, wraps = int(scene.loops[needle]), int(scene.wraps[needle])
    parts.append({0: "no loop", 1: "one loop"}.get(loops, f"{loops} loops"))
    if wraps:
        parts.append("one wrap" if wraps == 1 else f"{wraps} wraps")
    if needle == scene.tip:
        parts.append("the yarn leaves from here")
    if needle in scene.touched():
        parts.append("to be touched now")
    return ", ".join(parts)
