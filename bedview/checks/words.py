"""What findings say: what will happen, where, and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from bedview.bed.needles import format_needles
from bedview.language import gettext as _


@dataclass(frozen=True, slots=True)
class Saying:
    """The words of one kind of finding.

    Attributes:
        happens: what will happen and where, with ``{needles}``, or ``{left}`` and ``{right}``.
        to_do: what to do about it.
        one: its short name.
        many: its short name when there are several of it, with ``{count}``.
    """

    happens: str
    to_do: str
    one: str
    many: str


SAYINGS: Final = {
    "unsecured-stitches": Saying(
        "Stitches drop off {needles} with nothing to hold them, and will run.",
        "Thread waste yarn and knit some rows on them first, or thread the yarn before this pass.",
        "Stitches fall off unsecured",
        "{count} passes drop stitches unsecured",
    ),
    "carriage-side": Saying(
        "The carriage stands on the other side than this row begins from.",
        "Lift it across without knitting, or look for a row that was missed.",
        "Carriage on the wrong side",
        "{count} rows begin with the carriage on the wrong side",
    ),
    "held-knitted": Saying(
        "The hold cams are off: the carriage takes {needles} along, though held.",
        "Set the hold cams on before this pass.",
        "Held needles knit",
        "{count} passes knit needles that should be held",
    ),
    "laid-in-run": Saying(
        "The yarn is only laid across {needles}: no stitches form there.",
        "Cast on, or hang stitches on these needles first.",
        "No stitches form",
        "{count} passes form no stitches on some needles",
    ),
    "laid-in-waste": Saying(
        "The yarn is only laid across {needles}.",
        "Hold it down until the next row has caught it.",
        "Yarn laid across empty needles",
        "{count} passes lay the yarn across empty needles",
    ),
    "opening": Saying(
        "A gap shows between {left} and {right}.",
        "Wrap the nearest held needle before the row that knits past it.",
        "A gap",
        "{count} gaps",
    ),
    "small-opening": Saying(
        "A small gap shows between {left} and {right}, as an everyday heel has it.",
        "A hand wrap at the turn closes it.",
        "A small gap",
        "{count} small gaps",
    ),
    "latch-closes": Saying(
        "Pushed straight back, the latch closes on {needles} and the stitch slides off.",
        "Bring the needle to upper working, or move the stitch with a transfer tool.",
        "Latches close",
        "{count} times latches close",
    ),
    "group-wrapped": Saying(
        "The yarn lies across {needles} all at once and draws them together.",
        "Bring all but one to hold on the far side first, knit, then the last.",
        "A group is wrapped at once",
        "{count} groups are wrapped at once",
    ),
    "long-float": Saying(
        "The yarn runs loose between {left} and {right} and will catch on fingers and toes.",
        "Twist it round a needle on the way, or cut it and begin again.",
        "A long float",
        "{count} long floats",
    ),
    "stacked-wraps": Saying(
        "More than four wraps lie on {needles} and may not knit off cleanly.",
        "Help the latches over by hand, or wrap less.",
        "Many wraps on a needle",
        "{count} times too many wraps on a needle",
    ),
    "stacked-loops": Saying(
        "More than three stitches lie on {needles} and may not knit off cleanly.",
        "Help the latches over by hand.",
        "Many stitches on a needle",
        "{count} times too many stitches on a needle",
    ),
    "waste-caught": Saying(
        "Waste yarn lies round {needles} and is knitted into the piece.",
        "Keep the waste clear of held needles, or lift its wraps off before this row.",
        "Waste is knitted in",
        "{count} rows knit waste in",
    ),
    "nothing-knits": Saying(
        "Yarn is in the feeder, but no needle knits: the yarn hangs loose.",
        "Bring needles back to work, or take the yarn out first.",
        "No needle knits",
        "{count} passes knit nothing",
    ),
    "waste-too-short": Saying(
        "Fewer than four rows of waste hold what drops off {needles}: it may unravel into the piece.",
        "Knit at least four rows, better eight.",
        "Too little waste",
        "{count} times too little waste",
    ),
    "seam-mismatch": Saying(
        "A graft joins unequal counts of loops.",
        "Change the number of stitches of one group, or ease the two with a mattress seam.",
        "A graft does not match",
        "{count} grafts do not match",
    ),
    "stitches-left": Saying(
        "At the end, stitches of the piece still stand on {needles}.",
        "Scrap them off or bind them off.",
        "Stitches left on the bed",
        "{count} groups of stitches left on the bed",
    ),
    "laid-in": Saying(
        "Yarn is laid into an empty hook: {needles}.",
        "This makes an eyelet, or a new stitch at the edge.",
        "A loop on an empty needle",
        "{count} loops on empty needles",
    ),
    "loops-put-out": Saying(
        "Stitches go out of work on {needles}.",
        "They wait there and do not knit; bring them to upper working when they are due.",
        "Stitches put out of work",
        "{count} times stitches are put out of work",
    ),
    "cut-without-tail": Saying(
        "The yarn in the feeder is cut with no tail noted.",
        "Leave enough to weave in or to graft.",
        "No tail noted",
        "{count} yarns cut without a tail noted",
    ),
}
"""Sayings by rule; rules that speak in two ways have two."""


def message(saying: str, needles: Sequence[int], bed_needles: int) -> str:
    """The whole words of a finding about some needles."""
    names = format_needles(needles, bed_needles)
    left, right = "", ""
    if needles:
        left, right = (format_needles([end], bed_needles) for end in (min(needles), max(needles)))
    words = SAYINGS[saying]
    happens = _(words.happens).format(needles=names.replace(",", ", "), left=left, right=right)
    return f"{happens} {_(words.to_do)}"


def seam_mismatch(a: int, b: int) -> str:
    """The words about a graft that joins unequal counts."""
    words = SAYINGS["seam-mismatch"]
    happens = _("A graft joins {a} loops to {b}: {apart} have no partner.")
    return f"{happens.format(a=a, b=b, apart=abs(a - b))} {_(words.to_do)}"
