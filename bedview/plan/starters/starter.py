"""What a starter is: a piece from measurements, with its sizes, its assumptions and its own measuring."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any, ClassVar, Final

from bedview.language import gettext as _
from bedview.plan.gauge import Rounding, length_in_rows, width_in_stitches
from bedview.plan.piece import FORMAT, Gauge, Piece
from bedview.plan.procedure import PlanError, compile_piece
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import YARNS, Seam, Segment
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.parameter import (
    CM,
    COUNT,
    DIAL,
    EVEN_COUNT,
    MM,
    ROWS,
    STITCHES,
    TEX,
    WORD,
    Given,
    Parameter,
    StarterError,
    tidy,
)
from bedview.plan.starters.size_table import Size, sizes_of

YARN_AND_BED: Final = (
    Parameter("stitches", STITCHES, 28, 3, 60, "stitches of your swatch; also 7/in or 20/4 in"),
    Parameter("rows", ROWS, 40, 3, 90, "rows of your swatch"),
    Parameter("tension", DIAL, 6, 0, 20, "dial the swatch was knitted at"),
    Parameter("tex", TEX, None, 10, 5000, "grams of 1,000 m of the yarn, to weigh it; may be left out"),
    Parameter("needles", EVEN_COUNT, 200, 2, 400, "needles of the bed"),
    Parameter("pitch", MM, 4.5, 2, 20, "from needle to needle"),
)
"""What every starter is asked of yarn and bed."""


class Values:
    """The values a piece is made with, in the units of their parameters."""

    def __init__(self, known: Mapping[str, Given | None], given: frozenset[str]) -> None:
        """Take them; ``given`` are the keys that were given and not left to the starter."""
        self._known = dict(known)
        self.given = given

    def number(self, key: str) -> float:
        """A number in its parameter's unit."""
        value = self._known[key]
        assert isinstance(value, int | float)
        return value

    def mm(self, key: str) -> float:
        """A length that is given in centimetres, in millimetres."""
        return 10 * self.number(key)

    def count(self, key: str) -> int:
        """A whole number."""
        return round(self.number(key))

    def word(self, key: str) -> str:
        """A word."""
        return str(self._known[key])

    def has(self, key: str) -> bool:
        """Whether there is a value, given or not."""
        return self._known.get(key) is not None

    def eased_mm(self, key: str, percent: str) -> float:
        """A measure of the body with an ease in per cent."""
        return self.mm(key) * (1 + self.number(percent) / 100)

    @property
    def gauge(self) -> Gauge:
        """The swatch of the main yarn."""
        return self.gauge_of("main")

    def gauge_of(self, yarn: str) -> Gauge:
        """The swatch of a yarn, written as the piece has it."""
        prefix = "" if yarn == "main" else f"{yarn}_"
        return Gauge(
            yarn=yarn,
            tension=tidy(self.number(f"{prefix}tension")),
            stitches=round(self.number(f"{prefix}stitches"), 4),
            rows=round(self.number(f"{prefix}rows"), 4),
            over_mm=100,
        )

    def stitches(self, width_mm: float, rounding: Rounding = Rounding()) -> int:  # noqa: B008 - frozen
        """Stitches of the main yarn nearest to a width, at least one."""
        return max(1, rounding.plus, width_in_stitches(width_mm, self.gauge, rounding).count)

    def rows(self, length_mm: float, rounding: Rounding = Rounding(), yarn: str = "main") -> int:  # noqa: B008 - frozen
        """Rows of a yarn nearest to a length."""
        return length_in_rows(length_mm, self.gauge_of(yarn), rounding).count

    @property
    def stitch_mm(self) -> float:
        """Width of a stitch of the main yarn."""
        return 100 / self.gauge.stitches

    @property
    def row_mm(self) -> float:
        """Height of a row of the main yarn."""
        return 100 / self.gauge.rows


