"""The next thing to do, in one sentence of two acts: what hands do, what the carriage does; and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QTextLayout, QTextOption
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from bedview.bed.needles import Side
from bedview.plan.steps import Step
from bedview.ui.parts.labels import Label
from bedview.ui.theme import TextSize, Theme

SIZES = (3.0, 2.5, 2.0, 1.625, 1.25, 1.125, 1.0)
"""Shares of body text to try for the sentence, the largest that fits first."""


class Actor(Enum):
    """Who acts."""

    HANDS = "hands"
    LEFTWARDS = "carriage to the left"
    RIGHTWARDS = "carriage to the right"
    NOBODY = "nobody"


SIGNS = {
    Actor.HANDS: "•\N{NO-BREAK SPACE}",
    Actor.LEFTWARDS: "←\N{NO-BREAK SPACE}",
    Actor.RIGHTWARDS: "→\N{NO-BREAK SPACE}",
    Actor.NOBODY: "",
}
"""What each act begins with; a shape of its own, so that colour is never alone."""


@dataclass(frozen=True, slots=True)
class Act:
    """A part of the sentence, with the stop or comma that ends it."""

    text: str
    actor: Actor


def acts_of(step: Step, towards: Side | None) -> tuple[Act, ...]:
    """The sentence of a step: one for hands and carriage together where they are short.

    Args:
        step: the step.
        towards: where its pass goes, None if it makes none.
    """
    hands, carriage = step.hands, step.carriage
    moves = Actor.LEFTWARDS if towards is Side.LEFT else Actor.RIGHTWARDS
    if carriage and len(hands) == 1 and "," not in hands[0] and "." not in hands[0]:
        together = carriage[:1].lower() + carriage[1:]
        return Act(f"{hands[0]},", Actor.HANDS), Act(f"{together}.", moves)
    acts = [Act(_ended(text), Actor.HANDS) for text in hands]
    if carriage:
        acts.append(Act(f"{carriage}.", moves))
    return tuple(acts)


def _ended(text: str) -> str:
    return text if text.endswith((".", "!", "?", "…")) else f"{text}."


class StepWords(Label):
    """The sentence as large as fits, and the reason below it.

    A label to readers; painted by itself, so that a step costs no new layout of the page.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self._theme = theme
        self._where = self._why = ""
        self._acts: tuple[Act, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_words(self, where: str, acts: Sequence[Act], why: str) -> None:
        """Say something else.

        Args:
            where: a quiet line above the sentence.
            acts: the sentence.
            why: a quiet line below it.
        """
        self._where, self._acts, self._why = where, tuple(acts), why
        self.setText(" ".join(part for part in (self.sentence, why) if part))
        self.update()

    @property
    def sentence(self) -> str:
        """What is to be done."""
        return " ".join(act.text for act in self._acts)

    @property
    def why(self) -> str:
        """The reason shown below it."""
        return self._why

    @override
    def sizeHint(self) -> QSize:
        return QSize(500, self._theme.px(130))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(200, self._theme.px(96))

    @override
    def hasHeightForWidth(self) -> bool:
        return False

    # -- painting -----------------------------------------------------------------------------------------

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        theme, wide = self._theme, float(self.width())
        # On a tall page the quiet lines grow too, if less than the sentence.
        grown = max(1.0, min(self.height() / theme.px(140), 1.35))
        where = _set(self._where, _grown(theme.font(TextSize.BODY), grown), wide)
        why = _set(self._why, _grown(theme.font(TextSize.LEAD), grown), wide)
        gap = theme.px(4 * grown)
        room = self.height() - _height(where) - _height(why) - 2 * gap
        sentence = self._fitting(wide, room, grown)
        with QPainter(self) as painter:
            painter.setPen(QColor(theme.look.quiet_ink))
            where.draw(painter, QPointF(0, 0))
            y = _height(where) + gap
            painter.setPen(QColor(theme.look.ink))
            sentence.draw(painter, QPointF(0, y))
            y += _height(sentence) + gap
            painter.setPen(QColor(theme.look.quiet_ink))
            why.draw(painter, QPointF(0, y))

    def _fitting(self, wide: float, room: float, grown: float) -> QTextLayout:
        """The sentence in the largest size that fits; the smallest if none does."""
        text = " ".join(f"{SIGNS[act.actor]}{act.text}" for act in self._acts)
        signs = self._signs()
        font = self._theme.font(bold=True)
        body_px = font.pixelSize() * grown
        for share in SIZES:
            font.setPixelSize(round(body_px * share))
            laid_out = _set(text, font, wide, signs)
            if _height(laid_out) <= room and (laid_out.lineCount() <= 2 or share <= 1.25):
                break
        return laid_out

    def _signs(self) -> list[QTextLayout.FormatRange]:
        """Every act begins with a sign in the colour its actor has in the picture."""
        look = self._theme.look
        colours = {Actor.HANDS: look.hands, Actor.LEFTWARDS: look.carriage, Actor.RIGHTWARDS: look.carriage}
        ranges = []
        start = 0
        for act in self._acts:
            sign = SIGNS[act.actor]
            if sign:
                found = QTextLayout.FormatRange()
                found.start, found.length = start, len(sign)
                found.format.setForeground(QColor(colours[act.actor]))
                ranges.append(found)
            start += len(sign) + len(act.text) + 1
        return ranges


def _grown(font: QFont, by: float) -> QFont:
    font.setPixelSize(round(font.pixelSize() * by))
    return font


def _set(text: str, font: QFont, wide: float, formats: Sequence[QTextLayout.FormatRange] = ()) -> QTextLayout:
    """A text in lines no wider than ``wide``."""
    laid_out = QTextLayout(text, font)
    laid_out.setFormats(list(formats))
    option = QTextOption()
    option.setWrapMode(QTextOption.WrapMode.WordWrap)
    laid_out.setTextOption(option)
    laid_out.beginLayout()
    y = 0.0
    while text:
        line = laid_out.createLine()
        if not line.isValid():
            break
        line.setLineWidth(max(1.0, wide))
        line.setPosition(QPointF(0, y))
        y += line.height() * 1.04
    laid_out.endLayout()
    return laid_out


def _height(laid_out: QTextLayout) -> float:
    return laid_out.boundingRect().height()
