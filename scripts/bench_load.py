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
_FULL_SIZE = 30 * 2**20


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


def good_files(actions: int = MAX_ACTIONS) -> Iterator[tuple[str, bytes]]:
    """Files of so many actions that can be read, by name; at full length each near the limit of size."""
    every = range(actions)
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


def hostile_files(size: int = _FULL_SIZE) -> Iterator[tuple[str, bytes]]:
    """Files of about so many bytes that must be refused, by name."""
    for name, text in (*_too_many_keys(size), *_too_long(size)):
        yield name, text.encode()
    yield from _wrong_late(size)


def _too_many_keys(size: int) -> Iterator[tuple[str, str]]:
    keys = ",".join(f'"k{number}":{number % 10}' for number in range(size // 14))
    yield "unknown keys", f'{_HEAD}"segments":[],{keys}}}'
    yield "unknown keys of an action", _of_actions(f"{{{keys}}}")
    yield (
        "unknown keys of an edge",
        _of_actions(f'{{"do":"hang","needles":"L1","edge":{{"open":"L1",{keys}}}}}'),
    )
    yield "unknown keys of a yarn", f'{_HEAD}"yarns":[{{{keys}}}],"segments":[]}}'
    yield "one key again and again", "{" + _many('"title":1,', size) + '"title":1}'


def _too_long(size: int) -> Iterator[tuple[str, str]]:
    yield "a long title", f'{_HEAD}"title":"{"x" * size}","segments":[]}}'
    yield "a huge number", f'{_HEAD}"title":{"9" * size},"segments":[]}}'
    yield "a long needle list", _of_actions(f'{{"do":"cast_on","needles":"{_many("L1,", size)}L1"}}')
    yield "lists in lists", f"[{_many('[],', size)}0]"
    yield "objects in a list", f"[{_many('{},', size)}0]"
    yield "deep", "[" * size
    yield "deep objects", _many('{"a":', size)
    yield "lists for segments", f'{_HEAD}"segments":[{_many("[0],", size)}0]}}'
    yield "numbers for actions", _of_actions(_many("0,", size) + "0")
    yield "too many actions", _of_actions(_many('{"do":"park"},', size) + "{}")
    yarns = _many('{"id":"a","role":"fabric"},', size)
    yield "many yarns", f'{_HEAD}"yarns":[{yarns}{{}}],"segments":[]}}'
    segments = _many('{"kind":"actions","actions":[]},', size)
    yield "many segments", f'{_HEAD}"segments":[{segments}{{}}]}}'
    seams = _many('{"kind":"graft","a":{"open":"L1"},"b":{"open":"R1"}},', size)
    yield "many seams", f'{_HEAD}"segments":[],"seams":[{seams}{{}}]}}'


def _wrong_late(size: int) -> Iterator[tuple[str, bytes]]:
    count = size // 157
    wrong = [{"do": "knit", "rows": "four", "x": "y" * 100, "from": number} for number in range(count)]
    yield "wrong types", _piece(wrong)
    notes: list[dict[str, Any]] = [{"do": "note", "text": "hang a marker " * 8}] * count
    yield "wrong at the end", _piece([*notes, {"do": "knit", "rows": 0}])
    good = _piece(notes)
    yield "twice at the end", good.removesuffix(b"]}]}") + b',{"do":"park","do":"park"}]}]}'
    yield "broken at the end", good[:-2]
    yield "not UTF-8", good.removesuffix(b'"}]}]}') + b'\xff"}]}]}'


def _many(text: str, size: int) -> str:
    return text * (size // len(text))


def _of_actions(items: str) -> str:
    return f'{_HEAD}"segments":[{{"kind":"actions","actions":[{items}]}}]}}'


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
