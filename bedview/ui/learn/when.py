"""When something comes back, as one says it."""

from __future__ import annotations

from datetime import datetime, timedelta

from PySide6.QtCore import QCoreApplication

from bedview.ui.parts.counting import counted


def when_again(due: datetime, now: datetime) -> str:
    """In how long something is due: "in 10 minutes", "tomorrow", "in 5 days".

    Args:
        due: in UTC.
        now: in UTC.
    """

    def tr(text: str) -> str:
        return QCoreApplication.translate("when", text)

    wait = due - now
    if wait <= timedelta():
        return tr("now")
    if wait < timedelta(hours=1):
        minutes = max(1, round(wait / timedelta(minutes=1)))
        return counted(tr("in a minute"), tr("in {count} minutes"), minutes)
    if wait < timedelta(hours=20):
        return counted(tr("in an hour"), tr("in {count} hours"), max(1, round(wait / timedelta(hours=1))))
    days = max(1, round(wait / timedelta(days=1)))
    return counted(tr("tomorrow"), tr("in {count} days"), days)
