"""Commands about one's place in a piece: where it is, where it could be, and the way back."""

from __future__ import annotations

from typing import Any

import click

from bedview.bed.locate import NearPlace, Place, locate
from bedview.bed.needles import NeedleError, Side, format_needles, needle_name, parse_needles
from bedview.bed.unpick import PassBack, UnpickError, unpick
from bedview.cli.running import Unusable, load
from bedview.cli.speaking import json_too, one_file, print_json
from bedview.plan.procedure import Procedure
from bedview.session.record import changes_of, digest_now
from bedview.session.unpicking import way_back
from bedview.store.demos import find_piece
from bedview.store.journal import Journal, JournalError, default_journal


@click.command("locate")
@one_file
@click.option(
    "--held", metavar="NEEDLES", required=True, help='Needles in hold, such as L10-L8,R3; "" for none.'
)
@click.option("--carriage", type=click.Choice(["left", "right"]), required=True, help="Where it stands.")
@json_too
def locate_command(file: str, held: str, carriage: str, as_json: bool) -> None:
    """Find where in the piece exactly these needles are in hold."""
    piece, procedure = load(file)
    try:
        needles = parse_needles(held, piece.bed.needles, empty=True)
    except NeedleError as error:
        raise Unusable(f"{file}: --held: {error}") from None
    found = locate(procedure.timeline, needles, Side(carriage))
    matches = [_match(procedure, place) for place in found.matches]
    nearest = [_near(procedure, near) for near in found.nearest]
    if as_json:
        print_json({"matches": matches} if matches else {"matches": [], "nearest": nearest})
        return
    for match in matches:
        print(f"after row {match['pass']}, counter {match['row']}, step {match['step'] + 1}")
    for near in nearest:
        print(f"nearly after row {near['pass']}, counter {near['row']}: look at {', '.join(near['differ'])}")


def _match(procedure: Procedure, place: Place) -> dict[str, Any]:
    step = procedure.step_of_line(place.line) if place.line >= 0 else None
    return {
        "step": 0 if step is None else step.number,
        "pass": place.passes,
        "row": place.row,
        "segment": 0 if step is None else step.segment,
    }


def _near(procedure: Procedure, near: NearPlace) -> dict[str, Any]:
    names = [needle_name(needle, procedure.timeline.bed.needles) for needle in near.differ]
    return {"pass": near.place.passes, "row": near.place.row, "differ": names, "carriage": str(near.carriage)}


@click.command("unpick")
@one_file
@click.option(
    "--from", "from_pass", metavar="P", type=click.IntRange(min=0), required=True, help="The last pass."
)
@click.option(
    "--to", "to_pass", metavar="Q", type=click.IntRange(min=0), required=True, help="Back to after this."
)
@json_too
def unpick_command(file: str, from_pass: int, to_pass: int, as_json: bool) -> None:
    """Say how to take rows back, and how the bed then stands."""
    _, procedure = load(file)
    try:
        back = unpick(procedure.timeline, from_pass, to_pass)
    except UnpickError as error:
        raise Unusable(f"{file}: {error}") from None
    bed = procedure.timeline.bed.needles
    if not as_json:
        for row in back.passes:
            names = format_needles(row.needles, bed) or "no needle"
            print(f"row {row.pass_number}: {names}, yarn towards the {row.towards}")
        print(f"then row counter {back.state.row}, carriage on the {back.state.carriage}")
        return
    state = back.state
    print_json(
        {
            "passes": _rows_back(procedure, back.passes, from_pass, to_pass),
            "positions": "".join("owuh"[position] for position in state.position),
            "loops": state.height.tolist(),
            "carriage": str(state.carriage),
            "hold_cams": state.hold_cams,
            "tension": state.dial,
            "yarn": procedure.timeline.machine.yarns[state.yarn][0] if state.threaded else None,
            "row": state.row,
        }
    )


def _rows_back(
    procedure: Procedure, passes: tuple[PassBack, ...], from_pass: int, to_pass: int
) -> list[dict[str, Any]]:
    """The passes to take back, each with what hands do when it is out, as notes."""
    bed = procedure.timeline.bed.needles
    line = procedure.timeline.line_of_pass(from_pass) if from_pass else -1
    spoken = way_back(procedure, line, to_pass).rows
    told: list[dict[str, Any]] = []
    for row, words in zip(passes, spoken, strict=True):
        names = [needle_name(needle, bed) for needle in row.needles]
        notes = {"notes": list(words.hands)} if words.hands else {}
        told.append({"pass": row.pass_number, "needles": names, "towards": str(row.towards)} | notes)
    return told


@click.command("progress")
@one_file
@json_too
def progress_command(file: str, as_json: bool) -> None:
    """Say which row was knitted last."""
    _, procedure = load(file)
    told = _progress(file, procedure)
    if as_json:
        print_json(told)
    elif not told:
        print("not begun")
    else:
        changed = "; the piece has changed since, in rows that were knitted" if "changed" in told else ""
        print(f"row {told['pass']} of {told['of']}, confirmed {told['confirmed_at']}{changed}")


def _progress(file: str, procedure: Procedure) -> dict[str, Any]:
    path = default_journal()
    if not path.exists():
        return {}
    try:
        with Journal(path) as journal:
            session = journal.latest(find_piece(file))
            last = session.last() if session else None
            changes = changes_of(session) if session else []
    except JournalError as error:
        raise Unusable(f"{path}: {error}") from None
    if last is None:
        return {}
    return last.to_json(digest_now(procedure, changes, last.step))
