"""The commands other programs may rely on, each a few lines over the rooms below."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

import click

from bedview.bed.needles import needle_name
from bedview.checks.finding import Finding, Severity
from bedview.checks.of_piece import piece_findings, refuse_lost_edges
from bedview.cli.beginnings import start_command, starters_command
from bedview.cli.outputs import form_command, sheet_command
from bedview.cli.places import locate_command, progress_command, unpick_command
from bedview.cli.running import (
    DONE,
    ERROR_STANDS,
    UNUSABLE,
    Unusable,
    complain,
    each_file,
    load,
    load_piece,
)
from bedview.cli.speaking import json_too, many_files, one_file, print_json, to_file
from bedview.cli.teaching import lesson_command, lessons_command
from bedview.export.fabric_counts import fabric_counts
from bedview.export.trace import trace_lines
from bedview.finish.telling import finish_json, finish_text
from bedview.plan.instructions import instructions, plan_text
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.problems import PieceError
from bedview.plan.procedure import PlanError, compile_piece
from bedview.plan.yarn import yarn_needs
from bedview.store.demos import demo_paths
from bedview.store.piece_file import OutputError, read_piece, write_piece
from bedview.store.whole_file import reason


@click.group(help="Shape knitting on a hand-operated flat-bed machine: plan, rehearse, knit, finish.")
@click.version_option(package_name="bedview")
def app() -> None:
    """Hold the commands below."""


@app.command("open")
def open_() -> None:
    """Open the desktop app: bedview open [FILE] [--page plan|rehearse|knit|finish|learn]."""
    # `bedview open` never comes this far: see bedview.cli.main. It stands here to be listed.


@app.command()
def demos() -> None:
    """List the demos: name and title."""
    for name, path in demo_paths().items():
        print(f"{name}\t{read_piece(path).title}")


@app.command()
@many_files
def trace(files: tuple[str, ...]) -> int:
    """Print every line of each procedure as JSON."""
    return each_file(files, _trace_one)


def _trace_one(name: str) -> int:
    problem: PlanError | None = None
    try:
        procedure = compile_piece(load_piece(name))
    except PlanError as error:
        problem, procedure = error, error.procedure
    for line in trace_lines(procedure.timeline):
        print_json({"file": name, **line})
    if problem is None:
        return DONE
    sys.stdout.flush()
    complain(f"{name}: {problem.where}: {problem.message}")
    return UNUSABLE


@app.command()
@many_files
@json_too
def check(files: tuple[str, ...], as_json: bool) -> int:
    """Say what goes wrong in each piece, before it is threaded up."""
    return each_file(files, lambda name: _check_one(name, as_json))


def _check_one(name: str, as_json: bool) -> int:
    piece, procedure = load(name)
    try:
        refuse_lost_edges(piece, procedure)
    except PieceError as error:
        raise Unusable(f"{name}: {error.where}: {error.what}") from None
    findings = piece_findings(piece, procedure)
    for finding in findings:
        if as_json:
            print_json({"file": name, **_finding_json(finding, piece)})
        else:
            print(f"{name}: row {finding.pass_number}: {finding.severity}: {finding.message}")
    if not findings and not as_json:
        print(f"{name}: nothing to say; {procedure.timeline.passes} rows")
    return ERROR_STANDS if any(each.severity is Severity.ERROR for each in findings) else DONE


def _finding_json(finding: Finding, piece: Piece) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": str(finding.severity),
        "action": finding.action,
        "pass": finding.pass_number,
        "needles": [needle_name(needle, piece.bed.needles) for needle in finding.needles],
        "message": finding.message,
    }


@app.command()
@one_file
@json_too
def fabric(file: str, as_json: bool) -> None:
    """Count the loops of a piece, its openings and what runs."""
    _, procedure = load(file)
    counts = fabric_counts(procedure.timeline)
    if as_json:
        print_json(counts)
        return
    for line in _fabric_text(counts):
        print(line)


def _fabric_text(counts: Mapping[str, Any]) -> Iterator[str]:
    loops = counts["loops"]
    yield f"{sum(loops.values())} loops in {counts['passes']} rows from {counts['strands']} strands of yarn"
    yield ", ".join(f"{many} {kind.replace('_', ' ')}" for kind, many in loops.items() if many) or "none"
    openings = ", ".join(f"{many} of size {size}" for size, many in counts["openings"].items())
    yield f"openings: {openings or 'none'}"
    yield f"on the bed at the end: {counts['on_bed']}; unsecured: {counts['unsecured']}"


@app.command()
@one_file
@json_too
def plan(file: str, as_json: bool) -> None:
    """Print the instructions a knitter follows, row by row."""
    _, procedure = load(file)
    if as_json:
        parts = [asdict(part) for part in instructions(procedure)]
        print_json({"title": procedure.piece.title, "parts": parts})
    else:
        print(plan_text(procedure))


@app.command()
@one_file
@json_too
def yarn(file: str, as_json: bool) -> None:
    """Reckon metres and grams of each yarn.

    They follow from the piece alone; swatches kept on this machine are left out.
    """
    for need in yarn_needs(*load(file)):
        told = {
            "yarn": need.yarn,
            "stitches": need.stitches,
            "metres": round(need.metres, 2),
            "grams": None if need.grams is None else round(need.grams, 2),
            "tails_cm": need.tails_cm,
        }
        if as_json:
            print_json(told)
            continue
        grams = "" if need.advised_grams is None else f", {need.advised_grams:.0f} g"
        print(f"{need.yarn}: {need.stitches} stitches; have {need.advised_metres:.0f} m{grams} at hand")
        for caution in need.cautions:
            print(f"  {caution.says()}")


@app.command()
@one_file
@to_file
def mirror(file: str, out: Path) -> None:
    """Write the piece with left and right exchanged, for the other one of a pair."""
    piece, _ = load(file)
    write_piece(out, mirror_piece(piece))


@app.command()
@click.argument("what", metavar="[lesson]", default="piece")
def schema(what: str) -> None:
    """Print the JSON Schema of the piece file, or of a lesson's."""
    if what not in ("piece", "lesson"):
        raise Unusable(f"schema: '{what}' is not a document bedview knows; known: piece, lesson")
    if what == "lesson":
        from bedview.lessons.lesson_file import lesson_schema

        told = lesson_schema()
    else:
        dialect = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
        told = {**dialect, **Piece.model_json_schema()}
    print(json.dumps(told, ensure_ascii=False, indent=2))


@app.command()
@one_file
@json_too
def finish(file: str, as_json: bool) -> None:
    """Say what is left open, what joins what in which order, tails, and what does not fit."""
    piece, procedure = load(file)
    if as_json:
        print_json(finish_json(piece, procedure))
    else:
        print(finish_text(piece, procedure))


@app.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def shots(folder: Path) -> None:
    """Paint every page of the app to PNG, with the demos, in light and dark."""
    if not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from bedview.ui.shots import paint_shots

    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(folder, reason(error)) from None
    for path in paint_shots(folder):
        print(path)


for command in (
    form_command,
    lesson_command,
    lessons_command,
    locate_command,
    progress_command,
    sheet_command,
    start_command,
    starters_command,
    unpick_command,
):
    app.add_command(command)
