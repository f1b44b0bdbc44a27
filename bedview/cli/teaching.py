"""Commands about lessons: list them, check one, try one."""

from __future__ import annotations

from pathlib import Path

import click

from bedview.bed.rules import Refused
from bedview.cli.running import Unusable
from bedview.cli.speaking import json_too, print_json
from bedview.lessons.grading import try_lesson
from bedview.lessons.lesson import Lesson
from bedview.lessons.lesson_file import lesson_names, parse_lesson_actions, read_lesson
from bedview.plan.problems import PieceError


@click.command("lessons")
@json_too
def lessons_command(as_json: bool) -> None:
    """List the lessons: name and title."""
    for name, title in lesson_names().items():
        if as_json:
            print_json({"name": name, "title": title})
        else:
            print(f"{name}\t{title}")


@click.command("lesson")
@click.argument("lesson", metavar="NAME|FILE")
@click.option("--try", "actions", metavar="ACTIONS", help="A JSON list of actions to do on its bed.")
@json_too
def lesson_command(lesson: str, actions: str | None, as_json: bool) -> None:
    """Check a lesson's file; with --try, do actions on its bed and say whether its goals are reached."""
    document = _read(lesson)
    if actions is None:
        if as_json:
            print_json({"title": document.title, "goals": len(document.goals)})
        else:
            print(
                f"{document.title}: sound; {len(document.goals)} goals, {len(document.solutions)} solutions"
            )
        return
    try:
        parsed = parse_lesson_actions(actions.encode(errors="surrogateescape"), document.bed.needles)
        told = try_lesson(document, parsed)
    except PieceError as error:
        raise Unusable(f"{lesson}: --try: {error.where}: {error.what}") from None
    except Refused as error:
        raise Unusable(f"{lesson}: action {error.action}: {error.message}") from None
    if as_json:
        print_json(told)
    else:
        print(told["says"])


def _read(lesson: str) -> Lesson:
    try:
        return read_lesson(Path(lesson) if Path(lesson).exists() else lesson)
    except PieceError as error:
        raise Unusable(f"{lesson}: {error.where}: {error.what}") from None
