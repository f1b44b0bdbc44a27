"""Actions as a lesson's file writes them, for tests to do what hands do."""

from typing import Any

Item = dict[str, Any]
CAMS_ON: Item = {"do": "hold_cams", "on": True}
CAMS_OFF: Item = {"do": "hold_cams", "on": False}
CUT: Item = {"do": "cut"}


def thread(yarn: str = "main") -> Item:
    return {"do": "thread", "yarn": yarn}


def cast_on(needles: str) -> Item:
    return {"do": "cast_on", "needles": needles}


def knit(rows: int = 1) -> Item:
    return {"do": "knit", "rows": rows}


def place(needles: str, position: str) -> Item:
    return {"do": "place", "needles": needles, "position": position}


def hold(needles: str) -> Item:
    return place(needles, "hold")


def wrap(needle: str) -> Item:
    return {"do": "wrap", "needle": needle}
