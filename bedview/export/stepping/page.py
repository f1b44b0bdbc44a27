"""The page put together: one HTML file with all it needs, and nothing it would have to fetch."""

from __future__ import annotations

import base64
import hashlib
import json
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from bedview import language
from bedview.bed.needles import Position
from bedview.export.briefing import Briefing, brief, seen_yarns
from bedview.export.position_names import position_name
from bedview.export.row_list import ListedPart, row_list, rows_in_words
from bedview.export.stepping.geometry import CELL, EDGE, NAME_SIZE, NAMES, RAIL, ROW, Heights
from bedview.export.stepping.looks import LOOKS, LookSheet
from bedview.export.stepping.page_data import PageData, way_data
from bedview.export.stepping.symbols import Symbols
from bedview.export.stepping.wales import DEPTH
from bedview.finish.finish_plan import finish_plan
from bedview.finish.telling import tell
from bedview.finish.told import Told
from bedview.lessons.shown_way import Leg
from bedview.picture.bed_scene import YarnSeen
from bedview.picture.look import Palette, yarn_shades
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.swatch import KnittedSwatch
from bedview.plan.words import Words
from bedview.resources import resource_path

_SCRIPTS: Final = ("told.js", "bed.js", "fabric.js", "stepping.js")
_MEDIA: Final = ("", "screen and (prefers-color-scheme: dark)", "screen and (prefers-contrast: more)")
"""When each look is worn; paper wears the first."""
_VARIABLES: Final = (
    "paper",
    "card",
    "line",
    "ink",
    "quiet_ink",
    "plate",
    "idle",
    "hands",
    "carriage",
    "on_carriage",
    "warning",
)


@dataclass(frozen=True)
class Contents:
    """What stands on a page.

    Attributes:
        piece: what it is known by.
        legs: the way it steps through.
        briefing: what stands at its head.
        parts: the list of all rows.
        making_up: how the piece is made up; None where nothing is.
        intro: paragraphs before the list of rows; the first is the task of a lesson.
        begin: the step it opens at when it was never opened before.
        finished: what is said when all is done; empty for what is said of a piece.
    """

    piece: Piece
    legs: tuple[Leg, ...]
    briefing: Briefing
    parts: list[ListedPart]
    making_up: Told | None = None
    intro: tuple[str, ...] = ()
    begin: int = 0
    finished: str = ""


def stepping_page(piece: Piece, procedure: Procedure, swatches: Sequence[KnittedSwatch] = ()) -> str:
    """The page of a piece as HTML.

    Args:
        piece: the piece.
        procedure: what becomes of it, to its end.
        swatches: swatches of its yarns, whose weight goes before the theory.
    """
    # Both the list of rows and what the page steps through ask for every sentence.
    procedure = procedure.remembering()
    making_up = tell(finish_plan(piece, procedure))
    legs = (Leg(procedure, 0),)
    parts = list(row_list(procedure))
    briefing = brief(piece, procedure, swatches=swatches)
    return page_of(Contents(piece, legs, briefing, parts, making_up))


def page_of(contents: Contents) -> str:
    """A page as HTML."""
    words, piece = contents.legs[0].procedure.words, contents.piece
    data = way_data(piece, contents.legs, contents.briefing)
    yarns, sheet = seen_yarns(piece), LookSheet()
    symbols = Symbols(data.bed, yarns, sheet)
    drawn, plate = _drawn(symbols, data), symbols.plate()
    told = {
        **data.told,
        "begin": contents.begin,
        "strands": [_strand(yarn, sheet) for yarn in yarns],
        "geometry": _geometry(symbols),
        "words": _spoken(words, contents.finished),
    }
    style, script = _style(sheet), _script()
    environment = Environment(
        loader=FileSystemLoader(resource_path("page")),
        autoescape=True,
        undefined=StrictUndefined,
        keep_trailing_newline=True,
    )
    return environment.get_template("page.html.jinja").render(
        _=words.gettext,
        language=language.code(),
        policy=_policy(style, script),
        briefing=contents.briefing,
        bed=data.bed,
        parts=contents.parts,
        making_up=contents.making_up,
        intro=contents.intro,
        row_name=_RowNames().name,
        rows_in_words=lambda rows: rows_in_words(rows, words),
        words=words,
        symbols=Markup(drawn),  # noqa: S704 - written by LookSheet, which escapes
        plate=Markup(plate),  # noqa: S704 - likewise
        style=Markup(style),  # noqa: S704 - our own file, and colours that were checked
        script=Markup(script),  # noqa: S704 - our own files
        told=Markup(json_for_page(told)),  # noqa: S704 - escaped there
    )


