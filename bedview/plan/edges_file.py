"""Edges as a file writes them, and what the bed understands by them.

An edge is a list of fabric loops: those that stand or dropped somewhere (``open``), those made somewhere
(``made_in_pass``), or the outermost ones along a side (``side``).
"""

from __future__ import annotations

from typing import Annotated, Final, Literal, NotRequired, cast

from pydantic import AfterValidator, Discriminator, Field, Tag
from typing_extensions import TypedDict

from bedview.bed.actions import Edge, MadeEdge, Maker, OpenEdge, SideEdge
from bedview.bed.needles import Side, format_needles, parse_needles
from bedview.language import gettext as _
from bedview.plan.fields import NeedleList, PassesMade, PassOfPiece, SideWord

MakerWord = Literal["pass", "cast_on", "bind_off"]


def _first_to_last(passes: list[int]) -> list[int]:
    if passes[0] > passes[1]:
        raise ValueError(
            _("runs backwards, from {first} to {last}; write the first pass first").format(
                first=passes[0], last=passes[1]
            )
        )
    return passes


PassSpan = Annotated[list[PassOfPiece], Field(min_length=2, max_length=2), AfterValidator(_first_to_last)]
"""``[first, last]``, both included."""

OpenItem = TypedDict("OpenItem", {"open": NeedleList, "pass": NotRequired[PassOfPiece]})


class MadeItem(TypedDict):
    """Loops made on needles by a pass, or by a cast-on or bind-off after so many passes."""

    made_in_pass: PassesMade
    needles: NeedleList
    by: NotRequired[MakerWord]


class SideItem(TypedDict):
    """The outermost loops of a stretch of passes."""

    side: SideWord
    passes: PassSpan


class SeamOpenItem(OpenItem):
    """An open edge of a seam, which may be turned round."""

    reverse: NotRequired[bool]


class SeamMadeItem(MadeItem):
    """A made edge of a seam, which may be turned round."""

    reverse: NotRequired[bool]


class SeamSideItem(SideItem):
    """A side edge of a seam, which may be turned round."""

    reverse: NotRequired[bool]


EDGE_KEYS: Final = ("open", "made_in_pass", "side")
"""The key that tells what an edge is; it must have exactly one of them."""


def _which(edge: object) -> str | None:
    if not isinstance(edge, dict):
        return None
    # The tag must not look like one of the edge's own keys, or a place in the file could not be told from it.
    return next((f"edge:{key}" for key in EDGE_KEYS if key in edge), None)


EdgeItem = Annotated[
    Annotated[OpenItem, Tag("edge:open")]
    | Annotated[MadeItem, Tag("edge:made_in_pass")]
    | Annotated[SideItem, Tag("edge:side")],
    Discriminator(_which),
]
SeamEdgeItem = Annotated[
    Annotated[SeamOpenItem, Tag("edge:open")]
    | Annotated[SeamMadeItem, Tag("edge:made_in_pass")]
    | Annotated[SeamSideItem, Tag("edge:side")],
    Discriminator(_which),
]
AnyEdgeItem = OpenItem | MadeItem | SideItem


def to_edge(item: AnyEdgeItem, bed_needles: int) -> Edge:
    """What the bed understands by an edge; ``reverse`` is a seam's business and not looked at.

    Raises:
        NeedleError: if a needle list cannot be read on a bed of ``bed_needles``.
    """
    if "open" in item:
        standing = cast(OpenItem, item)
        return OpenEdge(parse_needles(standing["open"], bed_needles), standing.get("pass"))
    if "made_in_pass" in item:
        made = cast(MadeItem, item)
        maker = Maker(made["by"]) if "by" in made else None
        return MadeEdge(made["made_in_pass"], parse_needles(made["needles"], bed_needles), maker)
    first, last = item["passes"]
    return SideEdge(Side(item["side"]), first, last)


def to_edge_item(edge: Edge, bed_needles: int) -> AnyEdgeItem:
    """How a file writes an edge: the reverse of :func:`to_edge`.

    Raises:
        ValueError: for a made edge without needles, which a file cannot say.
    """
    match edge:
        case OpenEdge(needles, None):
            return OpenItem(open=format_needles(needles, bed_needles))
        case OpenEdge(needles, in_pass):
            return cast(OpenItem, {"open": format_needles(needles, bed_needles), "pass": in_pass})
        case SideEdge(side, first, last):
            return SideItem(side=side.value, passes=[first, last])
    if edge.needles is None:
        raise ValueError(_("an edge in a file names its needles"))
    made = MadeItem(made_in_pass=edge.in_pass, needles=format_needles(edge.needles, bed_needles))
    if edge.by is not None:
        made["by"] = edge.by.value
    return made
