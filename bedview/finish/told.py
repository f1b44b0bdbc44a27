"""The making up in words: plain values, for screens and other programs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from hashlib import blake2b
from typing import Literal

Rule = Literal[
    "edge-missing",
    "graft-counts",
    "opening-too-long",
    "too-much-easing",
    "joined-twice",
    "loops-left-over",
    "tail-short",
    "on-the-bed",
    "stays-open",
]


@dataclass(frozen=True, slots=True)
class Misfit:
    """Something that keeps the piece from being made up, or will show.

    Attributes:
        rule: its name.
        severity: ``error``, ``warning`` or ``note``.
        says: what it is.
        way_out: what to do about it.
        seam: index of the seam in the piece, if it lies in one.
        group: index of the open group, if it is one.
    """

    rule: Rule
    severity: Literal["error", "warning", "note"]
    says: str
    way_out: str
    seam: int | None = None
    group: int | None = None


class StepKind(StrEnum):
    """What is done."""

    TAKE_OFF = "take_off"
    GRAFT = "graft"
    TAKE_OUT_WASTE = "take_out_waste"
    DARN_IN = "darn_in"
    SEW = "sew"
    STAYS_OPEN = "stays_open"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class MakingStep:
    """One step.

    Attributes:
        kind: what is done.
        title: a few words.
        says: what to do, a sentence or more.
        details: what is worth knowing besides, a line each.
        cards: names of the technique cards that show it, the usual way first.
        seam: index of its seam in the piece.
        groups: indices of its groups of open loops.
        ends: indices of its strand ends.
        loops: loops of the one edge, or where it is.
        other_loops: loops of the other edge.
    """

    kind: StepKind
    title: str
    says: str
    details: tuple[str, ...] = ()
    cards: tuple[str, ...] = ()
    seam: int | None = None
    groups: tuple[int, ...] = ()
    ends: tuple[int, ...] = ()
    loops: tuple[int, ...] = ()
    other_loops: tuple[int, ...] = ()


def mark_of(step: MakingStep) -> str:
    """What a step is known by while it does the same to the same loops, in whatever language it is told.

    Returns:
        Sixteen signs. Two steps of one piece have two marks.
    """
    acts = (step.kind.value, step.seam, step.groups, step.ends, step.loops, step.other_loops)
    return blake2b(repr(acts).encode(), digest_size=8).hexdigest()


@dataclass(frozen=True, slots=True)
class Told:
    """The making up of a piece in words, with nothing of the piece in it.

    Attributes:
        groups: name and size of each group of open loops.
        steps: what is done, in order.
        misfits: what does not fit.
    """

    groups: tuple[tuple[str, str], ...]
    steps: tuple[MakingStep, ...]
    misfits: tuple[Misfit, ...]
