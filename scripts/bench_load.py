"""Measure reading a piece file against ``json.loads``, and a confirmed row against write and fsync.

Each figure is a ratio of two times measured in the same run: the work, and the least that any program must do
for it. The files are as large as a file may be (32 MiB, 200,000 actions), good ones and hostile ones.
"""

from __future__ import annotations

import contextlib
import gc
import json
import random
from collections.abc import Callable, Iterator
from functools import partial
from time import perf_counter
from typing import Any

from bedview.plan.fields import MAX_ACTIONS
from bedview.store.bounds import MAX_BYTES
from bedview.store.piece_file import PieceError, parse_piece

_HEAD = '{"format":1,"bed":{"needles":120,"pitch_mm":9.0},'
_SIZE = 30 * 2**20


def _best_of(times: int, *works: Callable[[], object]) -> list[float]:
    """Seconds of the fastest run of each work; they take turns, so that a busy moment meets them alike."""
    best = [float("inf")] * len(works)
    for _ in range(times):
        for place, work in enumerate(works):
            gc.collect()
            start = perf_counter()
            kept = work()
            best[place] = min(best[place], perf_counter() - start)
            del kept
    return best


def _piece(actions: list[dict[str, Any]]) -> bytes:
    segments = json.dumps([{"kind": "actions", "actions": actions}])
    return f'{_HEAD}"segments":{segments}}}'.encode()


def _a_list(start: int) -> str:
    return ",".join(f"L{number}" for number in range(30 + start, start + 3, -1))


def good_files() -> Iterator[tuple[str, bytes]]:
    """Files that can be read, by name; each near the limits."""
    every = range(MAX_ACTIONS)
    yield "long notes", _piece([{"do": "note", "text": f"hang a marker {n} " * 5} for n in every])
    place = {"do": "place", "position": "hold"}
    yield "long lists", _piece([place | {"needles": _a_list(n % 20)} for n in every])
    kinds: list[dict[str, Any]] = [
        {"do": "place", "needles": "L24-R24", "position": "hold"},
        {"do": "note", "text": "x" * 420},
        {"do": "knit", "rows": 1, "from": "left"},
        {"do": "wrap", "needle": "R12"},
    ]
    yield "a mixture", _piece([kinds[n % 4] for n in every])
    dice = random.Random(1)  # noqa: S311 - a benchmark, no secret
    names = [f"L{number}" for number in range(1, 61)]
    several = [",".join(dice.sample(names, 24)) for _ in every]
    yield "no list twice", _piece([place | {"needles": text} for text in several])


def hostile_files() -> Iterator[tuple[str, bytes]]:
    """Files that must be refused, by name."""
    fill = range(_SIZE // 14)
    keys = ",".join(f'"k{n}":{n % 10}' for n in fill)
    yield "unknown keys", f'{_HEAD}"segments":[],{keys}}}'.encode()
    yield (
        "unknown keys of an action",
        f'{_HEAD}"segments":[{{"kind":"actions","actions":[{{{keys}}}]}}]}}'.encode(),
    )
    edge = f'{{"do":"hang","needles":"L1","edge":{{"open":"L1",{keys}}}}}'
    yield "unknown keys of an edge", f'{_HEAD}"segments":[{{"kind":"actions","actions":[{edge}]}}]}}'.encode()
    yield "unknown keys of a yarn", f'{_HEAD}"yarns":[{{{keys}}}],"segments":[]}}'.encode()
    yield "one key again and again", ("{" + ",".join(['"title":1'] * (_SIZE // 10)) + "}").encode()
    yield "a long title", f'{_HEAD}"title":"{"x" * _SIZE}","segments":[]}}'.encode()
    yield "a long needle list", _piece([{"do": "cast_on", "needles": "L1," * (_SIZE // 3) + "L1"}])
    yield "lists in lists", ("[" + "[]," * (_SIZE // 3) + "0]").encode()
    yield "objects in a list", ("[" + "{}," * (_SIZE // 3) + "0]").encode()
    yield "lists for segments", (f'{_HEAD}"segments":[' + "[0]," * (_SIZE // 4) + "0]}").encode()
    yield (
        "numbers for actions",
        (_HEAD + '"segments":[{"kind":"actions","actions":[' + "0," * (_SIZE // 2) + "0]}]}").encode(),
    )
    yield "deep", b"[" * _SIZE
    yield "deep objects", b'{"a":' * (_SIZE // 5)
    yarn = '{"id":"a","role":"fabric"},'
    yield "many yarns", (f'{_HEAD}"yarns":[' + yarn * (_SIZE // len(yarn)) + '{}],"segments":[]}').encode()
    segment = '{"kind":"actions","actions":[]},'
    yield "many segments", (f'{_HEAD}"segments":[' + segment * (_SIZE // len(segment)) + "{}]}").encode()
    seam = '{"kind":"graft","a":{"open":"L1"},"b":{"open":"R1"}},'
    yield "many seams", (f'{_HEAD}"segments":[],"seams":[' + seam * (_SIZE // len(seam)) + "{}]}").encode()
    park = '{"do":"park"},'
    yield (
        "too many actions",
        (
            _HEAD + '"segments":[{"kind":"actions","actions":[' + park * (_SIZE // len(park)) + "{}]}]}"
        ).encode(),
    )
    wrong = [{"do": "knit", "rows": "four", "x": "y" * 100, "from": n} for n in range(MAX_ACTIONS)]
    yield "wrong types", _piece(wrong)
    notes: list[dict[str, Any]] = [
        {"do": "note", "text": "hang a marker " * 8} for _ in range(MAX_ACTIONS - 1)
    ]
    yield "wrong at the end", _piece([*notes, {"do": "knit", "rows": 0}])
    yield "twice at the end", _piece(notes)[:-4] + b',{"do":"park","do":"park"}]}]}'
    yield "broken at the end", _piece(notes)[:-2]
    yield "a huge number", f'{_HEAD}"title":{"9" * _SIZE},"segments":[]}}'.encode()
    yield "not UTF-8", _piece(notes)[:-9] + b'\xff"}]}]}'


def measure_loading() -> list[tuple[str, float, float]]:
    """Read each file with ``json.loads`` and as a piece.

    Returns:
        For each its name, the seconds of ``json.loads`` and the seconds of reading the piece.
    """
    figures = []
    for files, read in ((good_files(), parse_piece), (hostile_files(), _refuse)):
        for name, data in files:
            assert len(data) <= MAX_BYTES, name
            floor, taken = _best_of(5, partial(_plain, data), partial(read, data))
            figures.append((name, floor, taken))
    return figures


def _plain(data: bytes) -> object:
    with contextlib.suppress(ValueError, RecursionError):
        return json.loads(data)
    return None


def _refuse(data: bytes) -> PieceError:
    try:
        parse_piece(data)
    except PieceError as problem:
        return problem
    raise AssertionError("a hostile file was read")


if __name__ == "__main__":
    for name, floor, taken in measure_loading():
        print(f"{name:28} {floor:7.3f} s  {taken:7.3f} s  {taken / floor:5.2f} x")
