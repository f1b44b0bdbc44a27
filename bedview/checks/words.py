"""What findings say: what will happen, where, and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bedview.bed.needles import format_needles

_MESSAGES: Final = {
    "unsecured-stitches": "{needles} drop off the bed with nothing to hold them, and will run. "
    "Thread waste yarn and knit some rows on them first, or thread the yarn before this pass.",
    "carriage-side": "The carriage stands on the other side than this row begins from. "
    "Lift it across without knitting, or check for a missed row.",
    "held-knitted": "{needles} should be held, but the hold cams are off, so the carriage takes them along. "
    "Set the hold cams on before this pass.",
    "laid-in-run": "The yarn is only laid across {needles}: no stitches form there. "
    "Cast on, or hang stitches on these needles first.",
    "laid-in-waste": "The yarn is only laid across {needles}: hold it down until the next row has caught it.",
    "opening": "A gap shows between {left} and {right}. Wrap the nearest held needle before the row "
    "that knits past it.",
    "small-opening": "A small gap between {left} and {right}, as an everyday heel has it. "
    "A hand wrap at the turn closes it.",
    "latch-closes": "Pushed straight back, the latches of {needles} close and the stitches slide off. "
    "Bring them to upper working, or move the stitches with a transfer tool.",
    "group-wrapped": "The yarn lies across {needles} all at once and draws them together. "
    "Bring all but one to hold on the far side first, knit, then the last.",
    "stacked-wraps": "{needles} now bear more than four wraps and may not knit off cleanly. "
    "Help the latches over by hand, or wrap less.",
    "stacked-loops": "{needles} now bear more than three stitches and may not knit off cleanly. "
    "Help the latches over by hand.",
    "waste-caught": "Waste yarn lies round {needles} and is knitted into the piece. "
    "Keep the waste clear of held needles, or lift its wraps off before this row.",
    "nothing-knits": "Yarn is in the feeder, but no needle knits: the yarn hangs loose. "
    "Bring needles back to work, or take the yarn out first.",
    "waste-too-short": "{needles} drop off on fewer than four rows of waste, which may unravel into the "
    "piece. Knit at least four rows, better eight.",
    "stitches-left": "At the end, stitches of the piece still stand on {needles}. Scrap or bind them off.",
    "laid-in": "The empty needle {needles} takes up the yarn: an eyelet, or a new stitch at the edge.",
    "loops-put-out": "{needles} go out of work with their stitches on: they wait there and do not knit.",
    "cut-without-tail": "The yarn in the feeder is cut with no tail noted. Leave enough to weave in or to graft.",
}


def message(rule: str, needles: Sequence[int], bed_needles: int) -> str:
    """The words of a rule about some needles."""
    names = format_needles(needles, bed_needles)
    left, _, right = names.partition("-")
    return _MESSAGES[rule].format(needles=names.replace(",", ", "), left=left, right=right)


def long_float(needles: Sequence[int], bed_needles: int, span_mm: float) -> str:
    """The words about yarn that lies across many needles."""
    left, right = (format_needles([needle], bed_needles) for needle in needles)
    return (
        f"The yarn runs loose for {span_mm / 10:.1f} cm between {left} and {right} and will catch on fingers "
        "and toes. Twist it round a needle on the way, or cut it and begin again."
    )


def seam_mismatch(a: int, b: int) -> str:
    """The words about a graft that joins unequal counts."""
    return (
        f"A graft joins {a} loops to {b}: {abs(a - b)} have no partner. "
        "Change the number of stitches of one group, or ease the two with a mattress seam."
    )
