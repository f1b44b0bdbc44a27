"""Commands about starters: list them, and begin a piece from one."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from bedview.cli.running import Unusable
from bedview.cli.speaking import json_too, print_json
from bedview.plan.starters import STARTERS, StarterError, find_starter
from bedview.store.piece_file import write_piece
from bedview.store.piece_text import piece_text


@click.command("starters")
@json_too
def starters_command(as_json: bool) -> None:
    """List the parametric pieces and what each asks."""
    for starter in STARTERS:
        parameters = starter.parameters
        if as_json:
            keys = ("key", "unit", "default", "min", "max", "says")
            asked = [{key: getattr(each, key) for key in keys} for each in parameters]
            for told, each in zip(asked, parameters, strict=True):
                if each.choices:
                    told["choices"] = list(each.choices)
            print_json({"name": starter.name, "title": starter.title, "parameters": asked})
            continue
        print(f"{starter.name}\t{starter.title}")
        for each in parameters:
            default = "" if each.default is None else f", {each.default} if not said"
            print(f"    {each.key}: {each.says} ({each.allowed()}{default})")


@click.command("start")
@click.argument("name", metavar="NAME")
@click.option("--set", "settings", metavar="KEY=VALUE", multiple=True, help="A measure or a choice.")
@click.option("-o", "--output", "out", metavar="FILE", type=click.Path(path_type=Path), help="Where to.")
def start_command(name: str, settings: tuple[str, ...], out: Path | None) -> None:
    """Begin a piece from a starter, to FILE or standard output."""
    values: dict[str, str | float] = {}
    for setting in settings:
        key, equals, value = setting.partition("=")
        if not equals:
            raise Unusable(f"start: '{setting}' is not key=value")
        values[key] = value
    try:
        piece = find_starter(name).make(values)
    except StarterError as error:
        raise Unusable(f"start: {error}") from None
    if out is None:
        sys.stdout.write(piece_text(piece).decode())
    else:
        write_piece(out, piece)
