"""What goes wrong at the machine: every finding of the table, each rule by itself over the written steps.

Decisions where the wording could be read two ways:

* Neighbouring needles are next to each other on the bed; an ``out`` needle between two of them
  parts them.
* One finding a pass names the needles of all the runs of that pass, and no needle outside a run.
* A loop laid in that is part of a run speaks as the run, not as ``laid-in`` again.
* A wrapped needle between two laid-in ones is no part of their run.
* ``unsecured-stitches`` is judged at the moment of the drop: what is hung again later was lost in
  that pass, and a loop that drops twice speaks both times (only the count of ``fabric`` takes it
  once, at the end).
* ``held-knitted`` asks for ``hold_cams off`` as an action after the last ``place … hold``, even if
  they were off already.
* ``latch-closes`` and ``loops-put-out`` look at each needle as it stood before the ``place``; a
  needle already ``out`` that is placed ``out`` again speaks again.
* ``long-float`` goes by the columns the two loops were made on.
* ``waste-too-short`` asks every loop of waste in the stack; one with fewer than four rows is
  enough.
* ``stacked-…`` compares a needle before and after the pass or hand action.
* What ``meant`` names is quieted by the segment of the finding's action; findings without one keep
  their severity.
"""

from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any

from tests.reference.edges import edge_loops
from tests.reference.fabric import Loop
from tests.reference.needles import needle_name, read_needles
from tests.reference.simulator import Result
from tests.reference.steps import Step

Finding = dict[str, Any]
# What a rule says, not yet in words: the step (none at the procedure's end), needles (0-based), severity.
Said = tuple[Step | None, list[int], str]
Rule = Callable[[Result], Iterator[Said]]

FLOAT_LIMIT_MM = 25
MOST_WRAPS = 4
MOST_LOOPS = 3
FEWEST_WASTE_ROWS = 4


def neighbours_only(needles: list[int]) -> list[int]:
    """Those needles that have a neighbour in the list too."""
    return [needle for needle in needles if needle - 1 in needles or needle + 1 in needles]


def passes_of(result: Result) -> Iterator[Step]:
    """Every pass, threaded or not."""
    return (step for step in result.steps if step.is_pass)


def placed(step: Step) -> list[int]:
    """The needles a ``place`` moves."""
    return read_needles(step.words["needles"], len(step.before))


def unsecured_stitches(result: Result) -> Iterator[Said]:
    for step in passes_of(result):
        lost = [
            needle
            for needle, stack in step.dropped.items()
            if any(loop.number in step.unsecured for loop in stack)
        ]
        if lost:
            yield step, lost, "error"


def carriage_side(result: Result) -> Iterator[Said]:
    for step in passes_of(result):
        if step.first_of_action and step.words.get("from", step.carriage_before) != step.carriage_before:
            yield step, [], "error"


def held_knitted(result: Result) -> Iterator[Said]:
    forgotten: set[int] = set()
    for step in result.steps:
        if step.words["do"] == "hold_cams" and not step.words["on"]:
            forgotten.clear()
        if step.words["do"] == "place" and step.words["position"] == "hold":
            forgotten.update(placed(step))
        if not step.is_pass:
            continue
        bearing = [needle for needle, stack in enumerate(step.before) if stack]
        moved = [
            needle
            for needle in bearing
            if step.positions_before[needle] == "hold" and (needle in step.knit or needle in step.dropped)
        ]
        caught = [needle for needle in moved if needle in forgotten]
        if caught and any(step.positions_before[needle] in ("work", "upper") for needle in bearing):
            yield step, caught, "error"


def has_no_stitch(loop: Loop) -> bool:
    """Whether the loop is laid in, or drawn through wraps alone."""
    return loop.kind == "laid_in" or (
        loop.kind == "knit" and all(parent.is_wrap for parent in loop.drawn_through)
    )


def laid_in_run(result: Result) -> Iterator[Said]:
    for step in passes_of(result):
        run = neighbours_only([loop.column for loop in step.made if has_no_stitch(loop)])
        if run:
            yield step, run, "error" if step.role == "fabric" else "note"


def laid_in(result: Result) -> Iterator[Said]:
    for step in passes_of(result):
        if step.role != "fabric":
            continue
        run = neighbours_only([loop.column for loop in step.made if has_no_stitch(loop)])
        single = [loop.column for loop in step.made if loop.kind == "laid_in" and loop.column not in run]
        if single:
            yield step, single, "note"


def opening(result: Result) -> Iterator[Said]:
    for face in result.faces:
        if face.size >= 4:
            quiet = face.size < 6 and face.has_wrap
            yield result.steps[face.closing.step], [face.left, face.left + 1], "note" if quiet else "warning"


def placements(result: Result) -> Iterator[tuple[Step, list[int]]]:
    """Every ``place``, with those of its needles that bear loops."""
    for step in result.steps:
        if step.words["do"] == "place":
            yield step, [needle for needle in placed(step) if step.before[needle]]


def latch_closes(result: Result) -> Iterator[Said]:
    for step, bearing in placements(result):
        back = [needle for needle in bearing if step.positions_before[needle] in ("hold", "upper")]
        if back and step.words["position"] in ("work", "out"):
            yield step, back, "warning"


