"""Which tools lie beside a bed: only those that a lesson needs; all of them on the free bench."""

from __future__ import annotations

from enum import Enum
from typing import Final

from bedview.lessons.lesson import Lesson


class Tool(Enum):
    """A tool, by the actions of a lesson's file that it does."""

    PLACE = ("place",)
    THREAD = ("thread",)
    CUT = ("cut",)
    CAST_ON = ("cast_on",)
    HOLD_CAMS = ("hold_cams",)
    WRAP = ("wrap",)
    HANG = ("hang",)
    UNPICK = ("unpick",)
    PUSH = ("knit",)
    MORE = ("park", "resume", "transfer", "bind_off", "free_move", "tension", "counter")


ALL_TOOLS: Final = frozenset(Tool)

KEYS: Final = {
    Tool.THREAD: "T",
    Tool.CUT: "X",
    Tool.CAST_ON: "E",
    Tool.HOLD_CAMS: "H",
    Tool.WRAP: "W",
    Tool.HANG: "O",
    Tool.UNPICK: "U",
    Tool.PUSH: "K",
}
"""The key of each; positions have the numbers 0 to 3, from out of work to hold."""

_ABOUT_WRAPS: Final = ("wraps", "gap")


def tools_of(lesson: Lesson) -> frozenset[Tool]:
    """The tools that a lesson's right ways take in hand, and those of the usual wrong ones."""
    done = {item["do"] for solution in lesson.solutions for item in solution.actions}
    # Cams that are on from the beginning can be set off by mistake, and must be.
    done |= {item["do"] for item in lesson.start if item["do"] == "hold_cams"}
    # Where wraps and gaps are what it is about, one may wrap where no wrap is wanted.
    if any(goal.kind in _ABOUT_WRAPS for goal in lesson.goals):
        done.add("wrap")
    return frozenset(tool for tool in Tool if done.intersection(tool.value))
