"""The making up as data and as text, as ``bedview finish`` prints it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bedview.bed.needles import format_needles
from bedview.finish.finish_plan import FinishPlan, finish_plan
from bedview.finish.fitting import does_not_fit
from bedview.finish.making_up import making_up
from bedview.finish.names import Names
from bedview.finish.seam_plan import SeamSide
from bedview.finish.sewing_order import Sewing
from bedview.finish.sewing_words import SewingWords
from bedview.finish.told import MakingStep, Told
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure


def tell(plan: FinishPlan) -> Told:
    """Put a plan into words."""
    names = Names(plan)
    words = SewingWords(plan, names)
    groups = ((names.opening(names.group(group)), words.group_line(group)) for group in plan.groups)
    return Told(tuple(groups), tuple(making_up(plan)), tuple(does_not_fit(plan)))


def finish_json(piece: Piece, procedure: Procedure) -> dict[str, Any]:
    """What ``bedview finish --json`` prints: one object.

    Args:
        piece: the piece.
        procedure: the piece compiled, to its end.

    Returns:
        ``groups`` of open loops in the order in which they came to be, ``seams`` in the order of the hands,
        ``tails``, ``steps``, and what ``does_not_fit``. Seams and groups are named by their index, seams by
        that in the piece; lengths are in millimetres, yarn in centimetres.
    """
    plan = finish_plan(piece, procedure)
    return {
        "title": piece.title,
        "groups": list(_groups(plan)),
        "seams": [_seam(plan, number, sewing) for number, sewing in enumerate(plan.sewing)],
        "tails": list(_tails(plan)),
        "steps": [_step(step) for step in making_up(plan)],
        "does_not_fit": [
            {
                "rule": each.rule,
                "severity": each.severity,
                "seam": each.seam,
                "group": each.group,
                "says": each.says,
                "way_out": each.way_out,
            }
            for each in does_not_fit(plan)
        ],
    }


def _groups(plan: FinishPlan) -> Iterator[dict[str, Any]]:
    bed = plan.piece.bed.needles
    for place, group in enumerate(plan.groups):
        yield {
            "group": place,
            "name": group.name,
            "on": group.where.value,
            "needles": format_needles(group.needles, bed),
            "loops": len(group.loops),
            "pass": group.passes,
            "waste_rows": group.waste_rows,
            "cord": group.cord,
            "in_side_seams": len(plan.in_seam(group)),
            "seams": [seam.place for seam in plan.grafts_of(place)],
            "left_over": len(plan.left_over(place)),
        }


def _seam(plan: FinishPlan, number: int, sewing: Sewing) -> dict[str, Any]:
    seam = sewing.seam
    return {
        "order": number,
        "seam": seam.place,
        "kind": seam.kind,
        "a": _side(plan, seam.a),
        "b": _side(plan, seam.b),
        "stitches_in": seam.stitches_in,
        "begins_at": "end" if sewing.backward else "start",
        "opens_at": seam.open_at,
        "length_mm": round(seam.length_mm, 1),
        "easing_percent": round(100 * seam.easing, 1),
        "yarn": plan.piece.yarns[seam.yarn].id,
        "sewing_cm": round(seam.sewing_cm, 1),
        "yarn_cm": round(seam.yarn_cm, 1),
        "tail": sewing.tail,
        "same_thread": sewing.goes_on,
    }


def _side(plan: FinishPlan, side: SeamSide) -> dict[str, Any]:
    return {
        "says": plan.procedure.words.edge(side.edge),
        "loops": len(side.loops),
        "length_mm": round(side.length_mm, 1),
        "left_open": side.left_open,
        "open_mm": round(side.open_mm, 1),
        "group": side.group,
    }


def _tails(plan: FinishPlan) -> Iterator[dict[str, Any]]:
    bed = plan.piece.bed.needles
    for number, end in enumerate(plan.ends):
        yield {
            "tail": number,
            "yarn": plan.piece.yarns[end.yarn].id,
            "end": "start" if end.is_start else "end",
            "needle": format_needles([end.needle], bed),
            "pass": end.passes,
            "cm": end.cm,
            "cut": end.cut,
            "sews": [sewing.seam.place for sewing in plan.sewing if sewing.tail == number],
        }


def _step(step: MakingStep) -> dict[str, Any]:
    return {
        "kind": step.kind.value,
        "title": step.title,
        "says": step.says,
        "details": list(step.details),
        "seam": step.seam,
        "groups": list(step.groups),
        "tails": list(step.ends),
    }


def finish_text(piece: Piece, procedure: Procedure) -> str:
    """The same for people, ready to print."""
    return "\n".join(_lines(finish_plan(piece, procedure)))


def _lines(plan: FinishPlan) -> Iterator[str]:
    _ = plan.procedure.words.gettext
    told = tell(plan)
    yield plan.piece.title or _("Untitled")
    if told.groups:
        yield ""
        yield _("Open loops")
        for name, line in told.groups:
            yield "  " + _("{name}: {what}").format(name=name, what=line)
    # What merely stays open is among the steps.
    wrong = [each for each in told.misfits if each.severity != "note"]
    if wrong:
        yield ""
        yield _("What does not fit")
        for each in wrong:
            yield f"  {each.says} {each.way_out}"
    yield ""
    yield _("Making up") if told.steps else _("Nothing to make up.")
    for number, step in enumerate(told.steps, 1):
        yield f"  {number}. {step.title}"
        yield f"     {step.says}"
        for line in step.details:
            yield f"     - {line}"