class Starter(ABC):
    """A parametric piece. One starter is one class in a file of its own.

    Attributes:
        name: what it is asked for by.
        title: what people call it.
        says: what it makes, in a sentence or two.
        assumes: what it takes for granted, a sentence each.
        body: the part of the table of sizes it draws on; "" if it has no sizes.
        size: the size that is taken if none is given.
        asked: its own parameters, without size, yarn and bed.
        yarns: ids of the yarns it needs.
    """

    name: ClassVar[str]
    title: ClassVar[str]
    says: ClassVar[str]
    assumes: ClassVar[tuple[str, ...]]
    body: ClassVar[str] = ""
    size: ClassVar[str] = ""
    asked: ClassVar[tuple[Parameter, ...]]
    yarns: ClassVar[tuple[str, ...]] = ("main", "waste")

    # -- asking ---------------------------------------------------------------------------------------------

    @cached_property
    def sizes(self) -> tuple[Size, ...]:
        """Its sizes, smallest first; none if it goes by measures alone."""
        return sizes_of(self.body) if self.body else ()

    @cached_property
    def parameters(self) -> tuple[Parameter, ...]:
        """All parameters, each with the value taken if none is given."""
        taken = self._completed({})
        return tuple(replace(each, default=_shown(taken[each.key])) for each in self._declared)

    @cached_property
    def _declared(self) -> tuple[Parameter, ...]:
        names = tuple(size.name for size in self.sizes)
        of_size = Parameter("size", WORD, self.size, None, None, "size of the table", names)
        return (*((of_size,) if names else ()), *self.asked, *YARN_AND_BED)

    def resolve(self, given: Mapping[str, Given]) -> Values:
        """All values, those that were not given taken from the size or worked out from others.

        Raises:
            StarterError: for an unknown key, a value that cannot be read, or one out of range.
        """
        known = {each.key: each for each in self._declared}
        read: dict[str, Given] = {}
        for key, value in given.items():
            if key not in known:
                raise StarterError(
                    _("{name} knows no '{key}'; it knows {known}").format(
                        name=self.name, key=key[:40], known=", ".join(known)
                    ),
                    key,
                )
            read[key] = known[key].read(value)
        return Values(self._completed(read), frozenset(given))

    def _completed(self, read: Mapping[str, Given]) -> dict[str, Given | None]:
        values: dict[str, Given | None] = {each.key: each.default for each in self._declared}
        values |= read
        if self.sizes:
            size = next(each for each in self.sizes if each.name == values["size"])
            # Sizes are written in millimetres, and only centimetres that few people measure are lost.
            values |= {
                key: mm / 10 for key, mm in size.measures_mm.items() if key in values and key not in read
            }
        for key, value in self._derived(values).items():
            if values[key] is None:
                values[key] = value
        return values

    def _derived(self, _values: Mapping[str, Any]) -> Mapping[str, float]:
        """Values that follow from others, for those that are neither given nor in the table."""
        return {}

    # -- making ---------------------------------------------------------------------------------------------

    def make(self, given: Mapping[str, Given]) -> Piece:
        """The piece for some values.

        Args:
            given: values by key, as numbers in the parameter's unit or as people write them.

        Raises:
            StarterError: if a value is wrong, or a piece of these measures cannot be knitted on the bed.
        """
        values = self.resolve(given)
        document: dict[str, Any] = {
            "format": FORMAT,
            "title": self.titled(values),
            "made_by": {"starter": self.name, "values": dict(given)},
            "bed": {
                "needles": values.count("needles"),
                "pitch_mm": tidy(values.number("pitch")),
                "carriage": "right",
            },
            "yarns": [self._yarn(values, yarn) for yarn in self.yarns],
            "gauges": [values.gauge_of(yarn).model_dump() for yarn in self.yarns if _is_fabric(yarn)],
        }
        width = self.width(values)
        if width > values.count("needles"):
            raise StarterError(
                _(
                    "{title} of these measures takes {width} needles, and the bed has {count}; "
                    "take a thicker yarn, a wider bed or a smaller size"
                ).format(title=_(self.title), width=width, count=values.count("needles")),
                "needles",
            )
        piece = Piece.read(document | {"segments": self.segments(values)})
        try:
            cloth = Cloth(piece, compile_piece(piece))
        except PlanError as error:
            raise StarterError(
                _("{title} cannot be knitted with these values: {message}").format(
                    title=_(self.title), message=error.message
                )
            ) from None
        return Piece.read(
            document | {"segments": self.segments(values), "seams": list(self.seams(values, cloth))}
        )

    def _yarn(self, values: Values, yarn: str) -> dict[str, Any]:
        key = "tex" if yarn == "main" else f"{yarn}_tex"
        return YARNS[yarn] | ({"tex": tidy(values.number(key))} if values.has(key) else {})

    def titled(self, values: Values) -> str:
        """The title of the piece."""
        if not self.sizes:
            return _(self.title)
        return _("{title}, size {size}").format(title=_(self.title), size=values.word("size"))

    @abstractmethod
    def width(self, values: Values) -> int:
        """How many needles the piece takes; the bed must have so many."""

    @abstractmethod
    def segments(self, values: Values) -> Sequence[Segment]:
        """The segments of the piece.

        Raises:
            StarterError: if there can be none of these measures.
        """

    @abstractmethod
    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The seams, laid along the passes as they were knitted."""

    @abstractmethod
    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """The measures of the piece, taken off the fabric.

        Raises:
            Missing: at a part that is not there any more.
        """


def _is_fabric(yarn: str) -> bool:
    return bool(YARNS[yarn]["role"] == "fabric")


def _shown(value: Given | None) -> Given | None:
    return tidy(value) if isinstance(value, int | float) else value


__all__ = ["CM", "COUNT", "Given", "Parameter", "Starter", "StarterError", "Values"]
