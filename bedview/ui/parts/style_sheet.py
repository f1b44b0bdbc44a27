"""The style sheet: every colour pair and size that widgets are dressed in, made from a look.

Widgets say what they are by the property ``part``; texts say their size by ``text_size`` and their colour by
``tone``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bedview.picture.colour import mix, readable
from bedview.picture.look import MARK_CONTRAST, Palette


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes in pixels.

    Attributes:
        family: the typeface.
        texts: height of text by the name of its size (``small``, ``body``, ``lead``, ``title``,
            ``headline``).
        px: turns a length at the usual text size into one at the present.
    """

    family: str
    texts: Mapping[str, int]
    px: Callable[[float], int]


def outline_of(look: Palette) -> str:
    """Colour of the line round what can be pressed: seen, but quiet."""
    return readable(readable(look.line, look.paper, MARK_CONTRAST), look.card, MARK_CONTRAST)


def hovered(colour: str, look: Palette) -> str:
    """A ground with the pointer on it."""
    return mix(colour, look.ink, 0.07)


def style_sheet(look: Palette, sizes: Sizes) -> str:
    """The style sheet of a window."""
    parts = (
        _base(look, sizes),
        _texts(look, sizes),
        _buttons(look, sizes),
        _chips_and_pills(look, sizes),
        _fields(look, sizes),
        _sliders(look, sizes),
        _panels(look, sizes),
        _menus(look, sizes),
    )
    return "\n".join(parts)


def _base(look: Palette, sizes: Sizes) -> str:
    return f"""
QWidget {{ font-family: "{sizes.family}"; font-size: {sizes.texts["body"]}px; color: {look.ink}; }}
QMainWindow, QWidget[part="page"], QDialog {{ background: {look.paper}; }}
QToolTip {{
    background: {look.body}; color: {look.on_body}; border: 1px solid {look.body};
    padding: {sizes.px(5)}px; font-size: {sizes.texts["small"]}px;
}}
QScrollArea, QScrollArea > QWidget > QWidget[part="plain"] {{ background: transparent; border: none; }}
QScrollBar:vertical {{ background: transparent; width: {sizes.px(12)}px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: {sizes.px(12)}px; margin: 0; }}
QScrollBar::handle {{ background: {outline_of(look)}; border-radius: {sizes.px(4)}px; margin: 2px; }}
QScrollBar::handle:vertical {{ min-height: {sizes.px(32)}px; }}
QScrollBar::handle:horizontal {{ min-width: {sizes.px(32)}px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
"""


def _texts(look: Palette, sizes: Sizes) -> str:
    by_size = "\n".join(
        f'QLabel[text_size="{name}"] {{ font-size: {pixels}px; }}' for name, pixels in sizes.texts.items()
    )
    return f"""
QLabel {{ background: transparent; color: {look.ink}; }}
{by_size}
QLabel[bold="true"] {{ font-weight: 600; }}
QLabel[tone="quiet"] {{ color: {look.quiet_ink}; }}
QLabel[tone="warning"] {{ color: {look.warning}; }}
QLabel[tone="hands"] {{ color: {look.hands}; }}
QLabel[tone="carriage"] {{ color: {look.carriage}; }}
QLabel[part="badge"] {{ color: {look.on_body}; background: {look.body}; border-radius: {sizes.px(12)}px;
    padding: {sizes.px(2)}px {sizes.px(10)}px; font-weight: 600; }}
"""


