"""Random procedures of the bed's own actions, and everything that can be read off a timeline."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, NamedTuple

from hypothesis import strategies as st

from bedview.bed.actions import Action, Knit, YarnRole
from bedview.bed.needles import Bed, Side
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.checks.judge import judge
from bedview.export.fabric_counts import fabric_counts
from bedview.export.trace import trace_lines
from bedview.plan.actions_file import to_action
from tests.reference.procedures import random_piece
from tests.reference.sound import sound_piece


@dataclass(frozen=True)
class Procedure:
    """A bed, its yarns, and actions of which none is refused."""

    bed: Bed
    yarns: tuple[tuple[str, YarnRole], ...]
    actions: tuple[Action, ...]

    def run(self) -> Timeline:
        """The timeline of all actions."""
        return run(self.bed, self.yarns, self.actions)


def run(bed: Bed, yarns: tuple[tuple[str, YarnRole], ...], actions: tuple[Action, ...]) -> Timeline:
    """A new timeline with these actions."""
    timeline = Timeline(bed, yarns)
    for action in actions:
        timeline.append(action)
    return timeline


def of_piece(piece: dict[str, Any]) -> Procedure:
    """The procedure of a piece written as plain dictionaries."""
    bed = piece["bed"]
    return Procedure(
        Bed(bed["needles"], bed["pitch_mm"], Side(bed["carriage"])),
        tuple((yarn["id"], YarnRole(yarn["role"])) for yarn in piece["yarns"]),
        tuple(
            to_action(item, bed["needles"]) for segment in piece["segments"] for item in segment["actions"]
        ),
    )


@st.composite
def procedures(draw: st.DrawFn) -> Procedure:
    """Sense or nonsense as knitting, cut short somewhere, so that a failure shrinks to its beginning."""
    seed = draw(st.integers(0, 5_000), label="seed")
    whole = of_piece(sound_piece(seed) if draw(st.booleans(), label="sound") else random_piece(seed))
    count = draw(st.integers(0, len(whole.actions)), label="actions")
    return Procedure(whole.bed, whole.yarns, whole.actions[:count])


def with_rows_apart(actions: tuple[Action, ...]) -> tuple[Action, ...]:
    """The same procedure with one ``knit`` for each row."""
    apart: list[Action] = []
    for action in actions:
        if isinstance(action, Knit):
            apart += [Knit(1, action.start)] + [Knit(1)] * (action.rows - 1)
        else:
            apart.append(action)
    return tuple(apart)


# -- everything there is to know ----------------------------------------------------------------------------


class Known(NamedTuple):
    """All that a timeline tells, as plain values that can be compared."""

    state: dict[str, Any]
    trace: list[dict[str, Any]]
    loops: dict[str, Any]
    courses: dict[str, Any]
    ledger: dict[str, Any]
    counts: dict[str, Any]
    faces: list[Any]
    floats: list[Any]
    findings: list[Any]


def known_state(state: BedState) -> dict[str, Any]:
    """A state as plain values, without what was only worked out from the others."""
    told = {each.name: getattr(state, each.name) for each in fields(state)}
    del told["reach"]
    return {name: value.tolist() if hasattr(value, "tolist") else value for name, value in told.items()}


def known(timeline: Timeline) -> Known:
    """All that a timeline tells."""
    fabric, ledger = timeline.fabric, timeline.machine.ledger
    names = ("needle", "kind", "begun", "level", "under")
    loops: dict[str, Any] = {name: getattr(fabric, name).tolist() for name in names}
    loops["moved"] = fabric._moved_loop.values.tolist(), fabric._moved_under.values.tolist()
    loops["strand_yarn"] = fabric.strand_yarn.values.tolist()
    loops["let_go"] = dict(fabric.let_go)
    table = fabric._courses
    courses = {
        name: getattr(table, name).tolist() for name in ("first", "strand", "action", "pass_number", "tip")
    }
    scan = timeline.openings
    return Known(
        state=known_state(timeline.state),
        trace=list(trace_lines(timeline)),
        loops=loops,
        courses=courses,
        ledger={
            "drops": ledger.drops[:],
            "of needles": {
                needle: ledger.drops_of(needle)
                for needle in range(timeline.bed.needles)
                if ledger.drops_of(needle)
            },
            "hung": ledger.hung[:],
            "again": ledger.again[:],
            "fallen": [(entry.action, entry.lying, entry.loops.tolist()) for entry in ledger.fallen],
        },
        counts=fabric_counts(timeline),
        faces=scan.openings(),
        floats=scan.floats(),
        findings=judge(timeline),
    )
