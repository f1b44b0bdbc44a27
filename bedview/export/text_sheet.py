"""The row list as plain text: what to know first, then every row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bedview.export.briefing import Briefing, brief
from bedview.finish.telling import finish_text
from bedview.plan.instructions import plan_text
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.swatch import KnittedSwatch
from bedview.plan.words import Words


def sheet_text(piece: Piece, procedure: Procedure, swatches: Sequence[KnittedSwatch] = ()) -> str:
    """The instructions with yarns, gauge and cautions after their opening lines, then the making up.

    Args:
        piece: the piece.
        procedure: what becomes of it, to its end.
        swatches: swatches of its yarns, whose weight goes before the theory.
    """
    opening, _, rows = plan_text(procedure).partition("\n\n")
    known = "\n".join(_known(brief(piece, procedure, swatches=swatches), procedure.words))
    # The title is said already.
    made_up = finish_text(piece, procedure).partition("\n\n")[2]
    return "\n\n".join(part for part in (opening, known, rows.rstrip(), made_up) if part) + "\n"


def _known(briefing: Briefing, words: Words) -> Iterator[str]:
    for yarn in briefing.yarns:
        said = words.gettext("{name}: {what}").format(name=yarn.name, what=yarn.text)
        yield said if yarn.text else yarn.name
    yield from briefing.gauges
    for caution in briefing.cautions:
        title = f"{caution.title}. " if caution.title else ""
        yield words.gettext("{severity}: {what}").format(
            severity=words.gettext(str(caution.severity)), what=f"{title}{caution.text}"
        )
