"""The process that works for the page Finish, as a real process."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from bedview.finish.told import Told
from bedview.picture.look import LIGHT
from bedview.plan.piece import Piece
from bedview.ui.finish.messages import Marks, Picture, PictureWanted, Shaped
from bedview.ui.finish.shape_process import FRAMES
from bedview.ui.finish.turning import Turning
from bedview.ui.finish.workshop import Workshop
from tests.finish.pieces import document, flat, graft, toe_and_flaps

_TIMEOUT_MS = 60_000
BAG = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")]).piece


def wanted(width: int = 120, height: int = 90) -> PictureWanted:
    return PictureWanted(
        position=FRAMES - 1,
        turning=Turning.from_view("side"),
        width=width,
        height=height,
        ratio=1.0,
        colour_by="segment",
        marks=Marks(),
        with_way=False,
        palette=LIGHT,
        moving=False,
    )


@pytest.fixture
def workshop() -> Iterator[Workshop]:
    made = Workshop()
    yield made
    made.close()


def test_it_tells_then_shapes_then_paints(qtbot: QtBot, workshop: Workshop) -> None:
    told: list[Told] = []
    workshop.told.connect(told.append)
    with qtbot.waitSignal(workshop.shaped, timeout=_TIMEOUT_MS) as shaped:
        workshop.begin(BAG)
    assert told[0].steps[0].title == "Graft “other flap” to “toe”"
    assert isinstance(shaped.args[0], Shaped)
    assert shaped.args[0].frames == FRAMES
    with qtbot.waitSignal(workshop.picture_painted, timeout=_TIMEOUT_MS) as painted:
        workshop.ask_picture(wanted())
    picture = painted.args[0]
    assert isinstance(picture, Picture)
    assert (picture.width, picture.height, len(picture.pixels)) == (120, 90, 4 * 120 * 90)
    with qtbot.waitSignal(workshop.loop_found, timeout=_TIMEOUT_MS) as found:
        workshop.ask_loop(60, 45)
    assert isinstance(found.args[0], int)


def test_another_piece_stops_the_one_before(qtbot: QtBot, workshop: Workshop) -> None:
    titles: list[str] = []
    workshop.told.connect(lambda told: titles.extend(step.title for step in told.steps))
    failures: list[str] = []
    workshop.failed.connect(failures.append)
    workshop.begin(BAG)
    process = workshop._process
    assert process is not None
    with qtbot.waitSignal(workshop.shaped, timeout=_TIMEOUT_MS):
        workshop.begin(Piece.read(document(flat(6))))
    # Nothing of the first piece came through, and its process is gone.
    assert titles == ["Darn in 2 ends"]
    qtbot.waitUntil(lambda: not process.is_alive(), timeout=_TIMEOUT_MS)
    assert failures == []


def test_stopping_ends_the_process_and_says_nothing(qtbot: QtBot, workshop: Workshop) -> None:
    failures: list[str] = []
    workshop.failed.connect(failures.append)
    workshop.begin(BAG)
    process = workshop._process
    assert process is not None
    workshop.stop()
    qtbot.waitUntil(lambda: not process.is_alive(), timeout=_TIMEOUT_MS)
    workshop.ask_picture(wanted())
    assert failures == []


def test_a_process_that_ends_by_itself_is_told(qtbot: QtBot, workshop: Workshop) -> None:
    with qtbot.waitSignal(workshop.shaped, timeout=_TIMEOUT_MS):
        workshop.begin(BAG)
    process = workshop._process
    assert process is not None
    with qtbot.waitSignal(workshop.failed, timeout=_TIMEOUT_MS) as failed:
        process.kill()
    assert failed.args == ["the program that works it out has ended"]
    # Questions are not answered any more, but do no harm.
    workshop.ask_loop(1, 1)


def test_only_the_last_way_is_told(qtbot: QtBot, workshop: Workshop) -> None:
    with qtbot.waitSignal(workshop.shaped, timeout=_TIMEOUT_MS):
        workshop.begin(Piece.read(document(flat(6))))
    lengths: list[float] = []
    workshop.way_found.connect(lengths.append)
    # Ten loops cast on and then rows of ten, 5 mm apart: the same loop twice, then its neighbour.
    workshop.ask_way(0, 12, 12)
    workshop.ask_way(0, 12, 13)
    qtbot.waitUntil(lambda: len(lengths) == 1, timeout=_TIMEOUT_MS)
    assert lengths == [pytest.approx(5, rel=0.02)]
