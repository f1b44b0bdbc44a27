"""What the things a starter is asked are called where people read them, in the language in use."""

from __future__ import annotations

from typing import Final

from bedview.language import gettext, marked

_NAMES: Final = {
    "size": marked("Size"),
    "foot_length": marked("Foot length"),
    "foot_girth": marked("Foot girth"),
    "heel_girth": marked("Heel girth"),
    "ease": marked("Ease in %"),
    "room": marked("Room for the toes"),
    "leg_length": marked("Leg length"),
    "hem": marked("Hem height"),
    "heel_depth": marked("Heel depth"),
    "toe_depth": marked("Toe depth"),
    "stitches": marked("Stitches to 10 cm"),
    "rows": marked("Rows to 10 cm"),
    "tension": marked("Tension"),
    "tex": marked("Weight of 1,000 m in g"),
    "needles": marked("Needles of the bed"),
    "pitch": marked("Pitch in mm"),
    "lining_ease": marked("Lining smaller by %"),
    "lining_stitches": marked("Lining: stitches to 10 cm"),
    "lining_rows": marked("Lining: rows to 10 cm"),
    "lining_tension": marked("Lining: tension"),
    "lining_tex": marked("Lining: weight of 1,000 m in g"),
    "head_girth": marked("Head girth"),
    "depth": marked("Depth"),
    "hand_girth": marked("Hand girth"),
    "hand_length": marked("Hand length"),
    "cuff_length": marked("Cuff length"),
    "thumb_height": marked("Wrist to thumb"),
    "thumb_length": marked("Thumb length"),
    "thumb_girth": marked("Thumb girth"),
    "tip_depth": marked("Tip depth"),
    "chest_girth": marked("Chest girth"),
    "body_length": marked("Body length"),
    "neck_width": marked("Neck width"),
    "neck_depth": marked("Neck depth"),
    "slope": marked("Shoulder slope"),
    "armhole": marked("Armhole depth"),
    "across": marked("Diameter"),
    "height": marked("Height"),
    "step": marked("Needles at a time"),
    "gores": marked("Gores"),
}


def name_of(key: str) -> str:
    """What a parameter is called; its key in plain letters if nobody named it."""
    name = _NAMES.get(key)
    return gettext(name) if name else key.replace("_", " ").capitalize()
