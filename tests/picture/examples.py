"""Beds to draw, small enough to count by hand, or as large as they come."""

from dataclasses import replace

import numpy as np

from bedview.bed.actions import Action, CastOn, HoldCams, Knit, Place, Tension, Thread, YarnRole
from bedview.bed.needles import Bed, Position, Side
from bedview.bed.timeline import Timeline
from bedview.picture.bed_scene import BedScene, YarnSeen, empty_scene

YARNS = (YarnSeen("sea blue", "#3b6ea5"), YarnSeen("straw", "#c9a24a", YarnRole.WASTE))


def ran(needles: int, *actions: Action, carriage: Side = Side.RIGHT) -> Timeline:
    """A timeline of these actions, with a fabric yarn ``main`` and a waste yarn ``scrap``."""
    timeline = Timeline(
        Bed(needles, carriage=carriage), [("main", YarnRole.FABRIC), ("scrap", YarnRole.WASTE)]
    )
    for action in actions:
        timeline.append(action)
    return timeline


def one_held() -> Timeline:
    """Four needles, two rows, then the right one held for a row: its pass wraps it.

    The loops, by the rules: cast on 0 to 3 from left to right; row 1 makes 4 to 7 from right to left; row 2
    makes 8 to 11 from left to right; row 3 wraps needle 3 (12), then makes 13, 14, 15 on needles 2, 1, 0.
    """
    needles = (0, 1, 2, 3)
    return ran(
        4,
        Tension(6),
        Place(needles, Position.WORK),
        Thread("main"),
        CastOn(needles),
        Knit(2),
        HoldCams(True),
        Place((3,), Position.HOLD),
        Knit(1),
    )


def standing(
    letters: str, *, yarns: tuple[YarnSeen, ...] = YARNS, loops: str = "", wraps: str = ""
) -> BedScene:
    """A bed with positions by letter (o, w, u, h), and loops and wraps on each needle by digit."""
    scene = empty_scene(len(letters))
    counts = np.array([int(digit) for digit in loops or "0" * len(letters)], np.int32)
    wrapped = np.array([int(digit) for digit in wraps or "0" * len(letters)], np.int32)
    return replace(
        scene,
        positions=np.array(["owuh".index(letter) for letter in letters], np.uint8),
        loops=counts,
        wraps=wrapped,
        loop_yarn=np.where(counts > 0, 0, -1).astype(np.int32),
        wrap_yarn=np.where(wrapped > 0, 0, -1).astype(np.int32),
        yarns=yarns,
    )
