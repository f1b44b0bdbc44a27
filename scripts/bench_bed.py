"""Measure the bed: making loops, openings, memory, an edit, looking back, findings.

Where a figure is a ratio, both times come from the same run: the work, and the least that any program must do
for it. Times are of this program's own thread, so that others on the machine do not count.
"""

from __future__ import annotations

import gc
import resource
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from itertools import pairwise
from random import Random
from statistics import median
from time import thread_time

import numpy as np

from bedview.bed.actions import Action, CastOn, HoldCams, Knit, Place, Thread, YarnRole
from bedview.bed.locate import locate
from bedview.bed.needles import Bed, Position, Side
from bedview.bed.rules import MOST_ROWS
from bedview.bed.timeline import Timeline
from bedview.bed.unpick import unpick
from bedview.checks.judge import judge

NEEDLES = 200
PASSES = 2_000
MOST_NEEDLES = 400
MOST_PASSES = 200_000
_HOLD_APART = "--hold-apart"


# -- procedures -------------------------------------------------------------------------------------------


def in_one_go(needles: int, passes: int) -> Iterator[Action]:
    """Plain rows in as few actions as can be."""
    yield from _all_in_work(needles)
    for start in range(0, passes, MOST_ROWS):
        yield Knit(min(MOST_ROWS, passes - start))


def row_by_row(needles: int, passes: int) -> Iterator[Action]:
    """Plain rows, an action each."""
    yield from _all_in_work(needles)
    for _ in range(passes):
        yield Knit(1)


def heels(needles: int, passes: int) -> Iterator[Action]:
    """Heels to a third, one after the other: other needles knit in every row, wraps are made and knitted."""
    yield from _all_in_work(needles)
    first, last, narrowing = 0, needles - 1, True
    for made in range(passes):
        near_is_right = made % 2 == 0
        if narrowing:
            yield Place((last if near_is_right else first,), Position.HOLD)
            first, last = (first, last - 1) if near_is_right else (first + 1, last)
            narrowing = last - first >= needles // 3
        else:
            first, last = (first - 1, last) if near_is_right else (first, last + 1)
            yield Place((first if near_is_right else last,), Position.UPPER)
            narrowing = last - first == needles - 1
        yield Knit(1)


def held_inside(needles: int, passes: int) -> Iterator[Action]:
    """As few actions as can be over needles of which every other is wrapped in each row."""
    yield from _all_in_work(needles)
    yield Place(tuple(range(1, needles - 1, 2)), Position.HOLD)
    for start in range(0, passes, MOST_ROWS):
        yield Knit(min(MOST_ROWS, passes - start))


PROCEDURES: dict[str, Callable[[int, int], Iterator[Action]]] = {
    "in one go": in_one_go,
    "row by row": row_by_row,
    "heels": heels,
    "held inside": held_inside,
}


def _all_in_work(needles: int) -> tuple[Action, ...]:
    return Thread("main"), CastOn(tuple(range(needles))), HoldCams(on=True)


def knitted(needles: int, actions: Iterable[Action]) -> Timeline:
    """The timeline of a procedure."""
    timeline = Timeline(Bed(needles, 4.5), [("main", YarnRole.FABRIC)])
    for action in actions:
        timeline.append(action)
    return timeline


# -- measuring --------------------------------------------------------------------------------------------


def seconds(work: Callable[[], object]) -> float:
    """Seconds of this thread that some work takes."""
    start = thread_time()
    kept = work()
    spent = thread_time() - start
    del kept
    return spent


def best_of(times: int, work: Callable[[], object]) -> float:
    """Seconds of the fastest of some runs."""
    gc.collect()
    return min(seconds(work) for _ in range(times))


def bare_append(timeline: Timeline) -> float:
    """Seconds in which numpy takes the same loops, made already, into arrays of their size, pass by pass."""
    fabric = timeline.fabric
    columns = (fabric.needle, fabric.kind, fabric.level, fabric.under, fabric.under)
    ends = [0, *(fabric.loops_of_pass(number)[1] for number in range(timeline.passes + 1))]
    passes = [tuple(column[start:end].copy() for column in columns) for start, end in pairwise(ends)]

    def append() -> object:
        arrays = tuple(np.empty(len(fabric), column.dtype) for column in columns)
        start = 0
        for made in passes:
            end = start + len(made[0])
            for array, loops in zip(arrays, made, strict=True):
                array[start:end] = loops
            start = end
        return arrays

    return best_of(10, append)


def loops() -> Iterator[str]:
    """Making every loop of 200 needles and 2,000 passes, against the bare append."""
    for name, procedure in PROCEDURES.items():
        actions = tuple(procedure(NEEDLES, PASSES))
        spent = best_of(10, partial(knitted, NEEDLES, actions))
        timeline = knitted(NEEDLES, actions)
        ratio = spent / bare_append(timeline)
        a_loop = timeline.fabric.nbytes_used / len(timeline.fabric)
        yield f"loops, {name}: {ratio:.1f} x bare append ({spent * 1e3:.1f} ms, {a_loop:.0f} bytes a loop)"


