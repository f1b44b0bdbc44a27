"""States in one line: hand-written lines, random states there and back, lines that are refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.bed.actions import (
    CastOn,
    HoldCams,
    Knit,
    Place,
    SetCounter,
    Tension,
    Thread,
    Transfer,
    Wrap,
    YarnRole,
)
from bedview.bed.needles import Bed, Position, Side
from bedview.bed.notation import Described, NotationError, describe, parse
from bedview.bed.timeline import Timeline
from tests.bed.running import run
from tests.reference.procedures import random_piece

BED = Bed(8, 4.5, Side.RIGHT)
YARNS = [("main", YarnRole.FABRIC), ("two words\n", YarnRole.WASTE)]


def line(timeline: Timeline) -> str:
    return describe(timeline.state, timeline.bed, timeline.machine.yarns)


def test_a_short_row_reads_like_the_bed() -> None:
    timeline = Timeline(BED, YARNS)
    assert line(timeline) == "L4 oooooooo R4 carriage right"
    timeline.append(Thread("main"))
    timeline.append(CastOn((0, 1, 2, 3, 4, 5)))
    assert line(timeline) == "L4 wwwwwwoo R4 carriage right yarn main"
    timeline.append(HoldCams(on=True))
    timeline.append(Place((4, 5), Position.HOLD))
    timeline.append(Knit(1))
    # The cast-on ends next to the carriage, so the yarn leaves from R2: both held needles are wrapped.
    assert (
        line(timeline) == "L4 wwwwhhoo R4 carriage left cams on pass 1 loops R1-R2=2 wraps R1-R2=1 yarn main"
    )


def test_only_what_is_not_plain_is_said() -> None:
    timeline = Timeline(BED, YARNS)
    for action in (
        Thread("main"),
        CastOn((2, 3, 4)),
        Tension(6.5),
        Knit(3),
        SetCounter(7),
        Transfer(2, 3),
        Place((4,), Position.HOLD),
        Wrap(4),
        Thread("two words\n"),
    ):
        timeline.append(action)
    assert line(timeline) == (
        r"L4 oowwhooo R4 carriage left pass 3 row 7 dial 6.5 loops L2=0,L1-R1=2 wraps R1=1 yarn two words\a;"
    )
    assert parse(line(timeline)).yarn == "two words\n"


def test_a_line_is_read() -> None:
    assert parse("L2 owuh R2 carriage left cams on pass 4 row 0 dial 6 loops R2=3 wraps R2=2 yarn a b") == (
        Described(
            positions=(Position.OUT, Position.WORK, Position.UPPER, Position.HOLD),
            carriage=Side.LEFT,
            hold_cams=True,
            passes=4,
            row=0,
            dial=6,
            heights=(0, 1, 1, 3),
            wraps=(0, 0, 0, 2),
            yarn="a b",
        )
    )


@pytest.mark.parametrize("seed", range(12))
def test_every_state_there_and_back(seed: int) -> None:
    timeline = run(random_piece(seed))
    for at in range(-1, timeline.lines):
        state = timeline.state_at(at)
        text = describe(state, timeline.bed, timeline.machine.yarns)
        said = parse(text)
        assert str(said) == text
        assert said.positions == tuple(state.position.tolist())
        assert said.heights == tuple(state.height.tolist())
        assert said.wraps == tuple(state.wraps.tolist())
        assert (said.carriage, said.hold_cams) == (state.carriage, state.hold_cams)
        assert (said.passes, said.row, said.dial) == (state.passes, state.row, state.dial)
        assert said.yarn == (timeline.machine.yarns[state.yarn][0] if state.threaded else None)


@given(st.text(min_size=1, max_size=30), st.floats(0, 20) | st.integers(0, 20))
def test_any_yarn_and_dial_there_and_back(yarn: str, dial: float) -> None:
    timeline = Timeline(Bed(2), [(yarn, YarnRole.FABRIC)])
    timeline.append(Thread(yarn))
    timeline.append(Tension(dial))
    said = parse(line(timeline))
    assert (said.yarn, said.dial) == (yarn, dial)
    assert line(timeline).isprintable()


@pytest.mark.parametrize(
    "text",
    [
        "",
        "L2 wwww R2",
        "L2 wwww R2 carriage middle",
        "L2 wwwx R2 carriage left",
        "L2 WWWW R2 carriage left",
        "L2 www R2 carriage left",
        "L2 wwww R3 carriage left",
        "L201 " + "w" * 402 + " R201 carriage left",
        "L2 wwww R2 carriage left row 0",
        "L2 wwww R2 carriage left pass 03",
        "L2 wwww R2 carriage left loops R3=2",
        "L2 wwww R2 carriage left loops R1=1",
        "L2 wwww R2 carriage left loops R1=2,R2=2",
        "L2 wwww R2 carriage left loops R1=2,R1=3",
        "L2 wwww R2 carriage left loops R1",
        "L2 wwww R2 carriage left loops =2",
        "L2 wwww R2 carriage left wraps R1=2",
        "L2 wwww R2 carriage left cams off",
        "L2 wwww R2 carriage left wraps R1=1 pass 3",
        "L2 wwww R2 carriage left dial inf",
        "L2 wwww R2 carriage left yarn a\nb",
        r"L2 wwww R2 carriage left yarn \ffffff;",
        "L2 wwww R2 carriage left ",
    ],
)
def test_other_lines_are_refused(text: str) -> None:
    with pytest.raises(NotationError) as refused:
        parse(text)
    assert "\n" not in str(refused.value)


@given(st.text("LR0123456789 owuhcarriageleftdipss=-,.\\;\n", max_size=60))
def test_no_text_breaks_the_reader(text: str) -> None:
    for tried in (text, f"L2 owuh R2 carriage left {text}"):
        try:
            said = parse(tried)
        except NotationError:
            continue
        assert str(said) == tried
