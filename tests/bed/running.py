"""Runs pieces written as plain dictionaries (segments of kind ``actions``) on the bed."""

from __future__ import annotations

from typing import Any

from bedview.bed.actions import YarnRole
from bedview.bed.needles import Bed, Side
from bedview.bed.timeline import Timeline
from bedview.plan.actions_file import to_action


def start(piece: dict[str, Any]) -> Timeline:
    """An empty timeline on the bed of a piece."""
    bed = piece["bed"]
    yarns = [(yarn["id"], YarnRole(yarn["role"])) for yarn in piece.get("yarns", [])]
    return Timeline(Bed(bed["needles"], bed["pitch_mm"], Side(bed.get("carriage", "right"))), yarns)


def run(piece: dict[str, Any]) -> Timeline:
    """The timeline of a piece.

    Raises:
        Refused: if the bed refuses an action.
    """
    timeline = start(piece)
    for segment in piece["segments"]:
        for item in segment["actions"]:
            timeline.append(to_action(item, piece["bed"]["needles"]))
    return timeline
