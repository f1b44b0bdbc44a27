"""How much yarn a piece needs: metres and grams of each yarn, tails apart, with an honest margin.

Every loop of the fabric counts, each kind with a length of its own:

- a **knitted** or **laid-in** loop, the loop length ``l`` (:mod:`bedview.plan.loop_choice`);
- a **cast-on** or **bound** loop, 4.6 × the width of a stitch, measured; 5 × is advised (nimble-needles,
  long-tail measurements);
- a **wrap**, two widths of a stitch: the yarn lies round a needle, there and back (geometry, no source);
- a **float**, the pitch of the bed for each column it jumps over beyond the next.

What is not counted: yarn carried up the side between stripes, and seams that are not grafted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from bedview.bed.edges import EdgeError
from bedview.language import marked
from bedview.plan.cautions import Caution
from bedview.plan.edges_file import to_edge
from bedview.plan.fields import RoleWord
from bedview.plan.loop_choice import LoopLength, loop_length, tex_of
from bedview.plan.loop_length import Relaxation, yarn_cautions
from bedview.plan.piece import Piece, Yarn
from bedview.plan.procedure import Procedure
from bedview.plan.seams_file import Graft
from bedview.plan.swatch import EDGE_WIDTHS, KnittedSwatch
from bedview.plan.yarn_counts import grams_of
from bedview.plan.yarn_use import Use, YarnUse, tails

EDGE_WIDTHS_ADVISED: Final = 5.0
"""Yarn to allow for a cast-on or bound edge over its width (nimble-needles)."""
WRAP_WIDTHS: Final = 2.0
GRAFT_WIDTHS: Final = 4.2
"""Yarn of one course over its width, fully relaxed (Munden's Kw). A hand rule of 3 × is short."""
GRAFT_END_CM: Final = 15.0
"""What a needle needs to be threaded with and the end to be darned in."""

MEASURED_STATE: Final = Relaxation.WET
"""How the gauges of a piece are taken: counted after washing and resting."""


@dataclass(frozen=True, slots=True)
class GraftTail:
    """The tail a graft of the piece takes.

    Attributes:
        seam: index of the seam in the piece.
        stitches: stitches to graft.
        cm: 4.2 × the width, and 15 cm.
    """

    seam: int
    stitches: int
    cm: float


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """What a piece needs of one yarn.

    Attributes:
        yarn: id.
        role: ``fabric``, ``waste`` or ``ravel``.
        stitches: loops that passes made of it, wraps aside.
        cast_on: loops cast on.
        bound: loops bound off.
        wraps: wraps.
        metres: yarn in the fabric, as expected; without tails.
        grams: its weight; None where tex is unknown.
        tails_cm: tails that the procedure leaves, all together.
        advised_metres: what to have at hand: edges at what is advised, the margin, the tails, and what grafts
            take beyond them.
        advised_grams: its weight; None where tex is unknown.
        loops: the loop lengths it was reckoned with, one a dial.
        grafts: tails that grafts of it take.
        cautions: what is worth knowing.
    """

    yarn: str
    role: RoleWord
    stitches: int
    cast_on: int
    bound: int
    wraps: int
    metres: float
    grams: float | None
    tails_cm: float
    advised_metres: float
    advised_grams: float | None
    loops: tuple[LoopLength, ...] = ()
    grafts: tuple[GraftTail, ...] = ()
    cautions: tuple[Caution, ...] = ()


def mm_of(use: Use, loop: LoopLength, pitch_mm: float, edge_widths: float = EDGE_WIDTHS) -> float:
    """Yarn that was used at one dial."""
    return (
        use.stitches * loop.mm
        + (use.cast_on + use.bound) * edge_widths * loop.stitch_mm
        + use.wraps * WRAP_WIDTHS * loop.stitch_mm
        + use.float_columns * pitch_mm
    )


def yarn_needs(
    piece: Piece,
    procedure: Procedure,
    swatches: Sequence[KnittedSwatch] = (),
    state: Relaxation = MEASURED_STATE,
) -> list[YarnNeed]:
    """What a piece needs of each of its yarns, in their order.

    Args:
        piece: the piece.
        procedure: the piece compiled, or as far as it could be.
        swatches: swatches on record; the figure of a weighed one replaces the theory.
        state: how far the gauges of the piece had come to rest when they were counted.
    """
    counted = YarnUse(procedure)
    grafts = _grafts(piece, procedure, counted, swatches, state)
    left = tails(procedure)
    needs: list[YarnNeed] = []
    uses = counted.uses()
    for place, yarn in enumerate(piece.yarns):
        own = [use for use in uses if use.of.yarn == place]
        tails_cm = [tail.cm for tail in left if tail.yarn == place]
        loops = [loop_length(piece, yarn, use.of.dial, swatches, state) for use in own]
        tex = tex_of(piece, yarn, swatches, state)
        needs.append(_need(piece, yarn, tex, list(zip(own, loops, strict=True)), grafts[place], tails_cm))
    return needs


def _need(
    piece: Piece,
    yarn: Yarn,
    tex: float | None,
    parts: Sequence[tuple[Use, LoopLength]],
    grafts: Sequence[GraftTail],
    tails_cm: Sequence[float],
) -> YarnNeed:
    pitch = piece.bed.pitch_mm
    metres = sum(mm_of(use, loop, pitch) for use, loop in parts) / 1000
    with_margin = sum(mm_of(use, loop, pitch, EDGE_WIDTHS_ADVISED) * (1 + loop.margin) for use, loop in parts)
    missing_cm = _missing_cm(grafts, tails_cm)
    advised = with_margin / 1000 + (sum(tails_cm) + missing_cm) / 100
    cautions = _yarn_cautions(yarn, tex, parts)
    if missing_cm > 0:
        cautions.append(_short_tail(yarn, grafts, missing_cm))
    return YarnNeed(
        yarn=yarn.id,
        role=yarn.role,
        stitches=sum(use.stitches for use, _ in parts),
        cast_on=sum(use.cast_on for use, _ in parts),
        bound=sum(use.bound for use, _ in parts),
        wraps=sum(use.wraps for use, _ in parts),
        metres=metres,
        grams=None if tex is None else grams_of(metres, tex),
        tails_cm=sum(tails_cm),
        advised_metres=advised,
        advised_grams=None if tex is None else grams_of(advised, tex),
        loops=tuple(loop for _, loop in parts),
        grafts=tuple(grafts),
        cautions=tuple(cautions),
    )


# -- grafts ---------------------------------------------------------------------------------------------


def graft_tail_cm(width_mm: float) -> float:
    """The tail to leave for a graft: one course of stitches over the width, and an end."""
    return GRAFT_WIDTHS * width_mm / 10 + GRAFT_END_CM


def _grafts(
    piece: Piece,
    procedure: Procedure,
    counted: YarnUse,
    swatches: Sequence[KnittedSwatch],
    state: Relaxation,
) -> list[list[GraftTail]]:
    """For each yarn of the piece, the tails its grafts take; a graft is sewn with the yarn of its edge a."""
    found: list[list[GraftTail]] = [[] for _ in piece.yarns]
    for place, seam in enumerate(piece.seams):
        if not isinstance(seam, Graft):
            continue
        try:
            sides = [
                procedure.timeline.edge_loops(to_edge(edge, piece.bed.needles)) for edge in (seam.a, seam.b)
            ]
        except EdgeError:
            # An edge that is not there is said where the piece is made up.
            continue
        of = counted.group_of_loop(sides[0][0])
        loop = loop_length(piece, piece.yarns[of.yarn], of.dial, swatches, state)
        stitches = max(len(side) for side in sides)
        found[of.yarn].append(GraftTail(place, stitches, graft_tail_cm(stitches * loop.stitch_mm)))
    return found


def _missing_cm(grafts: Sequence[GraftTail], tails_cm: Sequence[float]) -> float:
    """What grafts take beyond the tails that are left.

    A tail sews one graft after the other while it lasts, the longest first; its end is needed only once.
    """
    free = [cm - GRAFT_END_CM for cm in tails_cm]
    missing = 0.0
    for sewing in sorted((graft.cm - GRAFT_END_CM for graft in grafts), reverse=True):
        longest = max(free, default=-GRAFT_END_CM)
        if longest in free:
            free.remove(longest)
        missing += max(0.0, sewing - longest)
        free.append(max(longest - sewing, 0.0))
    return missing


# -- what is worth knowing ----------------------------------------------------------------------------------


def _yarn_cautions(yarn: Yarn, tex: float | None, parts: Sequence[tuple[Use, LoopLength]]) -> list[Caution]:
    """What to say of a fabric yarn's thickness; how waste knits is nobody's concern."""
    if tex is None or yarn.role != "fabric":
        return []
    found: dict[str, Caution] = {}
    for _, loop in parts:
        if loop.gauge is not None and loop.gauge.yarn == yarn.id:
            for caution in yarn_cautions(tex, loop.mm):
                found.setdefault(caution.rule, caution)
    return list(found.values())


def _short_tail(yarn: Yarn, grafts: Sequence[GraftTail], missing_cm: float) -> Caution:
    return Caution(
        "tail-short",
        "warning",
        marked(
            "Grafting takes {needed:.0f} cm of '{yarn}' in tails (4.2 × the width and 15 cm each); the tails "
            "left are {missing:.0f} cm short"
        ),
        {"yarn": yarn.id, "needed": sum(graft.cm for graft in grafts), "missing": missing_cm},
    )
