"""Swatches: what to knit, what was counted on them, and the gauge that follows.

A swatch carries markers so many stitches and rows apart. It is measured between them, before it is washed and
after it has rested, and may be weighed. Several of one yarn and dial are counted together.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Annotated, Final, Literal, NamedTuple, Self

from pydantic import BaseModel, Field, PlainValidator, model_validator

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.cautions import Caution
from bedview.plan.fields import STRICT, Dial, PitchMm, SwatchMm, Tex, Title, Words, YarnId, within
from bedview.plan.loop_length import Relaxation, constants, loop_mm, loop_mm_by_weight
from bedview.plan.piece import Gauge, Yarn
from bedview.plan.yarn_counts import grams_of

OVER_MM: Final = 100.0
"""What the gauges of a swatch are stated over."""
EDGE_WIDTHS: Final = 4.6
"""Yarn of a cast-on or bound edge over its width (nimble-needles, long-tail measurements)."""
OFF_SCALE: Final = 0.15
"""How far a swatch's weight may lie from the theory's before we say so: more than Munden's states, dry to
full, explain (derived)."""
APART: Final = 0.03
"""How far a swatch may lie from the others of its yarn and dial before we say so (common practice)."""

USUAL_NAMES: Final = (marked("main yarn"), marked("lining yarn"))
"""Names that yarns of new pieces come with."""

Grams = Annotated[int | float, PlainValidator(within(0.01, 100_000))]
Hours = Annotated[int | float, PlainValidator(within(0, 10_000))]
Stitches = Annotated[int, Field(ge=1, le=400)]
SwatchRows = Annotated[int, Field(ge=1, le=9999)]


class Measured(BaseModel):
    """What the marked stretch measures at one moment.

    Attributes:
        width_mm: across the marked stitches.
        height_mm: up the marked rows.
        rested_hours: how long it lay before.
    """

    model_config = STRICT

    width_mm: SwatchMm
    height_mm: SwatchMm
    rested_hours: Hours | None = None


class KnittedSwatch(BaseModel):
    """One knitted swatch.

    Attributes:
        yarn: id of the yarn; in a swatch book, which outlasts a piece, what people call it.
        tension: the dial.
        needles: needles it was knitted on.
        rows: rows it was knitted for.
        marked_stitches: stitches between the markers, all of them if there are no markers.
        marked_rows: rows between the markers, the same.
        before: what it measured off the machine.
        after: what it measured washed and rested.
        grams: what the whole swatch weighs, dry, without waste.
        closed_edges: how many of cast-on and bind-off it has; none if it hung in waste.
        pitch_mm: the bed it was knitted on.
        tex: of its yarn, grams of 1,000 metres.
        title: what people call it.
        note: anything else.
    """

    model_config = STRICT

    yarn: YarnId
    tension: Dial
    needles: Stitches
    rows: SwatchRows
    marked_stitches: Stitches
    marked_rows: SwatchRows
    before: Measured | None = None
    after: Measured | None = None
    grams: Grams | None = None
    closed_edges: Literal[0, 1, 2] = 2
    pitch_mm: PitchMm | None = None
    tex: Tex | None = None
    title: Title = ""
    note: Words = ""

    @model_validator(mode="after")
    def _marked_inside(self) -> Self:
        if self.marked_stitches > self.needles:
            raise ValueError(
                _("{marked_stitches} stitches are marked of only {needles}").format(
                    marked_stitches=self.marked_stitches, needles=self.needles
                )
            )
        if self.marked_rows > self.rows:
            raise ValueError(
                _("{marked_rows} rows are marked of only {rows}").format(
                    marked_rows=self.marked_rows, rows=self.rows
                )
            )
        return self

    @property
    def settled(self) -> Measured | None:
        """The measure to plan by: washed and rested if there is one."""
        return self.after or self.before

    @property
    def state(self) -> Relaxation:
        """How far the fabric had come to rest when it was measured last."""
        return Relaxation.WET if self.after else Relaxation.DRY

    def change(self) -> tuple[float, float] | None:
        """How much it grew by washing, across and up; 0.05 is 5 % more, negative that it shrank."""
        if self.before is None or self.after is None:
            return None
        return (
            self.after.width_mm / self.before.width_mm - 1,
            self.after.height_mm / self.before.height_mm - 1,
        )

    def loops(self) -> float:
        """The whole swatch in loops' worth of yarn: its stitches, and its closed edges for what they take."""
        edge = EDGE_WIDTHS / constants(self.state).wales
        return self.needles * (self.rows + self.closed_edges * edge)

    def loop_mm_by_scale(self, tex: float) -> float | None:
        """Yarn in one stitch as the scale says; None if it was not weighed."""
        return None if self.grams is None else loop_mm_by_weight(self.grams, tex, self.loops())

    def tex_by_scale(self, loop: float) -> float | None:
        """Tex of the yarn as the scale says if a stitch takes ``loop`` mm; None if it was not weighed."""
        return None if self.grams is None else self.grams * 1_000_000 / (loop * self.loops())


