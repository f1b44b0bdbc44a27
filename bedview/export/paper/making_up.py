"""The making up on paper: seams, waste and tails in the order of the hands, and the cards that show how."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from bedview.export.paper.pages import INK, MM, Block, Placed, paragraph
from bedview.export.paper.writing import BODY, SMALL, Writer, air
from bedview.finish.card_drawing import draw_card
from bedview.finish.cards import TechniqueCard, technique_card
from bedview.finish.told import MakingStep, Told
from bedview.language import gettext as _
from bedview.picture.finding_signs import finding_sign
from bedview.picture.marks import Box, Mark, MeasureText, Pen

_INDENT: Final = 9.0 * MM
_TICK: Final = 4.4 * MM
_DRAWING_WIDE_MM: Final = 62.0
_DRAWING_PIXELS: Final = 420.0


@dataclass(frozen=True, slots=True)
class MakingUpPages:
    """Writes the making up as blocks.

    Attributes:
        told: what is to be done.
        writer: what writes them.
    """

    told: Told
    writer: Writer

    def blocks(self) -> Iterator[Block]:
        """All of it; nothing for a piece that is done when it leaves the bed."""
        if not self.told.steps:
            return
        yield self.writer.title(_("Making up"), new_page=False)
        yield from self._open_loops()
        yield from self._misfits()
        for number, step in enumerate(self.told.steps, 1):
            yield from self._step(number, step)
        yield from self._cards()

    def _open_loops(self) -> Iterator[Block]:
        if not self.told.groups:
            return
        yield self.writer.heading(_("Open loops"))
        for name, line in self.told.groups:
            yield self.writer.point(_("{group}: {what}").format(group=name, what=line), 0, BODY)
        yield air(3)

    def _misfits(self) -> Iterator[Block]:
        # What merely stays open is among the steps.
        wrong = [each for each in self.told.misfits if each.severity != "note"]
        if not wrong:
            return
        yield self.writer.heading(_("What does not fit"))
        for each in wrong:
            sign = finding_sign(each.severity, 2 * MM, 0.7 * BODY, 3.6 * MM, INK)
            lines, tall = paragraph(
                f"{each.says} {each.way_out}",
                self.writer.room - 6 * MM,
                BODY,
                self.writer.measure,
                at=(6 * MM, 0.0),
            )
            yield Block(tall + 1 * MM, (*sign, *lines))
        yield air(3)

    def _step(self, number: int, step: MakingStep) -> Iterator[Block]:
        """A box to tick, what to do, and what is worth knowing besides."""
        title, tall = paragraph(
            f"{number}. {step.title}",
            self.writer.room - _INDENT,
            BODY,
            self.writer.measure,
            at=(_INDENT, 0.0),
            bold=True,
        )
        tick = Box(0.5 * MM, 0.3 * MM, _TICK, _TICK, 0.8 * MM, INK.paper, Pen(INK.quiet_ink, 0.25 * MM))
        says, high = paragraph(
            step.says, self.writer.room - _INDENT, BODY, self.writer.measure, at=(_INDENT, tall + 0.3 * MM)
        )
        yield Block(tall + high + 1 * MM, (tick, *title, *says), with_next=bool(step.details or step.cards))
        for place, detail in enumerate(step.details, 1):
            last = place == len(step.details) and not step.cards
            block = self.writer.point(detail, _INDENT)
            # The last two lines stay together, so that none stands alone on a new page.
            yield Block(block.height, block.marks, with_next=not last and place >= len(step.details) - 1)
        if step.cards:
            titles = "; ".join(technique_card(name).title for name in step.cards)
            shown = _("How: {cards}").format(cards=titles)
            yield self.writer.text(shown, SMALL, indent=_INDENT, colour=INK.quiet_ink)
        yield air(2.5)

    # -- cards --------------------------------------------------------------------------------------------

    def _cards(self) -> Iterator[Block]:
        """Every card a step names, once, in the order in which they are needed."""
        names = list(dict.fromkeys(name for step in self.told.steps for name in step.cards))
        if names:
            yield air(3)
            yield self.writer.heading(_("How it is done"))
        for name in names:
            yield self._card(technique_card(name))

    def _card(self, card: TechniqueCard) -> Block:
        """The drawing at the left, its sentences at the right."""
        scale = _DRAWING_WIDE_MM * MM / _DRAWING_PIXELS
        picture = draw_card(card.drawing, _DRAWING_PIXELS, INK)
        left = (_DRAWING_WIDE_MM + 6) * MM
        said, tall = self._said(card, left)
        placed = Placed(picture, 0, 1.5 * MM, scale)
        return Block(max(tall, picture.height * scale + 1.5 * MM) + 5 * MM, tuple(said), (placed,))

    def _said(self, card: TechniqueCard, left: float) -> tuple[list[Mark], float]:
        steps = [f"{number}. {step}" for number, step in enumerate(card.steps, 1)]
        return _below_another(
            [(card.title, BODY, True), (card.when, SMALL, False), *((step, SMALL, False) for step in steps)],
            left,
            self.writer.room - left,
            self.writer.measure,
        )


def _below_another(
    texts: Sequence[tuple[str, float, bool]], left: float, room: float, measure: MeasureText
) -> tuple[list[Mark], float]:
    """Texts one below the other, each with its size and weight; and how tall they are."""
    marks: list[Mark] = []
    tall = 0.0
    for text, size, bold in texts:
        lines, high = paragraph(text, room, size, measure, at=(left, tall), bold=bold)
        marks += lines
        tall += high + 0.8 * MM
    return marks, tall
