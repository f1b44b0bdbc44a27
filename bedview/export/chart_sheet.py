"""The chart as a picture of its own: title, parts, rows and what may go wrong, to hang up or send."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from bedview.checks.finding import Finding
from bedview.checks.of_piece import piece_findings
from bedview.language import filled
from bedview.language import gettext as _
from bedview.picture.chart import ChartMark, ChartScene, chart_of
from bedview.picture.chart_drawing import draw_chart
from bedview.picture.lines_of_text import shortened
from bedview.picture.look import LIGHT, Palette
from bedview.picture.marks import DisplayList, Layer, Mark, MeasureText, Text, cautious_width, moved
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure

WIDTH: Final = 1000.0
"""Of the picture, in pixels."""
_ROW: Final = 5.0
"""Pixels a row gets, as long as the picture does not become too high."""
_LOWEST: Final = 420.0
_HIGHEST: Final = 1700.0
_HEAD: Final = 64.0


def chart_scene(piece: Piece, procedure: Procedure) -> ChartScene:
    """The whole piece flat, with its findings."""
    spans = [(span.segment.called, span.start, span.stop - 1) for span in procedure.top_spans()]
    return chart_of(procedure.timeline, spans, marks=list(_marks(piece_findings(piece, procedure))))


def _marks(findings: Iterable[Finding]) -> Iterator[ChartMark]:
    for finding in findings:
        needles = finding.needles
        middle = (needles[0] + needles[-1]) / 2 if needles else None
        yield ChartMark(finding.pass_number, middle, str(finding.severity))


def chart_picture(
    piece: Piece, procedure: Procedure, palette: Palette = LIGHT, measure: MeasureText = cautious_width
) -> DisplayList:
    """The chart under its title.

    Args:
        piece: the piece.
        procedure: what becomes of it.
        palette: the look.
        measure: how wide a text is.
    """
    scene = chart_scene(piece, procedure)
    wanted = scene.passes * _ROW + 44
    chart = draw_chart(
        scene, WIDTH, max(_LOWEST, min(wanted, _HIGHEST), 30.0 * len(scene.parts)), palette, measure=measure
    )
    title = piece.title or procedure.words.gettext("A piece without a title")
    size = 26.0
    said = filled(
        _("{rows} rows, {needles} needles, {pitch:g} mm apart"),
        rows=scene.passes,
        needles=piece.bed.needles,
        pitch=piece.bed.pitch_mm,
    )
    words = procedure.words.gettext("a dot: a wrap; half a bar: waste; a quarter: ravel cord")
    head: tuple[Mark, ...] = (
        Text(4, 30, shortened(title, WIDTH - 8, size, measure, bold=True), size, palette.ink, bold=True),
        Text(4, 52, f"{said}; {words}", 15, palette.quiet_ink),
    )
    layers = (Layer("head", head), *(_lowered(layer) for layer in chart.layers))
    named = _("{name}: {what}").format(name=title, what=chart.title)
    return replace(chart, height=chart.height + _HEAD, layers=layers, title=named)


def _lowered(layer: Layer) -> Layer:
    return Layer(layer.name, tuple(moved(mark, 0, _HEAD) for mark in layer.marks))