class Stock(BaseModel):
    """What lies at hand of a yarn.

    Attributes:
        yarn: what people call it.
        balls: its balls as they were written: "3 x 50 g, 20 g".
    """

    model_config = STRICT

    yarn: YarnId
    balls: Annotated[str, Field(min_length=1, max_length=200)]


class SwatchBook(BaseModel):
    """What is kept for the next piece: every swatch, in the order they were knitted, and the yarn at hand."""

    model_config = STRICT

    format: Annotated[int, Field(ge=1, le=1)] = 1
    swatches: Annotated[tuple[KnittedSwatch, ...], Field(strict=False, max_length=2_000)] = ()
    stock: Annotated[tuple[Stock, ...], Field(strict=False, max_length=2_000)] = ()

    def of(self, yarn: str, tension: float | None = None) -> tuple[KnittedSwatch, ...]:
        """The swatches of a yarn, of one dial if asked."""
        return tuple(
            swatch for swatch in self.swatches if swatch.yarn == yarn and tension in {None, swatch.tension}
        )

    def of_yarns(self, yarns: Iterable[Yarn]) -> tuple[KnittedSwatch, ...]:
        """The swatches of the yarns of a piece, each under the yarn's id there.

        A yarn is known by its name: ids such as ``main`` mean another yarn in each piece.
        """
        return tuple(
            swatch.model_copy(update={"yarn": yarn.id})
            for yarn in yarns
            if own_name(yarn.name)
            for swatch in self.swatches
            if same_yarn(swatch.yarn, yarn.name)
        )

    def balls_of(self, yarn: str) -> str:
        """What lies at hand of a yarn, as it was written; empty for nothing."""
        return next((each.balls for each in self.stock if same_yarn(each.yarn, yarn)), "")

    def with_balls(self, yarn: str, balls: str) -> SwatchBook:
        """The book with other balls of a yarn; with none of them if ``balls`` is empty."""
        others = tuple(each for each in self.stock if not same_yarn(each.yarn, yarn))
        new = (Stock(yarn=yarn, balls=balls),) if balls else ()
        return self.model_copy(update={"stock": (*others, *new)})

    def with_swatch(self, new: KnittedSwatch, old: KnittedSwatch | None = None) -> SwatchBook:
        """The book with a swatch more, or with one in the place of another."""
        if old in self.swatches:
            place = self.swatches.index(old)
            kept = (*self.swatches[:place], new, *self.swatches[place + 1 :])
        else:
            kept = (*self.swatches, new)
        return self.model_copy(update={"swatches": kept})

    def without(self, swatch: KnittedSwatch) -> SwatchBook:
        """The book without a swatch."""
        return self.model_copy(update={"swatches": tuple(each for each in self.swatches if each != swatch)})

    def gauges(self) -> tuple[Gauge, ...]:
        """A gauge a yarn and dial, in the order of the first swatch of each that was measured."""
        kinds = dict.fromkeys((swatch.yarn, swatch.tension) for swatch in self.swatches if swatch.settled)
        return tuple(pooled_gauge(self.of(yarn, tension)) for yarn, tension in kinds)

    def cautions(self) -> list[Caution]:
        """What to say of swatches that lie apart from others of their yarn and dial."""
        found: list[Caution] = []
        for gauge in self.gauges():
            for place, swatch in enumerate(self.of(gauge.yarn, gauge.tension), 1):
                if (apart := _apart(swatch, gauge)) > APART:
                    found.append(_lies_apart(swatch, place, apart))
        return found


def own_name(name: str) -> str:
    """What a yarn is called, empty for one that was given no name yet.

    New pieces have a "main yarn", which is another one each time.
    """
    said = " ".join(name.split()).casefold()
    usual = {each.casefold() for word in USUAL_NAMES for each in (word, _(word))}
    return "" if said in usual else name


