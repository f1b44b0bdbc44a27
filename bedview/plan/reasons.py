"""Why: one short sentence about a pass, told from what the bed did in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from bedview.bed.events import Event, Indices
from bedview.bed.fabric import NOTHING
from bedview.bed.needles import Position, Side
from bedview.bed.state import BedState
from bedview.plan.words import Words


@dataclass(frozen=True, slots=True)
class Pass:
    """A pass and the moment before it.

    Attributes:
        before: the state before it.
        event: what it was.
        since: number of the first action of the step it belongs to.
        hand_wrap: the needle on which the yarn's last loop lies as a hand wrap, or -1.
        on_waste: whether loops of waste lie uppermost on all needles that drop.
    """

    before: BedState
    event: Event
    since: int
    hand_wrap: int
    on_waste: bool

    @property
    def newly_held(self) -> Indices:
        """Loop-bearing needles that hands brought to hold in this step."""
        before = self.before
        held = (before.position == Position.HOLD) & (before.height > 0)
        return np.flatnonzero(held & (before.held_since >= self.since))

    @property
    def knit_in_hold(self) -> Indices:
        """Needles that knitted though they stood in hold."""
        knit = self.event.knit
        in_hold: Indices = knit[self.before.position[knit] == Position.HOLD]
        return in_hold

    @property
    def returned(self) -> Indices:
        """Needles with loops that knitted from upper working."""
        knit = self.event.knit
        before = self.before
        back: Indices = knit[(before.position[knit] == Position.UPPER) & (before.height[knit] > 0)]
        return back


def why(words: Words, made: Pass, reason: str = "") -> str:
    """One short sentence that says why the pass does what it does; empty if it needs no saying.

    Args:
        words: the language.
        made: the pass.
        reason: what the segment says of it, in that language. What is amiss goes before it, what is as it
            always is comes after it.
    """
    for tell in _TELLING:
        sentence = tell(words, made)
        if sentence:
            return sentence
    return reason or _knit_together(words, made)


def _nothing_threaded(words: Words, made: Pass) -> str:
    _ = words.gettext
    if made.event.yarn >= 0:
        return ""
    if len(made.event.dropped):
        text = _("There is no yarn in the feeder, so {needles} drop off.")
        if len(made.event.facts.unsecured):
            text = _("There is no yarn in the feeder, so {needles} drop off with nothing to hold them.")
        elif made.on_waste:
            text = _("There is no yarn in the feeder, so {needles} drop off, safe in the waste.")
        return text.format(needles=words.needles(made.event.dropped))
    return _("There is no yarn in the feeder, so nothing knits.")


def _nothing_acts(words: Words, made: Pass) -> str:
    return "" if len(made.event.knit) else words.gettext("No needle works, so only the carriage moves.")


def _cams_off(words: Words, made: Pass) -> str:
    knit = made.knit_in_hold
    if not len(knit):
        return ""
    text = words.ngettext(
        "The hold cams are off, so {needles} knits too.",
        "The hold cams are off, so {needles} knit too.",
        len(knit),
    )
    return text.format(needles=words.needles(knit))


def _laid_in(words: Words, made: Pass) -> str:
    laid_in = made.event.laid_in
    if not len(laid_in):
        return ""
    text = words.ngettext(
        "{needles} was empty: the yarn is only laid in there.",
        "{needles} were empty: the yarn is only laid in there.",
        len(laid_in),
    )
    return text.format(needles=words.needles(laid_in))


def _wrapped_beside(words: Words, made: Pass) -> str:
    """The yarn leaves from a held needle, or lies across several."""
    outside = _outside(made)
    if not len(outside):
        return ""
    _ = words.gettext
    names = words.needles(outside)
    if len(outside) > 1:
        return _("The yarn lies across {needles} on its way, so this pass wraps them all.").format(
            needles=names
        )
    unwrapped = np.setdiff1d(made.newly_held, made.event.wrapped)
    if len(unwrapped):
        text = words.ngettext(
            "This pass wraps {wrapped}, where the yarn leaves; {needles}, on the far side, is not wrapped.",
            "This pass wraps {wrapped}, where the yarn leaves; {needles}, on the far side, are not wrapped.",
            len(unwrapped),
        )
        return text.format(wrapped=names, needles=words.needles(unwrapped))
    if outside[0] in made.newly_held:
        return _("The yarn leaves from {needle}, so this pass wraps it: no gap here.").format(needle=names)
    return _("The yarn passes {needle} on its way, so this pass wraps it.").format(needle=names)


def _wrapped_by_hand(words: Words, made: Pass) -> str:
    if made.hand_wrap < 0 or made.before.position[made.hand_wrap] != Position.HOLD:
        return ""
    return words.gettext("{needle} is wrapped by hand, so this pass lays no second wrap on it.").format(
        needle=words.needles([made.hand_wrap])
    )


def _far_side(words: Words, made: Pass) -> str:
    unwrapped = np.setdiff1d(made.newly_held, np.concatenate((made.event.wrapped, made.event.knit)))
    if not len(unwrapped):
        return ""
    knit = made.event.knit
    beyond = unwrapped > knit[-1] if made.before.carriage is Side.LEFT else unwrapped < knit[0]
    if made.before.tip == NOTHING:
        text = words.ngettext(
            "This strand is new and wraps nothing: {needles} only waits.",
            "This strand is new and wraps nothing: {needles} only wait.",
            len(unwrapped),
        )
    elif beyond.all():
        text = words.ngettext(
            "{needles} is on the far side: this pass does not wrap it.",
            "{needles} are on the far side: this pass does not wrap them.",
            len(unwrapped),
        )
    else:
        text = words.ngettext(
            "The yarn does not reach {needles}: this pass does not wrap it.",
            "The yarn does not reach {needles}: this pass does not wrap them.",
            len(unwrapped),
        )
    return text.format(needles=words.needles(unwrapped))


def _wrapped_between(words: Words, made: Pass) -> str:
    between = np.setdiff1d(made.event.wrapped, _outside(made))
    if not len(between):
        return ""
    text = words.ngettext(
        "{needles} waits in hold between working needles, so this pass lays the yarn round it.",
        "{needles} wait in hold between working needles, so this pass lays the yarn round them.",
        len(between),
    )
    return text.format(needles=words.needles(between))


def _knits_again(words: Words, made: Pass) -> str:
    returned = made.returned
    if not len(returned):
        return ""
    wrapped = bool((made.before.wraps[returned] > 0).any())
    if wrapped:
        text = words.ngettext(
            "{needles} knits again, its wrap together with its stitch.",
            "{needles} knit again, wraps together with stitches.",
            len(returned),
        )
    else:
        text = words.ngettext("{needles} knits again.", "{needles} knit again.", len(returned))
    return text.format(needles=words.needles(returned))


def _knit_together(words: Words, made: Pass) -> str:
    before, knit = made.before, made.event.knit
    double = knit[before.height[knit] - before.wraps[knit] > 1]
    if not len(double):
        return ""
    text = words.ngettext(
        "The stitches on {needles} knit together.",
        "The stitches on each of {needles} knit together.",
        len(double),
    )
    return text.format(needles=words.needles(double))


def _outside(made: Pass) -> Indices:
    """Needles that the pass wrapped outside the stretch that knits."""
    wrapped, knit = made.event.wrapped, made.event.knit
    outside: Indices = wrapped[(wrapped < knit[0]) | (wrapped > knit[-1])]
    return outside


_TELLING: tuple[Callable[[Words, Pass], str], ...] = (
    _nothing_threaded,
    _nothing_acts,
    _cams_off,
    _laid_in,
    _wrapped_beside,
    _wrapped_by_hand,
    _far_side,
    _wrapped_between,
    _knits_again,
)
"""What there may be to say, the most telling first."""