def sizes_by_plain_loop(timeline: Timeline) -> dict[int, int]:
    """Sizes of all openings of a fabric of one strand without jumps, one loop at a time."""
    fabric = timeline.fabric
    needle, level, begun = fabric.needle.tolist(), fabric.level.tolist(), fabric.begun.tolist()
    last: dict[int, tuple[int, int, int, int]] = {}
    sizes: dict[int, int] = {}
    for earlier, later in pairwise(range(len(fabric))):
        if needle[earlier] == needle[later]:
            continue
        left, right = (earlier, later) if needle[earlier] < needle[later] else (later, earlier)
        place = level[left], level[right], begun[left], begun[right]
        before = last.get(needle[left])
        last[needle[left]] = place
        if before is not None and before[2:] == place[2:]:
            size = max(place[0] - before[0], 0) + max(place[1] - before[1], 0)
            sizes[size] = sizes.get(size, 0) + 1
    return sizes


def openings() -> Iterator[str]:
    """Finding openings, against a plain loop over the same fabric."""
    for name, procedure in PROCEDURES.items():
        timeline = knitted(NEEDLES, procedure(NEEDLES, PASSES))
        plain = best_of(3, partial(sizes_by_plain_loop, timeline))
        spent = seconds(partial(getattr, timeline, "openings"))
        assert timeline.openings.sizes() == dict(sorted(sizes_by_plain_loop(timeline).items()))
        yield f"openings, {name}: {plain / spent:.0f} x faster than a plain loop ({spent * 1e3:.0f} ms)"


def memory() -> Iterator[str]:
    """Peak memory of 200,000 passes over 400 needles with every loop kept, each in a process of its own."""
    for name in ("in one go", "row by row", "held inside"):
        said = subprocess.run(
            [sys.executable, __file__, _HOLD_APART, name], capture_output=True, text=True, check=True
        )
        yield said.stdout.strip()


def _hold_apart(name: str) -> str:
    start = thread_time()
    timeline = knitted(MOST_NEEDLES, PROCEDURES[name](MOST_NEEDLES, MOST_PASSES))
    made, peak = thread_time() - start, _peak_gb()
    spent = seconds(partial(getattr, timeline, "openings"))
    loops = len(timeline.fabric) / 1e6
    return (
        f"memory, {name}: {loops:.0f} million loops in {peak:.2f} GB, {made:.1f} s;"
        f" with openings {_peak_gb():.2f} GB, {spent:.1f} s"
    )


def _peak_gb() -> float:
    """The most memory this process has had, as Linux counts it."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e9


def edit() -> Iterator[str]:
    """A change to the last action of 2,000 passes: all but that is kept."""
    for name in ("row by row", "heels"):
        timeline = knitted(NEEDLES, PROCEDURES[name](NEEDLES, PASSES))
        judge(timeline)
        spent, judged = [], []
        for rows in range(2, 32):
            spent.append(seconds(partial(_change_last, timeline, rows)))
            judged.append(seconds(partial(judge, timeline)))
        yield (
            f"edit at the end, {name}: {median(spent) * 1e3:.1f} ms with openings,"
            f" findings {median(judged) * 1e3:.1f} ms"
        )


def _change_last(timeline: Timeline, rows: int) -> object:
    timeline.rewind(len(timeline.actions) - 1)
    timeline.append(Knit(rows))
    return timeline.openings


def looking_back() -> Iterator[str]:
    """Any state of 2,000 passes; places that look alike; the way back to the start."""
    for name, procedure in PROCEDURES.items():
        timeline = knitted(NEEDLES, procedure(NEEDLES, PASSES))
        dice = Random(1)  # noqa: S311 - a benchmark, no secret
        lines = [dice.randrange(timeline.lines) for _ in range(1_000)]
        gc.collect()
        spent = [seconds(partial(timeline.state_at, line)) for line in lines]
        located = seconds(partial(locate, timeline, (), Side.LEFT))
        unpicked = seconds(partial(unpick, timeline, timeline.passes, 0))
        yield (
            f"looking back, {name}: {median(spent) * 1e3:.2f} ms, at most {max(spent) * 1e3:.2f} ms;"
            f" locate {located * 1e3:.0f} ms, unpick {unpicked * 1e3:.0f} ms"
        )


def findings() -> Iterator[str]:
    """All findings of 2,000 passes, openings found before."""
    for name, procedure in PROCEDURES.items():
        timeline = knitted(NEEDLES, procedure(NEEDLES, PASSES))
        count = len(judge(timeline))
        spent = best_of(5, partial(judge, timeline))
        yield f"findings, {name}: {spent * 1e3:.1f} ms for {count}"


MEASURES = (loops, openings, edit, looking_back, findings, memory)


def main(arguments: list[str]) -> None:
    """Print the figures of the measures named, or of all."""
    if arguments[:1] == [_HOLD_APART]:
        print(_hold_apart(arguments[1]))
        return
    for measure in MEASURES:
        if not arguments or measure.__name__ in arguments:
            for line in measure():
                print(line, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
