"""A starter in several sizes side by side: needles, rows, yarn, and whether each will fit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from bedview.plan.fit import Fit, fit
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.parameter import Given, StarterError
from bedview.plan.starters.starter import Starter
from bedview.plan.swatch import KnittedSwatch
from bedview.plan.yarn import YarnNeed, yarn_needs


@dataclass(frozen=True, slots=True)
class Graded:
    """One size of a starter.

    Attributes:
        size: its name.
        piece: the piece.
        needles: needles at its widest.
        rows: passes that knit fabric.
        passes: all passes, waste and the unthreaded ones too.
        stitches: stitches that passes make of fabric.
        yarn: what it needs of each yarn.
        fit: its measures.
    """

    size: str
    piece: Piece
    needles: int
    rows: int
    passes: int
    stitches: int
    yarn: tuple[YarnNeed, ...]
    fit: Fit


@dataclass(frozen=True, slots=True)
class Ungraded:
    """A size that cannot be made with these values.

    Attributes:
        size: its name.
        reason: why, in one sentence.
    """

    size: str
    reason: str


def grade(
    starter: Starter,
    given: Mapping[str, Given],
    sizes: Iterable[str] | None = None,
    swatches: Sequence[KnittedSwatch] = (),
) -> Iterator[Graded | Ungraded]:
    """The sizes of a starter with the same yarn, bed and ease.

    Args:
        starter: the starter.
        given: its values; measures given here hold for every size.
        sizes: names of sizes; all of its table if left out.
        swatches: swatches of its yarns by their ids, whose weight goes before the theory.

    Yields:
        One size after the other, each as soon as it is reckoned.

    Raises:
        StarterError: at once for a value that no size can have.
    """
    names = tuple(size.name for size in starter.sizes) if sizes is None else tuple(sizes)
    for name in names:
        starter.resolve({**given, "size": name})
    return (_graded(starter, {**given, "size": name}, name, swatches) for name in names)


def _graded(
    starter: Starter, given: Mapping[str, Given], size: str, swatches: Sequence[KnittedSwatch]
) -> Graded | Ungraded:
    try:
        piece = starter.make(given)
    except StarterError as error:
        return Ungraded(size, str(error))
    procedure = compile_piece(piece)
    cloth = Cloth(piece, procedure)
    courses = cloth.all_courses()
    return Graded(
        size,
        piece,
        needles=max(len(course.needles) for course in courses),
        rows=len(courses),
        passes=procedure.timeline.passes,
        stitches=sum(len(course.needles) for course in courses),
        yarn=tuple(yarn_needs(piece, procedure, swatches)),
        fit=fit(piece, procedure),
    )
