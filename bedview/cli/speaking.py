"""What all commands share: how they take files, and how they print."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

one_file = click.argument("file", metavar="FILE")
many_files = click.argument("files", metavar="FILE...", nargs=-1, required=True)
json_too = click.option("--json", "as_json", is_flag=True, help="Print JSON.")
to_file = click.option(
    "-o", "--output", "out", metavar="OUT", required=True, type=click.Path(path_type=Path), help="Where to."
)


def print_json(value: Mapping[str, Any]) -> None:
    """Print one JSON object on a line of its own."""
    print(json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False))