def _buttons(look: Palette, sizes: Sizes) -> str:
    outline = outline_of(look)
    return f"""
QPushButton {{
    background: {look.card}; color: {look.ink}; border: 1px solid {outline};
    border-radius: {sizes.px(9)}px; padding: {sizes.px(7)}px {sizes.px(15)}px;
    min-height: {sizes.px(24)}px;
}}
QPushButton:hover {{ background: {hovered(look.card, look)}; color: {look.ink}; }}
QPushButton:pressed {{ background: {mix(look.card, look.ink, 0.15)}; color: {look.ink}; }}
QPushButton:disabled {{ color: {mix(look.quiet_ink, look.paper, 0.35)}; border-color: {look.line}; }}
QPushButton[part="primary"] {{
    background: {look.carriage}; color: {look.on_carriage}; border-color: {look.carriage}; font-weight: 600;
}}
QPushButton[part="primary"]:hover {{
    background: {mix(look.carriage, look.ink, 0.12)}; color: {look.on_carriage};
}}
QPushButton[part="quiet"] {{ background: transparent; border-color: transparent; }}
QPushButton[part="quiet"]:hover {{ background: {hovered(look.paper, look)}; color: {look.ink}; }}
QPushButton[part="link"] {{
    background: transparent; color: {look.carriage}; border-color: transparent; font-weight: 600;
    padding: {sizes.px(2)}px 0px; text-align: left;
}}
QPushButton[part="link"]:hover, QPushButton[part="line"]:hover {{ text-decoration: underline; }}
QPushButton[part="line"] {{
    background: transparent; color: {look.ink}; border-color: transparent;
    padding: {sizes.px(1)}px {sizes.px(4)}px; text-align: left;
}}
QPushButton[large="true"] {{
    min-height: {sizes.px(48)}px; padding: {sizes.px(2)}px {sizes.px(22)}px;
    font-size: {sizes.texts["title"]}px; border-radius: {sizes.px(12)}px;
}}
QPushButton:checked {{ background: {look.body}; color: {look.on_body}; border-color: {look.body}; }}
QPushButton[part="link"]:checked {{ background: transparent; color: {look.ink}; border-color: transparent; }}
QPushButton::menu-indicator {{ image: none; width: 0; }}
"""


def _chips_and_pills(look: Palette, sizes: Sizes) -> str:
    return f"""
QPushButton[part="chip"] {{
    border-radius: {sizes.px(15)}px; padding: {sizes.px(3)}px {sizes.px(13)}px;
    min-height: {sizes.px(24)}px; font-size: {sizes.texts["small"]}px;
}}
QPushButton[part="tab"] {{
    background: transparent; border-color: transparent; border-radius: {sizes.px(15)}px;
    padding: {sizes.px(3)}px {sizes.px(6)}px; min-height: {sizes.px(24)}px;
}}
QPushButton[part="tab"]:hover {{ background: {hovered(look.paper, look)}; color: {look.ink}; }}
QPushButton[part="tab"]:checked {{
    background: {look.body}; color: {look.on_body}; border-color: {look.body};
}}
QPushButton[part="pill"] {{
    background: transparent; border-color: transparent; border-radius: {sizes.px(18)}px;
    padding: {sizes.px(6)}px {sizes.px(19)}px; font-size: {sizes.texts["lead"]}px;
}}
QPushButton[part="pill"]:hover {{ background: {hovered(look.paper, look)}; color: {look.ink}; }}
QPushButton[part="pill"]:checked {{
    background: {look.body}; color: {look.on_body}; border-color: {look.body}; font-weight: 600;
}}
"""


def _fields(look: Palette, sizes: Sizes) -> str:
    outline = outline_of(look)
    return f"""
QLineEdit, QSpinBox, QDoubleSpinBox, QComboBox {{
    background: {look.card}; color: {look.ink}; border: 1px solid {outline};
    border-radius: {sizes.px(8)}px; padding: {sizes.px(6)}px {sizes.px(10)}px;
    min-height: {sizes.px(22)}px;
    selection-background-color: {look.carriage}; selection-color: {look.on_carriage};
}}
QComboBox::drop-down {{ border: none; width: {sizes.px(20)}px; }}
QComboBox QAbstractItemView {{
    background: {look.card}; color: {look.ink}; border: 1px solid {outline}; outline: none;
    selection-background-color: {look.carriage}; selection-color: {look.on_carriage};
}}
QLineEdit[part="title"] {{
    background: transparent; border-color: transparent; padding: {sizes.px(2)}px 0px;
    font-size: {sizes.texts["title"]}px; font-weight: 600;
}}
QLineEdit[part="title"]:hover {{ background: {hovered(look.card, look)}; }}
QPlainTextEdit[part="lines"] {{
    background: {look.card}; color: {look.ink}; border: 1px solid {outline};
    border-radius: {sizes.px(8)}px; padding: {sizes.px(4)}px; font-size: {sizes.texts["small"]}px;
    selection-background-color: {look.carriage}; selection-color: {look.on_carriage};
}}
QLineEdit:focus, QSpinBox:focus, QDoubleSpinBox:focus, QComboBox:focus {{
    border: 2px solid {look.carriage}; padding: {sizes.px(6) - 1}px {sizes.px(10) - 1}px;
}}
"""