def loops_put_out(result: Result) -> Iterator[Said]:
    for step, bearing in placements(result):
        if bearing and step.words["position"] == "out":
            yield step, bearing, "note"


def group_wrapped(result: Result) -> Iterator[Said]:
    for step in passes_of(result):
        group = neighbours_only(step.wrapped_outside)
        if group:
            yield step, group, "warning"


def long_float(result: Result) -> Iterator[Said]:
    pitch_mm = result.piece["bed"]["pitch_mm"]
    for strand in result.bed.strands:
        if strand.is_fabric:
            for earlier, later in pairwise(strand.loops):
                if abs(later.column - earlier.column) * pitch_mm >= FLOAT_LIMIT_MM:
                    yield result.steps[later.step], [earlier.column, later.column], "warning"


def grown_beyond(step: Step, limit: int, wraps: bool) -> list[int]:
    """Needles whose wraps, or whose loops that are no wraps, passed a limit in this step."""
    found = []
    for needle, (before, after) in enumerate(zip(step.before, step.after, strict=True)):
        had = sum(1 for loop in before if loop.is_wrap == wraps)
        has = sum(1 for loop in after if loop.is_wrap == wraps)
        if had <= limit < has:
            found.append(needle)
    return found


def stacked_wraps(result: Result) -> Iterator[Said]:
    for step in result.steps:
        needles = grown_beyond(step, MOST_WRAPS, wraps=True)
        if needles:
            yield step, needles, "warning"


def stacked_loops(result: Result) -> Iterator[Said]:
    for step in result.steps:
        needles = grown_beyond(step, MOST_LOOPS, wraps=False)
        if needles:
            yield step, needles, "warning"


def waste_caught(result: Result) -> Iterator[Said]:
    for step in result.steps:
        caught = [
            loop.column
            for loop in step.made
            if loop.is_fabric
            and any(through.is_wrap and not through.is_fabric for through in loop.drawn_through)
        ]
        if caught:
            yield step, caught, "warning"


def nothing_knits(result: Result) -> Iterator[Said]:
    for step in passes_of(result):
        if step.role is not None and not step.knit:
            yield step, [], "warning"


def waste_too_short(result: Result) -> Iterator[Said]:
    for step in passes_of(result):
        short = [
            needle
            for needle, rows in step.waste_rows.items()
            if any(count < FEWEST_WASTE_ROWS for count in rows)
        ]
        if short:
            yield step, short, "warning"


def stitches_left(result: Result) -> Iterator[Said]:
    left = [
        needle
        for needle, stack in enumerate(result.bed.stacks)
        if any(loop.is_fabric and not loop.is_wrap for loop in stack)
    ]
    if left:
        yield None, left, "warning"


def cut_without_tail(result: Result) -> Iterator[Said]:
    for step in result.steps:
        if step.words["do"] == "thread" and step.role is not None:
            yield step, [], "note"


def seam_mismatch(result: Result) -> Iterator[Said]:
    bed = result.bed
    for seam in result.piece.get("seams", []):
        counts = [
            len(edge_loops(seam[key], bed.needles, bed.stacks, bed.loops, bed.steps)) for key in ("a", "b")
        ]
        if seam["kind"] == "graft" and counts[0] != counts[1]:
            yield None, [], "error"


# In the order of the rule book's table.
RULES: tuple[tuple[str, Rule], ...] = (
    ("unsecured-stitches", unsecured_stitches),
    ("carriage-side", carriage_side),
    ("held-knitted", held_knitted),
    ("laid-in-run", laid_in_run),
    ("seam-mismatch", seam_mismatch),
    ("opening", opening),
    ("latch-closes", latch_closes),
    ("group-wrapped", group_wrapped),
    ("long-float", long_float),
    ("stacked-wraps", stacked_wraps),
    ("stacked-loops", stacked_loops),
    ("waste-caught", waste_caught),
    ("nothing-knits", nothing_knits),
    ("waste-too-short", waste_too_short),
    ("stitches-left", stitches_left),
    ("laid-in", laid_in),
    ("loops-put-out", loops_put_out),
    ("cut-without-tail", cut_without_tail),
)


def findings(result: Result) -> list[Finding]:
    """All findings of a procedure: by action, pass, rule and needles, those without an action last.

    Returns:
        Dicts with ``rule``, ``severity``, ``action`` (or None), ``pass`` and ``needles`` (their names).
    """
    segments = result.piece["segments"]
    found: list[tuple[tuple[float, int, int, list[int]], Finding]] = []
    for place, (name, rule) in enumerate(RULES):
        for step, needles, severity in rule(result):
            ordered = sorted(needles)
            is_meant = step is not None and name in segments[step.segment].get("meant", [])
            action = None if step is None else step.action
            passes = result.bed.passes if step is None else step.passes
            finding = {
                "rule": name,
                "severity": "note" if is_meant else severity,
                "action": action,
                "pass": passes,
                "needles": [needle_name(needle, result.bed.needles) for needle in ordered],
            }
            found.append(((float("inf") if action is None else action, passes, place, ordered), finding))
    return [finding for _, finding in sorted(found, key=lambda pair: pair[0])]
