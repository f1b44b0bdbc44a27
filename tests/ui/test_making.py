from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bedview.store.journal import Journal
from bedview.store.journal_file import JournalError
from bedview.ui.desk import Desk
from bedview.ui.pages.knit_page import KnitPage
from bedview.ui.pages.making import PageMaker
from bedview.ui.pages.names import KNIT
from bedview.ui.theme import Theme
from tests.ui.desktop import rehearsal, remembered


def test_a_journal_that_cannot_be_read_costs_the_memory_and_no_more(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unreadable(_journal: Journal, _path: Path) -> None:
        raise JournalError("the disk makes noises")

    monkeypatch.setattr(Journal, "latest", unreadable)
    kept = remembered(tmp_path)
    desk = Desk(kept)
    monkeypatch.setattr(Desk, "known_as", property(lambda _: tmp_path / "mooring.piece.json"))
    maker = PageMaker(
        rehearsal(), desk, Theme(kept.look, kept.text_scale), kept, tmp_path / "journal.sqlite3"
    )
    with qtbot.waitSignal(maker.trouble_met) as told:
        page = maker.make(KNIT)
    qtbot.addWidget(page)
    assert isinstance(page, KnitPage)
    assert told.args == ["Your place will not be remembered: the disk makes noises."]
    assert maker.run is not None
    maker.run.confirm()
    assert maker.run.cursor == 1
    maker.put_away()
