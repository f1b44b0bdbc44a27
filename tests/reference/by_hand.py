"""Procedures everybody knits, action by action: a heel in three ways and a shoulder slope in three."""

from tests.reference.needles import needle_name
from tests.reference.steps import Action, Piece


class Sheet:
    """A list of actions being written for a bed all in work, the carriage on the right at first."""

    def __init__(self, needles: int) -> None:
        self.needles = needles
        self.carriage = "right"
        self.actions: list[Action] = [
            {"do": "thread", "yarn": "main"},
            {"do": "hold_cams", "on": True},
            {"do": "cast_on", "needles": f"L{needles // 2}-R{needles // 2}"},
        ]

    def knit(self, rows: int) -> None:
        """So many rows."""
        self.actions.append({"do": "knit", "rows": rows})
        if rows % 2:
            self.carriage = self.far_side

    def place(self, needle: int, position: str) -> None:
        """Move one needle, given from the left and from 0."""
        self.actions.append(
            {"do": "place", "needles": needle_name(needle, self.needles), "position": position}
        )

    def wrap(self, needle: int) -> None:
        """A hand wrap."""
        self.actions.append({"do": "wrap", "needle": needle_name(needle, self.needles)})

    @property
    def far_side(self) -> str:
        """The side the carriage is not on."""
        return "left" if self.carriage == "right" else "right"

    def piece(self) -> Piece:
        """The sheet as a piece."""
        return {
            "format": 1,
            "bed": {"needles": self.needles, "pitch_mm": 4.5, "carriage": "right"},
            "yarns": [{"id": "main", "role": "fabric"}],
            "segments": [{"kind": "actions", "actions": self.actions}],
        }


def heel(needles: int, fewest: int, hold_on: str, hand_wraps: bool) -> Piece:
    """A heel between plain rows: one needle to hold each row, then back one each row on the far side.

    Args:
        needles: how many needles are worked (even), all of the bed.
        fewest: how many still knit at the turn.
        hold_on: ``carriage`` or ``far``, the side where the needle is held before each row.
        hand_wraps: whether the first held needle at the carriage's side is wrapped before each returning row.
    """
    sheet = Sheet(needles)
    first, last = 0, needles - 1
    sheet.knit(4)
    while last - first + 1 > fewest:
        side = sheet.carriage if hold_on == "carriage" else sheet.far_side
        if side == "left":
            sheet.place(first, "hold")
            first += 1
        else:
            sheet.place(last, "hold")
            last -= 1
        sheet.knit(1)
    while last - first + 1 < needles:
        if sheet.far_side == "left":
            first -= 1
            sheet.place(first, "upper")
            nearest_held = last + 1
        else:
            last += 1
            sheet.place(last, "upper")
            nearest_held = first - 1
        if hand_wraps and 0 <= nearest_held < needles:
            sheet.wrap(nearest_held)
        sheet.knit(1)
    sheet.knit(4)
    return sheet.piece()


def shoulder_slope(wraps: str) -> Piece:
    """24 needles, the right ones set aside four at a time, five times, with two rows after each.

    Args:
        wraps: ``none``; ``hand``, the nearest held needle before each second row; ``automatic``, three held
            on the far side, one row, one more held on what is then the carriage's side, and back.
    """
    sheet = Sheet(24)
    sheet.knit(4)
    sheet.knit(1)
    for held in range(0, 20, 4):
        group = range(20 - held, 24 - held)
        at_once = group[1:] if wraps == "automatic" else group
        for needle in at_once:
            sheet.place(needle, "hold")
        sheet.knit(1)
        if wraps == "hand":
            sheet.wrap(group[0])
        if wraps == "automatic":
            sheet.place(group[0], "hold")
        sheet.knit(1)
    for needle in range(4, 24):
        sheet.place(needle, "upper")
    sheet.knit(4)
    return sheet.piece()
