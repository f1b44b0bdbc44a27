"""What of a bed has to be painted again: a tap moves one needle, and the rest of the picture stays."""

from __future__ import annotations

import numpy as np

from bedview.picture.bed_scene import BedScene


def moved_needles(before: BedScene, after: BedScene) -> tuple[int, ...] | None:
    """The needles that moved, where that is all that changed between two scenes.

    Args:
        before: what was painted.
        after: what is to be painted, laid out alike.

    Returns:
        Their indices, ascending; None where anything else may look different.
    """
    if before.touches or after.touches or before.coming is not None or after.coming is not None:
        return None
    if _besides_needles(before) != _besides_needles(after):
        return None
    stayed = (
        (before.loops, after.loops),
        (before.wraps, after.wraps),
        (before.loop_yarn, after.loop_yarn),
        (before.wrap_yarn, after.wrap_yarn),
        (before.fabric.loops, after.fabric.loops),
    )
    if not all(np.array_equal(one, other) for one, other in stayed):
        return None
    return tuple(np.flatnonzero(before.positions != after.positions).tolist())


def _besides_needles(scene: BedScene) -> tuple[object, ...]:
    """All plain values of a scene."""
    return (
        scene.needles,
        scene.yarns,
        scene.carriage,
        scene.hold_cams,
        scene.dial,
        scene.feeder,
        scene.tip,
        scene.tip_is_wrap,
        scene.row,
        scene.passes,
        scene.used,
        scene.view,
    )
