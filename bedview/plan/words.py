"""What is said to the knitter: every sentence about hands and carriage, in one place.

Sentences are made of an action, the state before it and, for a pass, the event it was (those stand in
:mod:`bedview.plan.reasons`): nothing is said that did not happen on the bed. Each is one whole string with
named gaps, looked up in :mod:`bedview.language`, so that a translation may order it as its language wants.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, Protocol

import numpy as np

from bedview import language
from bedview.bed import actions as do
from bedview.bed.actions import Action, HandAction, MadeEdge, Maker, OpenEdge, SideEdge
from bedview.bed.needles import Position, Side, needle_name, runs
from bedview.bed.state import BedState
from bedview.language import marked, number
from bedview.plan.transfers import TogetherMove

_NAMES_SHOWN: Final = 12
"""Stretches of needles named one by one in a sentence; nobody reads more."""


NO_FLOAT: Final = marked("One row first, or the yarn would run loose across the needles that come back.")
CROSSING: Final = marked(
    "One row first: needles go to hold, or come back, on the side away from the carriage."
)
TO_THE_YARN: Final = marked(
    "One row first: the yarn for these stitches is at the carriage, on the other side."
)
TURNING_ROW: Final = marked("The row to fold at, looser than the others.")
CLOSES_HEM: Final = marked("This row knits both layers of the hem together.")
OFF_THE_WASTE: Final = marked("When all loops are on the needles, take the waste out.")


class YarnName(Protocol):
    """A yarn, as far as words need it."""

    @property
    def id(self) -> str:
        """The name actions use."""

    @property
    def name(self) -> str:
        """What people call it, or ""."""


class Words:
    """Sentences about one bed and its yarns.

    Args:
        bed_needles: how many needles the bed has.
        yarns: the piece's yarns.
        short_forms: say WP, UWP, HP and NWP for the positions, as printed instructions do (with a key).
    """

    gettext = staticmethod(language.gettext)
    ngettext = staticmethod(language.ngettext)

    def __init__(
        self,
        bed_needles: int,
        yarns: Sequence[YarnName],
        *,
        short_forms: bool = False,
    ) -> None:
        self._needles = bed_needles
        self._yarns = {yarn.id: yarn for yarn in yarns}
        self._by_index = [yarn.id for yarn in yarns]
        self.short_forms = short_forms

    # -- names --------------------------------------------------------------------------------------------

    def needles(self, indices: Iterable[int]) -> str:
        """Needles in a sentence: "L10 to R4 and R7"."""
        _ = self.gettext
        parts = []
        for first, last in runs(int(index) for index in indices):
            names = needle_name(first, self._needles), needle_name(last, self._needles)
            apart = last - first
            if apart > 1:
                parts.append(_("{first} to {last}").format(first=names[0], last=names[1]))
            else:
                parts.extend(names[: apart + 1])
        if len(parts) > _NAMES_SHOWN:
            parts = [*parts[: _NAMES_SHOWN - 1], _("more")]
        if len(parts) < 2:
            return "".join(parts)
        listed = ", ".join(parts[:-1])
        return _("{first} and {last}").format(first=listed, last=parts[-1])

    def side(self, side: Side) -> str:
        """A side of the bed: "the left"."""
        return self.gettext("the left") if side is Side.LEFT else self.gettext("the right")

    def yarn(self, yarn_id: str) -> str:
        """A yarn in a sentence: "the blue wool", or "the yarn “main”" if it has no name."""
        yarn = self._yarns.get(yarn_id)
        if yarn is None or not yarn.name:
            return self.gettext("the yarn “{id}”").format(id=yarn_id)
        return self.gettext("the {yarn}").format(yarn=self.gettext(yarn.name))

    def position(self, position: Position) -> str:
        """The name of a position, or its short form."""
        _ = self.gettext
        if self.short_forms:
            return {Position.OUT: "NWP", Position.WORK: "WP", Position.UPPER: "UWP", Position.HOLD: "HP"}[
                position
            ]
        return {
            Position.OUT: _("out of work"),
            Position.WORK: _("working position"),
            Position.UPPER: _("upper working"),
            Position.HOLD: _("hold"),
        }[position]

    def position_key(self) -> list[str]:
        """What the short forms stand for; empty if words are used."""
        _ = self.gettext
        if not self.short_forms:
            return []
        return [
            _("HP: hold"),
            _("UWP: upper working, the stitch behind the open latch"),
            _("WP: working"),
            _("NWP: out of work"),
        ]

    # -- hands --------------------------------------------------------------------------------------------

    def hand(self, action: HandAction, before: BedState) -> tuple[str, ...]:
        """What hands do, a sentence or more, without the full stop.

        Args:
            action: a hand action.
            before: the state before it.
        """
        match action:
            case do.Place():
                return self._place(action, before)
            case do.Thread() | do.Cut() | do.Park() | do.Resume():
                return (self._yarn_action(action, before),)
            case do.CastOn() | do.Wrap() | do.Transfer() | do.BindOff() | do.Hang():
                return (self._loops(action, before),)
            case _:
                return (self._setting(action, before),)

    def _place(self, action: do.Place, before: BedState) -> tuple[str, ...]:
        needles = np.array(sorted(action.needles), np.intp)
        stood = before.position[needles].astype(np.int16)
        forward, back = needles[stood < action.position], needles[stood > action.position]
        sentences = []
        if len(forward):
            sentences.append(self._moved(forward, action.position, is_back=False))
        if len(back):
            sentences.append(self._moved(back, action.position, is_back=True))
        if not sentences:
            sentences.append(self._left_in(needles, action.position))
        return tuple(sentences)

    def _moved(self, needles: Iterable[int], position: Position, *, is_back: bool) -> str:
        _ = self.gettext
        names, where = self.needles(needles), self.position(position)
        if position is Position.OUT and not self.short_forms:
            return _("Push {needles} back out of work").format(needles=names)
        if is_back:
            return _("Push {needles} back to {position}").format(needles=names, position=where)
        return _("Bring {needles} to {position}").format(needles=names, position=where)

    def _left_in(self, needles: Iterable[int], position: Position) -> str:
        _ = self.gettext
        names, where = self.needles(needles), self.position(position)
        if position is Position.OUT and not self.short_forms:
            return _("Leave {needles} out of work").format(needles=names)
        return _("Leave {needles} in {position}").format(needles=names, position=where)

    def _yarn_action(self, action: do.Thread | do.Cut | do.Park | do.Resume, before: BedState) -> str:
        _ = self.gettext
        old = self.yarn(self._by_index[before.yarn]) if before.threaded else ""
        match action:
            case do.Thread(yarn) if old:
                return _("Cut {old} and thread {new}").format(old=old, new=self.yarn(yarn))
            case do.Thread(yarn):
                return _("Thread {yarn}").format(yarn=self.yarn(yarn))
            case do.Cut(None):
                return _("Cut {yarn}").format(yarn=old)
            case do.Cut(tail_cm):
                return _("Cut {yarn}, leaving a tail of {cm} cm").format(yarn=old, cm=number(tail_cm or 0.0))
            case do.Park():
                return _("Take {yarn} out of the feeder and let it wait, uncut").format(yarn=old)
            case do.Resume(yarn) if old:
                return _("Let {old} wait, uncut, and put {new} back into the feeder").format(
                    old=old, new=self.yarn(yarn)
                )
        return _("Put {yarn}, which waits, back into the feeder").format(yarn=self.yarn(action.yarn))

    def _loops(
        self, action: do.CastOn | do.Wrap | do.Transfer | do.BindOff | do.Hang, before: BedState
    ) -> str:
        _ = self.gettext
        match action:
            case do.CastOn(needles):
                return _("Cast on {needles} with e-wraps, ending at {side}").format(
                    needles=self.needles(needles), side=self.side(before.carriage)
                )
            case do.Wrap(needle):
                return _("Wrap {needle} by hand").format(needle=self.needles([needle]))
            case do.Transfer(source, target):
                text = self.ngettext(
                    "Move the loop of {source} onto {target}",
                    "Move all {count} loops of {source} onto {target}",
                    int(before.height[source]),
                )
                return text.format(
                    count=before.height[source], source=self.needles([source]), target=self.needles([target])
                )
            case do.BindOff(needles):
                return _("Bind off {needles}, beginning at {side}").format(
                    needles=self.needles(needles), side=self.side(before.carriage)
                )
        return self._hung(action, before)

    def _hung(self, action: do.Hang, before: BedState) -> str:
        _ = self.gettext
        heel_row = _row_of_heel(action, before)
        if heel_row is not None:
            return _("Hang the heel of the stitch beside it, from row {row}, on the empty {needle}").format(
                row=heel_row, needle=self.needles(action.needles)
            )
        hung = {"edge": self.edge(action.edge), "needles": self.needles(action.needles)}
        # A side edge that runs from left to right shows the same face only on the left of the fabric.
        other_face = action.turned != (isinstance(action.edge, SideEdge) and action.edge.side is Side.RIGHT)
        if other_face:
            return _("Turn the fabric and hang {edge} on {needles}, the other face towards you").format(
                **hung
            )
        return _("Hang {edge} on {needles}").format(**hung)

    def together(self, move: TogetherMove, before: BedState) -> str:
        """The sentence for stitches that a transfer tool moves in one go.

        Args:
            move: what it does.
            before: the state before it.
        """
        _ = self.gettext
        match move.goes_in(before):
            case True:
                text = _(
                    "Move the stitches of {needles} one needle in, with the {count}-needle transfer tool"
                )
            case False:
                text = _(
                    "Move the stitches of {needles} one needle out, with the {count}-needle transfer tool"
                )
            case None if move.step < 0:
                text = _(
                    "Move the stitches of {needles} one needle to the left, "
                    "with the {count}-needle transfer tool"
                )
            case None:
                text = _(
                    "Move the stitches of {needles} one needle to the right, "
                    "with the {count}-needle transfer tool"
                )
        return text.format(needles=self.needles(move.sources), count=len(move.sources))

    def brief_together(self, move: TogetherMove, before: BedState) -> str:
        """The same in few words: "R10 to R12 one in"."""
        _ = self.gettext
        goes_in = move.goes_in(before)
        if goes_in is None:
            text = _("{needles} one to the left") if move.step < 0 else _("{needles} one to the right")
        else:
            text = _("{needles} one in") if goes_in else _("{needles} one out")
        return text.format(needles=self.needles(move.sources))

    def edge(self, edge: do.Edge) -> str:
        """An edge in a sentence: "the open loops of L10 to R10"."""
        _ = self.gettext
        match edge:
            case OpenEdge(needles, None):
                return _("the open loops of {needles}").format(needles=self.needles(needles))
            case OpenEdge(needles, in_pass):
                return _("the loops of {needles} that dropped in row {row}").format(
                    needles=self.needles(needles), row=in_pass
                )
            case SideEdge(side, first, last):
                text = _("the left edge, rows {first} to {last}")
                if side is Side.RIGHT:
                    text = _("the right edge, rows {first} to {last}")
                return text.format(first=first, last=last)
        text = {
            Maker.PASS: _("the loops of row {row}"),
            Maker.CAST_ON: _("the cast-on edge"),
            Maker.BIND_OFF: _("the bound-off edge"),
        }[edge.by or (Maker.CAST_ON if edge.in_pass == 0 else Maker.PASS)].format(row=edge.in_pass)
        return text if edge.needles is None else self._edge_on(text, edge)

    def _edge_on(self, text: str, edge: MadeEdge) -> str:
        return self.gettext("{edge} of {needles}").format(edge=text, needles=self.needles(edge.needles or ()))

    def _setting(self, action: HandAction, before: BedState) -> str:
        _ = self.gettext
        match action:
            case do.HoldCams(on):
                return _("Set the hold cams to on") if on else _("Set the hold cams to off")
            case do.Tension(dial):
                return _("Set the tension dial to {dial}").format(dial=number(dial))
            case do.SetCounter(value):
                return _("Set the row counter to {value}").format(value=value)
            case do.Note(text, ()):
                # What starters and demos note is translated too; what knitters note, nobody has translated.
                return _(text)
            case do.Note(text, needles):
                return _("{note} ({needles})").format(note=_(text), needles=self.needles(needles))
            case _:
                return _("Lift the carriage off and set it down on {side}").format(
                    side=self.side(before.carriage.other)
                )

    # -- carriage -----------------------------------------------------------------------------------------

    def carriage(self, before: BedState) -> str:
        """What the carriage does in a pass, without the full stop."""
        _ = self.gettext
        side = self.side(before.carriage.other)
        if not before.threaded:
            return _("Run the empty carriage to {side}").format(side=side)
        if not len(before.what_acts().acting):
            return _("Move the carriage to {side}").format(side=side)
        return _("Knit to {side}").format(side=side)

    # -- in few words -------------------------------------------------------------------------------------

    def brief(self, action: Action, before: BedState) -> tuple[str, ...]:
        """The same in few words, for what comes next: "L10 to hold"."""
        _ = self.gettext
        match action:
            case do.Knit() if before.threaded:
                text = _("knit to {side}").format(side=self.side(before.carriage.other))
            case do.Knit():
                text = _("empty carriage to {side}").format(side=self.side(before.carriage.other))
            case do.Place(needles, position):
                text = self._brief_place(needles, position)
            case do.Wrap(needle):
                text = _("wrap {needle} by hand").format(needle=self.needles([needle]))
            case do.HoldCams(on):
                text = _("hold cams on") if on else _("hold cams off")
            case do.Thread(yarn):
                text = _("thread {yarn}").format(yarn=self.yarn(yarn))
            case do.Cut() if before.threaded:
                text = _("cut {yarn}").format(yarn=self.yarn(self._by_index[before.yarn]))
            case _:
                return self.hand(action, before)
        return (text,)

    def _brief_place(self, needles: Iterable[int], position: Position) -> str:
        _ = self.gettext
        names = self.needles(needles)
        if position is Position.OUT and not self.short_forms:
            return _("{needles} out of work").format(needles=names)
        return _("{needles} to {position}").format(needles=names, position=self.position(position))


def _row_of_heel(action: do.Hang, before: BedState) -> int | None:
    """The row of a heel that fills an empty needle from right beside it; None for any other hang."""
    match action:
        case do.Hang((needle,), MadeEdge(row, (column,), Maker.PASS)):
            beside = abs(needle - column) <= 1 and row < before.passes
            return row if beside and not before.height[needle] else None
    return None
