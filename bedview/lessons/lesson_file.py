"""Lesson files: read with one clear word about what is wrong, and tried before a learner meets them.

A lesson that can be read may still be no lesson: its start may be refused, it may be done before it begins,
or its own solution may miss the goal. All of that is found here, so that a teacher hears of it first.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from pydantic import TypeAdapter, ValidationError

from bedview.bed.needles import format_needles
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from bedview.language import gettext as _
from bedview.lessons.grading import Graded, grade, solution_actions, started
from bedview.lessons.hands import LessonAction, LessonActionList, LessonItem, perform_all, to_lesson_action
from bedview.lessons.lesson import Lesson
from bedview.plan.fields import STRICT, BedNeedles, shown
from bedview.plan.problems import TOP, PieceError, first_problem
from bedview.resources import resource_path
from bedview.store.json_text import parse_json
from bedview.store.whole_file import read_whole

__all__ = [
    "PieceError",
    "lesson_names",
    "lesson_schema",
    "parse_lesson",
    "parse_lesson_actions",
    "read_lesson",
]

SUFFIX: Final = ".lesson.json"
MAX_BYTES: Final = 2 * 2**20
MAX_PASSES: Final = 10_000
"""Passes of a start and of a solution; a lesson is tried whenever it is read."""
_ACTIONS: Final[TypeAdapter[tuple[LessonItem, ...]]] = TypeAdapter(LessonActionList, config=STRICT)


def lesson_names() -> dict[str, str]:
    """Title of each lesson that comes with bedview, by its name, in the order to learn them in."""
    found = []
    for path in lesson_paths().values():
        lesson = _read_document(read_whole(path, MAX_BYTES))
        found.append((lesson.place, path.name.removesuffix(SUFFIX), _(lesson.title)))
    return {name: title for _, name, title in sorted(found)}


def lesson_paths() -> dict[str, Path]:
    """Path of each lesson that comes with bedview, by its name."""
    found = sorted(resource_path("lessons").glob(f"*{SUFFIX}"))
    return {path.name.removesuffix(SUFFIX): path for path in found}


def read_lesson(name: str | Path) -> Lesson:
    """The lesson of a file, or the one that comes with bedview under this name, in the language in use.

    Raises:
        PieceError: if there is none that can be used; the first thing wrong is named.
    """
    path = Path(name)
    if not path.exists():
        path = lesson_paths().get(str(name), path)
    return parse_lesson(read_whole(path, MAX_BYTES)).spoken()


def parse_lesson(data: bytes) -> Lesson:
    """The lesson of a file's bytes, tried.

    Raises:
        PieceError: if they say none that can be used; the first thing wrong is named.
    """
    lesson = _read_document(data)
    _refuse_long(lesson)
    try:
        begun = started(lesson)
    except Refused as refused:
        raise PieceError(f"start[{refused.action}]", refused.message) from None
    if grade(lesson, begun).reached:
        raise PieceError(
            "goals", _("are reached before anything is done; ask for something that the start does not do")
        )
    for number in range(len(lesson.solutions)):
        _try_solution(lesson, begun, number)
    return lesson


def parse_lesson_actions(data: bytes, bed_needles: int) -> Sequence[LessonAction]:
    """The actions that a JSON list says: those of a piece, and ``{"do": "unpick", "rows": 1}``.

    Args:
        data: the list, UTF-8.
        bed_needles: how many needles the lesson's bed has.

    Raises:
        PieceError: if they cannot be used; the first thing wrong is named, as in ``[3].rows``.
    """
    document = parse_json(data)
    try:
        items = _ACTIONS.validate_python(document, context=BedNeedles(bed_needles))
    except ValidationError as error:
        raise first_problem(error, document, _ACTIONS.json_schema) from None
    return [to_lesson_action(item, bed_needles) for item in items]


def lesson_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a lesson's file."""
    dialect = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
    return {**dialect, **Lesson.model_json_schema()}


def _read_document(data: bytes) -> Lesson:
    if len(data) > MAX_BYTES:
        raise PieceError("file", _("is larger than {max_bytes} MiB").format(max_bytes=MAX_BYTES // 2**20))
    document = parse_json(data)
    if not isinstance(document, dict):
        raise PieceError(TOP, _("must be an object, not {document}").format(document=shown(document)))
    try:
        return Lesson.read(document)
    except ValidationError as error:
        raise first_problem(error, document, Lesson.model_json_schema) from None


def _refuse_long(lesson: Lesson) -> None:
    for place, actions in [
        ("start", lesson.start),
        *((f"solutions[{number}].actions", each.actions) for number, each in enumerate(lesson.solutions)),
    ]:
        if sum(item["rows"] for item in actions if item["do"] == "knit") > MAX_PASSES:
            raise PieceError(
                place, _("makes more than {max_passes} passes; knit fewer rows").format(max_passes=MAX_PASSES)
            )


def _try_solution(lesson: Lesson, begun: Timeline, number: int) -> None:
    """Do one of the lesson's own solutions on a bed of its own."""
    where = f"solutions[{number}]"
    try:
        done = perform_all(begun.fork(begun.lines - 1), solution_actions(lesson, number))
    except Refused as refused:
        raise PieceError(f"{where}.actions[{refused.action}]", refused.message) from None
    graded = grade(lesson, done)
    if not graded.reached:
        raise PieceError(
            where,
            _missed(graded, lesson),
        )


def _missed(graded: Graded, lesson: Lesson) -> str:
    """Which goal is missed, where, and what the learner would read."""
    needles = format_needles(graded.needles, lesson.bed.needles)
    text = _("misses goals[{index}] at {needles}: {says}") if needles else _("misses goals[{index}]: {says}")
    return text.format(index=graded.goals.index(False), needles=needles, says=graded.says.rstrip("."))
