"""Commands that make something of a piece: a sheet, its shape."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from bedview.cli.running import Unusable, load
from bedview.cli.speaking import json_too, one_file, print_json, to_file
from bedview.store.whole_file import write_whole

if TYPE_CHECKING:
    from bedview.form.shape import Shape
    from bedview.plan.piece import Piece

PICTURE_PX: Final = (1280, 960)
SHAPE_ENDINGS: Final = (".obj", ".ply", ".png")


@click.command("sheet")
@one_file
@to_file
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", help="Paper of a PDF.")
@click.option("--needle-strip", is_flag=True, help="Add a strip at the bed's own pitch to a PDF.")
@click.option("--outline", is_flag=True, help="Add the blocking outline in full size to a PDF.")
@click.option("--sizes", is_flag=True, help="Add the sizes of a piece made from measures to a PDF.")
@click.option("--class", "for_class", is_flag=True, help="Add questions for a class, and answers, to a PDF.")
def sheet_command(file: str, out: Path, paper: str, **wanted: bool) -> None:
    """Write what to follow at the machine: .pdf, .html (the stepping page), .csv, .svg, .png or .txt.

    Yarn is reckoned by the piece alone; swatches kept on this machine are left out.
    """
    from bedview.export.paper.documents import SheetPart
    from bedview.export.sheet import SheetError, SheetOptions, write_sheet

    parts = {
        SheetPart.FOLLOWING: True,
        SheetPart.NEEDLE_STRIP: wanted["needle_strip"],
        SheetPart.OUTLINE: wanted["outline"],
        SheetPart.SIZES: wanted["sizes"],
        SheetPart.CLASS: wanted["for_class"],
        SheetPart.ANSWERS: wanted["for_class"],
    }
    options = SheetOptions(paper, frozenset(part for part, there in parts.items() if there))
    try:
        write_sheet(*load(file), out, options)
    except SheetError as error:
        raise Unusable(f"{out}: {error}") from None


@click.command("form")
@one_file
@json_too
@click.option(
    "-o", "--output", "out", metavar="OUT", type=click.Path(path_type=Path), help=".obj, .ply or .png"
)
@click.option("--open", "is_open", is_flag=True, help="Leave the seams open.")
@click.option("--from", "view", default="corner", metavar="SIDE", help="Where a picture is seen from.")
def form_command(file: str, as_json: bool, out: Path | None, is_open: bool, view: str) -> None:
    """Find the resting shape, with the seams closed unless --open."""
    from bedview.form.camera import VIEWS
    from bedview.form.resting import resting_shape

    if out is not None and out.suffix.lower() not in SHAPE_ENDINGS:
        raise Unusable(
            f"{out}: a shape's file ends in one of {', '.join(SHAPE_ENDINGS)}, not in '{out.suffix}'"
        )
    if view not in VIEWS:
        raise Unusable(f"--from: '{view}' is not a side; known: {', '.join(VIEWS)}")
    piece, procedure = load(file)
    shape = resting_shape(piece, procedure, open=is_open)
    if out is not None:
        write_whole(out, _shape_bytes(piece, shape, out.suffix.lower(), view))
    if as_json:
        print_json(shape.figures())
    elif out is None:
        x, y, z = (length / 10 for length in shape.extent_mm)
        print(f"{len(shape)} stitches; {x:.1f} × {y:.1f} × {z:.1f} cm at rest")
        print(f"strain {shape.strain_mean:.2%} on average; seams {shape.seam_gap_mean_mm:.2f} mm apart")
        for note in shape.notes:
            print(note)


def _shape_bytes(piece: Piece, shape: Shape, ending: str, view: str) -> bytes:
    from bedview.export.mesh_file import obj_bytes, ply_bytes
    from bedview.form.colouring import node_colours
    from bedview.picture.look import LIGHT

    if ending == ".obj":
        return obj_bytes(shape, title=piece.title)
    colours = node_colours(shape, "segment", piece, LIGHT)
    if ending == ".ply":
        return ply_bytes(shape, colours)
    from bedview.export.printing import png_of
    from bedview.form.camera import looking_at
    from bedview.form.picture import shape_drawing

    camera = looking_at(shape.surface.places_mm, view, *PICTURE_PX)
    return png_of(shape_drawing(shape, camera, colours, LIGHT, title=piece.title), 1.0)
