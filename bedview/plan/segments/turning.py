"""Partial knitting: how a stretch of needles grows narrower and wider again, row by row.

A needle brought to hold on the carriage's side is wrapped by the coming pass, because the yarn leaves from
it; but only one at a time, or the yarn would lie across them all. A needle brought to hold on the far side is
not wrapped: it needs a wrap by hand, or an opening stays. From these two facts every sequence here follows.
Rows are as few as they can be: one needle a row takes as many rows as needles are held.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from bedview.bed import actions as do
from bedview.bed.fabric import HAND_WRAP
from bedview.bed.needles import Side
from bedview.language import gettext as _
from bedview.plan.segments.base import Ends, SegmentError, Wraps
from bedview.plan.segments.maker import Maker
from bedview.plan.words import CROSSING, NO_FLOAT


@dataclass(frozen=True, slots=True)
class Manner:
    """How needles go to hold, or come back from it.

    Attributes:
        ends: at which ends.
        step: needles each time, at one end.
        wraps: who wraps the needle next to the stretch.
    """

    ends: Ends
    step: int
    wraps: Wraps


@dataclass(slots=True)
class HeldSides:
    """Needles waiting in hold beside a stretch, on each side the nearest first."""

    left: list[int] = field(default_factory=list)
    right: list[int] = field(default_factory=list)

    def on(self, side: Side) -> list[int]:
        """Those on one side."""
        return self.left if side is Side.LEFT else self.right

    def any(self) -> bool:
        """Whether any are left."""
        return bool(self.left or self.right)

    def take(self, side: Side, count: int) -> list[int]:
        """Take away the ``count`` nearest of one side, or as many as there are."""
        row = self.on(side)
        taken = row[:count]
        del row[:count]
        return taken


def wrap_by_hand(maker: Maker, needle: int) -> None:
    """Wrap a held needle by hand, unless the yarn's last loop is a hand wrap on it already."""
    tip = maker.state.tip
    if tip >= 0 and maker.fabric.kind[tip] == HAND_WRAP and maker.fabric.needle[tip] == needle:
        return
    maker.do(do.Wrap(needle))


def outermost(maker: Maker, side: Side, count: int) -> list[int]:
    """The ``count`` outermost working needles on a side, the innermost of them first."""
    working = maker.working()
    return working[:count][::-1] if side is Side.LEFT else working[-count:]


# -- narrower ---------------------------------------------------------------------------------------------


def narrow(maker: Maker, count: int, manner: Manner) -> None:
    """Bring ``count`` working needles to hold, row by row; at least one must be left working.

    ``in_turn`` takes ``ceil(count / step)`` rows, and one more where groups of more than one are wrapped
    automatically; ``both_each_row`` half of ``count``; one side two rows a step, and one before them if the
    carriage stands on the wrong side.
    """
    match manner.ends:
        case "in_turn" if manner.wraps == "automatic":
            _narrow_in_turn_wrapping(maker, count, manner.step)
        case "in_turn":
            _narrow_in_turn(maker, count, manner)
        case "both_each_row":
            _narrow_both(maker, count, manner)
        case "left" | "right":
            _narrow_one_side(maker, count, manner, Side(manner.ends))


def _narrow_in_turn(maker: Maker, count: int, manner: Manner) -> None:
    """Each group on the far side; the pass arrives beside it, and a hand may wrap its nearest needle."""
    while count:
        group = outermost(maker, maker.state.carriage.other, min(manner.step, count))
        maker.hold(group)
        count -= len(group)
        maker.knit()
        if manner.wraps == "hand":
            wrap_by_hand(maker, group[0])


def _narrow_in_turn_wrapping(maker: Maker, count: int, step: int) -> None:
    """All of a group but one on the far side, the one when the carriage has come there."""
    one_here = step == 1
    while count:
        going = outermost(maker, maker.state.carriage, 1) if one_here else []
        far = min(step, count - len(going)) - 1
        if far > 0:
            going += outermost(maker, maker.state.carriage.other, far)
        if going:
            maker.hold(going)
        count -= len(going)
        one_here = True
        maker.knit()


def _narrow_both(maker: Maker, count: int, manner: Manner) -> None:
    """One at the carriage's side, which the pass wraps, and one far off, which only a hand can wrap."""
    while count:
        going = outermost(maker, maker.state.carriage, 1)
        far = outermost(maker, maker.state.carriage.other, 1) if count > 1 else []
        maker.hold(going + far)
        count -= 1 + len(far)
        maker.knit()
        if manner.wraps != "none" and far:
            wrap_by_hand(maker, far[0])


def _narrow_one_side(maker: Maker, count: int, manner: Manner, side: Side) -> None:
    automatic = manner.wraps == "automatic"
    if automatic and manner.step == 1 and maker.state.carriage is side:
        for _ in range(count):
            maker.hold(outermost(maker, side, 1))
            maker.knit(2)
        return
    maker.carry_to(side.other, CROSSING)
    while count:
        size = min(manner.step, count)
        group = outermost(maker, side, size)
        far = group[1:] if automatic else group
        if far:
            maker.hold(far)
        maker.knit()
        if automatic:
            maker.hold(group[:1])
        elif manner.wraps == "hand":
            wrap_by_hand(maker, group[0])
        maker.knit()
        count -= size