def _sliders(look: Palette, sizes: Sizes) -> str:
    groove, handle = sizes.px(6), sizes.px(24)
    return f"""
QSlider:horizontal {{ min-height: {handle + 4}px; }}
QSlider::groove:horizontal {{
    background: {outline_of(look)}; height: {groove}px; border-radius: {groove // 2}px;
}}
QSlider::sub-page:horizontal {{ background: {look.carriage}; border-radius: {groove // 2}px; }}
QSlider::handle:horizontal {{
    background: {look.card}; border: {sizes.px(3)}px solid {look.carriage};
    width: {handle - 2 * sizes.px(3)}px; height: {handle - 2 * sizes.px(3)}px;
    margin: -{(handle - groove) // 2}px 0; border-radius: {handle // 2}px;
}}
QSlider::handle:horizontal:focus {{ border-color: {look.ink}; }}
QProgressBar {{
    background: {look.line}; border: none; border-radius: {groove // 2}px;
    min-height: {groove}px; max-height: {groove}px;
}}
QProgressBar::chunk {{ background: {look.carriage}; border-radius: {groove // 2}px; }}
"""


def _panels(look: Palette, sizes: Sizes) -> str:
    return f"""
QFrame[part="card"] {{
    background: {look.card}; border: 1px solid {look.line}; border-radius: {sizes.px(13)}px;
}}
QFrame[part="warning_card"] {{
    background: {warning_ground(look)}; border: 1px solid {look.warning}; border-radius: {sizes.px(13)}px;
}}
QFrame[part="strip"] {{ background: {look.body}; border-radius: {sizes.px(10)}px; }}
QFrame[part="strip"] QLabel {{ color: {look.on_body}; }}
QFrame[part="strip"] QPushButton {{
    background: {look.body_field}; color: {look.on_body}; border-color: {look.body_field};
}}
QFrame[part="rule"] {{ background: {look.line}; border: none; max-height: 1px; min-height: 1px; }}
"""


def warning_ground(look: Palette) -> str:
    """Ground of a card that tells of a finding: the card's, with a breath of the warning."""
    return look.card if look.name == "contrast" else mix(look.card, look.warning, 0.10)


def _menus(look: Palette, sizes: Sizes) -> str:
    return f"""
QMenu {{
    background: {look.card}; color: {look.ink}; border: 1px solid {outline_of(look)};
    padding: {sizes.px(6)}px;
}}
QMenu::item {{
    padding: {sizes.px(7)}px {sizes.px(26)}px {sizes.px(7)}px {sizes.px(26)}px;
    border-radius: {sizes.px(6)}px; background: transparent;
}}
QMenu::item:selected {{ background: {look.body}; color: {look.on_body}; }}
QMenu::item:disabled {{ color: {mix(look.quiet_ink, look.card, 0.35)}; }}
QMenu::separator {{ height: 1px; background: {look.line}; margin: {sizes.px(6)}px {sizes.px(10)}px; }}
QMenu::indicator {{ width: {sizes.px(12)}px; height: {sizes.px(12)}px; left: {sizes.px(8)}px; }}
QMenu::indicator:checked {{ background: {look.carriage}; border-radius: {sizes.px(6)}px; }}
"""
