"""How far along a row is: what comes next, and how many rows there are until the shape turns."""

from __future__ import annotations

from collections.abc import Iterator

from bedview.plan.procedure import Procedure
from bedview.plan.steps import Step


def then(procedure: Procedure, step: int) -> str:
    """The step after this one in few words: "L10 to hold, knit to the right"; empty after the last."""
    return procedure.steps[step + 1].brief if step + 1 < len(procedure.steps) else ""


def progress(procedure: Procedure, step: int) -> str:
    """How many rows there are still to knit until something changes.

    While a part grows narrower or wider, that is the row after which it turns: "10 more rows until 10 needles
    knit (L5 to R5)". Otherwise it is the end of the part: "12 more rows here". Empty after its last row.

    Args:
        procedure: the procedure.
        step: number of the present step.
    """
    words = procedure.words
    here = procedure.steps[step]
    now = len(_knit(procedure, here)) if here.makes_pass else None
    rows, trend, target = 0, 0, here
    for ahead in _rows_ahead(procedure, here):
        count = len(_knit(procedure, ahead))
        if not count:
            # A pass in which all drops, or nothing works, is not what the rows lead up to.
            break
        now = count if now is None else now
        turn = (count > now) - (count < now)
        if turn and trend and turn != trend:
            break
        trend, now = turn or trend, count
        rows, target = rows + 1, ahead
    if not rows:
        return ""
    needles = _knit(procedure, target)
    if not trend:
        return words.ngettext("{rows} more row here", "{rows} more rows here", rows).format(rows=rows)
    if rows == 1:
        text = words.ngettext(
            "1 more row until {count} needle knits ({needles})",
            "1 more row until {count} needles knit ({needles})",
            len(needles),
        )
    else:
        text = words.ngettext(
            "{rows} more rows until {count} needle knits ({needles})",
            "{rows} more rows until {count} needles knit ({needles})",
            len(needles),
        )
    return text.format(rows=rows, count=len(needles), needles=words.needles(needles))


def _rows_ahead(procedure: Procedure, here: Step) -> Iterator[Step]:
    """The rows of the same part after a step."""
    for ahead in procedure.steps[here.number + 1 :]:
        if ahead.span != here.span:
            return
        if ahead.makes_pass:
            yield ahead


def _knit(procedure: Procedure, step: Step) -> list[int]:
    """Needles that the step's pass knits."""
    found: list[int] = procedure.timeline.event_of(step.last_line).knit.tolist()
    return found
