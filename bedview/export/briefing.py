"""What stands at the head of every sheet: the machine, the yarns, the gauge, and what to mind."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from bedview.bed.needles import Side
from bedview.checks.finding import Finding, Severity
from bedview.checks.folding import Folded, fold
from bedview.checks.of_piece import piece_findings
from bedview.language import filled
from bedview.picture.bed_scene import YarnSeen, default_yarns
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.swatch import KnittedSwatch
from bedview.plan.words import Words
from bedview.plan.yarn import YarnNeed, yarn_needs


@dataclass(frozen=True, slots=True)
class YarnLine:
    """A yarn as a sheet names it.

    Attributes:
        name: for people.
        look: its colour and role.
        text: how thick it is and how much of it to have at hand; may be empty.
    """

    name: str
    look: YarnSeen
    text: str


@dataclass(frozen=True, slots=True)
class Caution:
    """Something to mind.

    Attributes:
        severity: how bad it is.
        title: what and where.
        text: what will happen and what to do.
        step: number of the step it belongs to; None for the piece as a whole.
    """

    severity: Severity
    title: str
    text: str
    step: int | None


@dataclass(frozen=True, slots=True)
class Briefing:
    """What to know before the yarn is threaded.

    Attributes:
        title: of the piece.
        facts: the machine, and what the piece takes of it, a sentence each.
        yarns: the yarns that are knitted, in the order of the piece.
        gauges: a line each.
        cautions: the worst first; notes too.
    """

    title: str
    facts: tuple[str, ...]
    yarns: tuple[YarnLine, ...]
    gauges: tuple[str, ...]
    cautions: tuple[Caution, ...]


def brief(
    piece: Piece,
    procedure: Procedure,
    *,
    swatches: Sequence[KnittedSwatch] = (),
    leaving_out: Collection[str] = (),
) -> Briefing:
    """The briefing of a piece that can be done to its end.

    Args:
        piece: the piece.
        procedure: what becomes of it.
        swatches: swatches of its yarns, whose weight goes before the theory.
        leaving_out: rules whose findings are no fault here.
    """
    words = procedure.words
    needs = yarn_needs(piece, procedure, swatches)
    told = [folded for folded in _folded(piece, procedure) if folded.first.rule not in leaving_out]
    cautions = [_of_finding(folded, procedure) for folded in told]
    for need in needs:
        cautions += [Caution(Severity(each.severity), "", each.says(), None) for each in need.cautions]
    # Two yarns may deserve the same word; it is said once.
    cautions = list(dict.fromkeys(cautions))
    cautions.sort(key=lambda each: list(Severity).index(each.severity))
    return Briefing(
        title=piece.title or words.gettext("A piece without a title"),
        facts=tuple(_facts(piece, procedure)),
        yarns=tuple(_yarns(piece, needs, words)),
        gauges=tuple(_gauges(piece, words)),
        cautions=tuple(cautions),
    )


def seen_yarns(piece: Piece) -> tuple[YarnSeen, ...]:
    """The piece's yarns as they look, with colours of our own where it names none."""
    plain = default_yarns(tuple(role for _, role in piece.yarn_roles()))
    return tuple(
        YarnSeen(yarn.name or yarn.id, yarn.colour or look.colour, look.role)
        for yarn, look in zip(piece.yarns, plain, strict=True)
    )


# -- the machine and its yarns ----------------------------------------------------------------------------


def _facts(piece: Piece, procedure: Procedure) -> Iterator[str]:
    words, timeline = procedure.words, procedure.timeline
    yield filled(
        words.gettext("A bed of {needles} needles, {pitch:g} mm apart; the carriage begins on {side}."),
        needles=piece.bed.needles,
        pitch=piece.bed.pitch_mm,
        side=words.side(Side(piece.bed.carriage)),
    )
    made = timeline.fabric.needle
    if len(made):
        ends = words.needles([int(made.min())]), words.needles([int(made.max())])
        yield words.gettext("Needles {first} to {last}; {rows} rows in {parts} parts.").format(
            first=ends[0], last=ends[1], rows=timeline.passes, parts=len(procedure.top_spans())
        )


def _yarns(piece: Piece, needs: list[YarnNeed], words: Words) -> Iterator[YarnLine]:
    _ = words.gettext
    roles = {"fabric": "", "waste": _("waste"), "ravel": _("ravel cord")}
    for yarn, look, need in zip(piece.yarns, seen_yarns(piece), needs, strict=True):
        if not need.stitches + need.cast_on + need.bound + need.wraps:
            continue
        parts = [roles[yarn.role], filled(_("{tex:g} tex"), tex=yarn.tex) if yarn.tex else ""]
        if need.advised_grams is not None and need.advised_metres > 0:
            text = _("have {grams:.0f} g or {metres:.0f} m at hand")
            parts.append(text.format(grams=need.advised_grams, metres=need.advised_metres))
        elif need.advised_metres > 0:
            parts.append(_("have {metres:.0f} m at hand").format(metres=need.advised_metres))
        yield YarnLine(look.name, look, ", ".join(part for part in parts if part))


def _gauges(piece: Piece, words: Words) -> Iterator[str]:
    names = {yarn.id: yarn.name or yarn.id for yarn in piece.yarns}
    for gauge in piece.gauges:
        yield filled(
            words.gettext("{yarn} at dial {dial:g}: {stitches:g} stitches and {rows:g} rows over {cm:g} cm"),
            yarn=names[gauge.yarn],
            dial=gauge.tension,
            stitches=gauge.stitches,
            rows=gauge.rows,
            cm=gauge.over_mm / 10,
        )


# -- what to mind -----------------------------------------------------------------------------------------


def _folded(piece: Piece, procedure: Procedure) -> list[Folded]:
    tops = procedure.top_spans()

    def part(action: int) -> int:
        return next((place for place, span in enumerate(tops) if span.start <= action < span.stop), -1)

    return fold(piece_findings(piece, procedure), part, piece.bed.needles)


def _of_finding(folded: Folded, procedure: Procedure) -> Caution:
    return Caution(folded.severity, folded.title, folded.text, _step_of(folded.first, procedure))


def _step_of(finding: Finding, procedure: Procedure) -> int | None:
    """The step that does it."""
    if finding.action is None:
        return None
    for step in procedure.steps:
        if finding.action in step.actions and (not step.makes_pass or step.passes >= finding.pass_number):
            return step.number
    return None