# -- wider ------------------------------------------------------------------------------------------------


def beside_stretch(maker: Maker, needles: Iterable[int]) -> HeldSides:
    """Sort held needles by the side of the working stretch they wait on.

    Raises:
        SegmentError: if one of them stands between working needles, or none works.
    """
    working = maker.need_working()
    waiting = sorted(needles)
    between = [needle for needle in waiting if working[0] < needle < working[-1]]
    if between:
        names = maker.names(between)
        raise SegmentError(
            _("{names} cannot come back row by row, between working needles; choose all at once").format(
                names=names
            )
        )
    return around_stretch(maker, waiting)


def around_stretch(maker: Maker, needles: Iterable[int]) -> HeldSides:
    """Sort held needles by the side of the working stretch; those inside it count to the far side."""
    working = maker.working()
    waiting = sorted(needles)
    if maker.state.carriage is Side.LEFT:
        first = working[0] if working else 0
        return HeldSides(
            [each for each in waiting if each < first][::-1], [each for each in waiting if each >= first]
        )
    last = working[-1] if working else maker.state.needles
    return HeldSides(
        [each for each in waiting if each <= last][::-1], [each for each in waiting if each > last]
    )


def widen(maker: Maker, waiting: HeldSides, manner: Manner) -> None:
    """Bring held needles back to upper working, row by row.

    ``in_turn`` takes as many rows as there are steps, and one more where a last group of several waits on the
    carriage's side; ``both_each_row`` as many as the longer side needs; one side two rows a step, and one
    before them if the carriage stands on the wrong side.

    Args:
        maker: the hand.
        waiting: the needles to bring back; emptied.
        manner: how. Automatic wraps come one needle at a time: on the far side one more is brought back than
            stays, and it is held again when the carriage has come to it.
    """
    match manner.ends:
        case "in_turn" if manner.wraps == "automatic":
            _widen_in_turn_wrapping(maker, waiting)
        case "in_turn":
            _widen_in_turn(maker, waiting, manner)
        case "both_each_row":
            _widen_both(maker, waiting, manner)
        case "left" | "right":
            _widen_one_side(maker, waiting, manner, Side(manner.ends))


def bring_all_back(maker: Maker, waiting: HeldSides) -> None:
    """Bring all held needles back with as few rows as can be: none, or one.

    The yarn leaves from the carriage's side of the stretch. Needles that came back beyond it would be knitted
    first, and the yarn would run loose to them; so they wait until a row has carried it to the other side.
    """
    here = maker.state.carriage
    maker.bring_back(waiting.take(here.other, len(waiting.on(here.other))))
    beside_yarn = waiting.take(here, len(waiting.on(here)))
    if beside_yarn and maker.state.tip >= 0:
        maker.knit(1, NO_FLOAT)
    maker.bring_back(beside_yarn)


def _wrap_nearest(maker: Maker, waiting: HeldSides, manner: Manner) -> None:
    """Before a returning row: a hand wrap round the nearest held needle at the carriage's side."""
    here = waiting.on(maker.state.carriage)
    if manner.wraps == "hand" and here:
        wrap_by_hand(maker, here[0])


def _widen_in_turn(maker: Maker, waiting: HeldSides, manner: Manner) -> None:
    while waiting.any():
        _wrap_nearest(maker, waiting, manner)
        here = maker.state.carriage
        side = here.other if waiting.on(here.other) else here
        if side is not here or manner.step == 1:
            maker.bring_back(waiting.take(side, manner.step))
        maker.knit(1, NO_FLOAT if side is here and manner.step > 1 else "")


def _widen_in_turn_wrapping(maker: Maker, waiting: HeldSides) -> None:
    again: list[int] = []
    while waiting.any():
        here = maker.state.carriage
        if waiting.on(here.other):
            if again:
                maker.hold(again)
            coming = waiting.take(here.other, 1)
            again = waiting.on(here.other)[:1]
            maker.bring_back(coming + again)
            maker.knit()
            continue
        # Nothing waits on the far side, so the one that was to be held again stays back for good.
        waiting.take(here, len(again))
        again = []
        if waiting.any():
            maker.bring_back(waiting.take(here, 1))
            maker.knit()


def _widen_both(maker: Maker, waiting: HeldSides, manner: Manner) -> None:
    while waiting.any():
        _wrap_nearest(maker, waiting, manner)
        maker.bring_back(waiting.take(Side.LEFT, manner.step) + waiting.take(Side.RIGHT, manner.step))
        maker.knit()


def _widen_one_side(maker: Maker, waiting: HeldSides, manner: Manner, side: Side) -> None:
    other = waiting.on(side.other)
    if other:
        raise SegmentError(
            _("on the other side {needles} would come back too; name one side's needles").format(
                needles=maker.names(other)
            ),
            "ends",
        )
    if maker.state.carriage is side:
        _wrap_nearest(maker, waiting, manner)
        maker.knit(1, CROSSING)
    while waiting.any():
        coming = waiting.take(side, manner.step)
        again = waiting.on(side)[:1] if manner.wraps == "automatic" else []
        maker.bring_back(coming + again)
        maker.knit()
        _wrap_nearest(maker, waiting, manner)
        if again:
            maker.hold(again)
        maker.knit()