def same_yarn(one: str, other: str) -> bool:
    """Whether two names are of one yarn: capitals and spaces do not matter."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def gauge_of_counts(
    yarn: str, tension: float, counts: tuple[float, float], size_mm: tuple[float, float]
) -> Gauge:
    """The gauge of stitches and rows counted over a width and a height.

    Args:
        yarn: id of the yarn.
        tension: the dial.
        counts: stitches and rows; also needles and rows of a whole swatch.
        size_mm: the width and height they were counted over.

    Returns:
        A gauge over 10 cm, to a thousandth of a stitch.
    """
    stitches, rows = (round(count * OVER_MM / size, 3) for count, size in zip(counts, size_mm, strict=True))
    return Gauge(yarn=yarn, tension=tension, stitches=stitches, rows=rows, over_mm=OVER_MM)


def gauge_of(swatch: KnittedSwatch) -> Gauge | None:
    """The gauge of one swatch, washed and rested if it was; None if it was not measured."""
    return pooled_gauge([swatch]) if swatch.settled else None


def pooled_gauge(swatches: Iterable[KnittedSwatch]) -> Gauge:
    """The gauge of several swatches of one yarn and dial, as if they were one large one.

    Washed ones count alone if there are any, since before washing a fabric has another size.

    Raises:
        ValueError: if none was measured, or they are of different yarns or dials.
    """
    found = [(swatch, swatch.settled) for swatch in swatches]
    if any(swatch.after for swatch, _ in found):
        found = [(swatch, swatch.after) for swatch, _ in found]
    known = [(swatch, measured) for swatch, measured in found if measured is not None]
    if len({(swatch.yarn, swatch.tension) for swatch, _ in known}) != 1:
        raise ValueError(_("a gauge is of one yarn at one dial, and measured"))
    counts = (
        sum(swatch.marked_stitches for swatch, _ in known),
        sum(swatch.marked_rows for swatch, _ in known),
    )
    size = (sum(each.width_mm for _, each in known), sum(each.height_mm for _, each in known))
    return gauge_of_counts(known[0][0].yarn, known[0][0].tension, counts, size)


def pooled_state(swatches: Iterable[KnittedSwatch]) -> Relaxation:
    """How far the fabric had come to rest that :func:`pooled_gauge` counts."""
    return Relaxation.WET if any(swatch.after for swatch in swatches) else Relaxation.DRY


def weighed(swatches: Sequence[KnittedSwatch]) -> KnittedSwatch | None:
    """The last swatch among these that was weighed; its figure replaces the theory."""
    return next((swatch for swatch in reversed(swatches) if swatch.grams is not None), None)


class Weighing(NamedTuple):
    """What a swatch weighs beside what its gauge and the yarn's tex say."""

    grams: float
    expected_g: float

    @property
    def ratio(self) -> float:
        """How many times the expected weight it has."""
        return self.grams / self.expected_g

    def caution(self) -> Caution | None:
        """What to say if the two are far apart; the scale goes before the theory."""
        if abs(self.ratio - 1) <= OFF_SCALE:
            return None
        values = {"grams": self.grams, "expected": self.expected_g}
        sentence = marked(
            "The swatch weighs {grams:.1f} g; its gauge and tex say {expected:.1f} g. The scale is followed; "
            "look whether tex and counts are right"
        )
        return Caution("scale-differs", "note", sentence, values)


def weigh(swatch: KnittedSwatch, tex: float) -> Weighing | None:
    """A swatch's weight beside the theory; None if it was not both weighed and measured."""
    gauge = gauge_of(swatch)
    if gauge is None or swatch.grams is None:
        return None
    metres = swatch.loops() * loop_mm(gauge, swatch.state) / 1000
    return Weighing(swatch.grams, grams_of(metres, tex))


def _apart(swatch: KnittedSwatch, gauge: Gauge) -> float:
    """How far a swatch lies from a gauge, as a part of it, by the worse of its two counts."""
    own = gauge_of(swatch)
    if own is None:
        return 0.0
    return max(abs(own.stitches / gauge.stitches - 1), abs(own.rows / gauge.rows - 1))


def _lies_apart(swatch: KnittedSwatch, place: int, apart: float) -> Caution:
    return Caution(
        "swatch-apart",
        "note",
        marked(
            "Swatch {place} of '{yarn}' at tension {tension:g} lies {percent:.0f} % from the gauge of all; "
            "count it again, or leave it out"
        ),
        {"place": place, "yarn": swatch.yarn, "tension": swatch.tension, "percent": 100 * apart},
    )