class _RowNames:
    """Names of rows to link to: a row that was taken back and is knitted again has a second one."""

    def __init__(self) -> None:
        self._given: Counter[int] = Counter()

    def name(self, row: int) -> str:
        self._given[row] += 1
        times = self._given[row]
        return f"row-{row}" if times == 1 else f"row-{row}-{times}"


def json_for_page(value: Mapping[str, Any]) -> str:
    """JSON that cannot end the script element it stands in, whatever its texts are."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def _drawn(symbols: Symbols, data: PageData) -> str:
    cells = [symbols.cell(number, cell) for number, cell in enumerate(data.cells)]
    carriages = [symbols.carriage(number, scene) for number, scene in enumerate(data.settings)]
    return "".join([*cells, *carriages, symbols.coming_wrap()])


def _strand(yarn: YarnSeen, sheet: LookSheet) -> list[str]:
    """Classes of the lines a strand is drawn with: its rim, its lighter and its own colour; and its role."""
    shades = [yarn_shades(yarn.colour, look) for look in LOOKS]
    kinds = (
        [shade.rim for shade in shades],
        [shade.light for shade in shades],
        [shade.body for shade in shades],
    )
    return [*(sheet.name("stroke", tuple(colours)) for colours in kinds), yarn.role.value]


def _geometry(symbols: Symbols) -> dict[str, object]:
    bed, heights = symbols.bed, Heights(symbols.bed)
    return {
        "width": bed.width,
        "height": bed.height,
        "left": bed.left,
        "edge": EDGE / 2,
        "cell": CELL,
        "row": ROW,
        "gate": bed.gate,
        "rail": RAIL,
        "names": NAMES,
        "nameSize": NAME_SIZE,
        "loops": heights.loops,
        "tips": heights.tips,
        "depth": DEPTH,
        "carriage": symbols.places(),
    }


# -- style and script -------------------------------------------------------------------------------------


def _style(sheet: LookSheet) -> str:
    parts = []
    for number, (look, media) in enumerate(zip(LOOKS, _MEDIA, strict=True)):
        rules = f":root{{{_variables(look)}}}{sheet.rules(number)}"
        parts.append(f"@media {media}{{{rules}}}" if media else rules)
    return "".join(parts) + resource_path("page", "page.css").read_text(encoding="utf-8")


def _variables(look: Palette) -> str:
    return "".join(f"--{name.replace('_', '-')}:{getattr(look, name)};" for name in _VARIABLES)


def _script() -> str:
    texts = [resource_path("page", name).read_text(encoding="utf-8") for name in _SCRIPTS]
    return '(() => {\n"use strict";\n' + "\n".join(texts) + "})();\n"


def _policy(style: str, script: str) -> str:
    """What the browser may do with the page: run this very script, wear this very style, fetch nothing."""
    rules = ["default-src 'none'", "base-uri 'none'", "form-action 'none'", "img-src data:"]
    for kind, text in (("style", style), ("script", script)):
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        rules.append(f"{kind}-src 'sha256-{digest}'")
    return "; ".join(rules)


# -- words ------------------------------------------------------------------------------------------------


def _spoken(words: Words, finished: str) -> dict[str, object]:
    """What the page says by itself, with gaps it fills."""
    _ = words.gettext
    return {
        "row": _("row {row}"),
        "before": _("before row {row}"),
        "after": _("after row {row}"),
        "of": _("of {rows}"),
        "within": _("{row} of {rows} in this part"),
        "then": _("then: {what}"),
        "end": _("Finished"),
        "finished": finished or _("All rows are knitted."),
        "kept": _("{row} rows done, kept on this device at {time}"),
        "notKept": _("This browser does not keep the row: leave the page open."),
        "started": _("Back at the start."),
        "went": _("Gone to row {row}."),
        "stretch": _("{first} to {last}"),
        "positions": {
            "w": position_name(words, Position.WORK, _("working")),
            "u": position_name(words, Position.UPPER, _("upper working")),
            "h": position_name(words, Position.HOLD, _("hold")),
        },
        "allOut": _("all needles out of work"),
        "wraps": _("wraps on {needles}"),
        "carriageLeft": _("carriage on the left"),
        "carriageRight": _("carriage on the right"),
        "camsOn": _("hold cams on"),
        "camsOff": _("hold cams off"),
        "inFeeder": _("{yarn} in the feeder"),
        "noYarn": _("no yarn in the feeder"),
        "counter": _("counter {row}"),
    }
