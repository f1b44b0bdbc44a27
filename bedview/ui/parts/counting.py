"""Numbers of things in sentences."""

from __future__ import annotations

from bedview import language


def counted(one: str, many: str, count: int) -> str:
    """The sentence for one thing or for several, with the number at ``{count}``.

    Qt's own plurals need a translation file even for English, and would show "row(s)" without one.
    """
    return (one if language.is_one(count) else many).format(count=count)
