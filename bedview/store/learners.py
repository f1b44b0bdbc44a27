"""What learners have done: a small file each, on this machine only, written whole and wiped when asked."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Annotated, Any, Final

import platformdirs
from pydantic import AwareDatetime, BaseModel, Field, ValidationError

from bedview.language import gettext as _
from bedview.plan.fields import STRICT
from bedview.plan.piece import FORMAT, FormatNumber
from bedview.plan.problems import PieceError, first_problem
from bedview.store.json_text import parse_json
from bedview.store.whole_file import OutputError, read_whole, reason, write_whole

MAX_BYTES: Final = 16 * 2**20
SUFFIX: Final = ".learner.json"
LONGEST_NAME: Final = 100

# A file holds dates as text, which strict reading would refuse.
Moment = Annotated[AwareDatetime, Field(strict=False)]


class LessonProgress(BaseModel):
    """How far a learner came with one lesson.

    Attributes:
        tries: how often the bed was judged.
        hints: how often a hint was asked for.
        shown: whether a right way was shown before the goals were reached.
        reached_at: when all goals were first reached, with its time zone; None if they were not yet.
    """

    model_config = STRICT

    tries: Annotated[int, Field(ge=0)] = 0
    hints: Annotated[int, Field(ge=0)] = 0
    shown: bool = False
    reached_at: Moment | None = None


class Learner(BaseModel):
    """What one learner has done.

    Attributes:
        format: number of the file's format.
        name: what the learner is called; it is never sent anywhere.
        lessons: by name of the lesson.
        cards: what is known of each foretold question, by its key; the scheduler's own facts.
    """

    model_config = STRICT

    format: FormatNumber = FORMAT
    name: Annotated[str, Field(min_length=1, max_length=LONGEST_NAME)]
    lessons: dict[str, LessonProgress] = {}
    cards: dict[str, dict[str, Any]] = {}

    def with_lesson(self, lesson: str, progress: LessonProgress) -> Learner:
        """The same learner, further in one lesson."""
        return self.model_copy(update={"lessons": {**self.lessons, lesson: progress}})

    def with_cards(self, cards: dict[str, dict[str, Any]]) -> Learner:
        """The same learner, with these questions asked."""
        return self.model_copy(update={"cards": cards})


def default_folder() -> Path:
    """Where learners' files lie for this user of this machine."""
    return platformdirs.user_data_path("bedview") / "learners"


class Learners:
    """All learners of this machine.

    Args:
        folder: where their files lie; it is made when the first is kept.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def names(self) -> list[str]:
        """Names of those who have a file that can be read, in order."""
        found = []
        for path in self._folder.glob(f"*{SUFFIX}"):
            try:
                found.append(_read(path).name)
            except PieceError:
                continue  # Whoever asks for that learner by name hears what is wrong with the file.
        return sorted(found)

    def load(self, name: str) -> Learner:
        """What a learner has done; nothing yet, if there is no file.

        Raises:
            PieceError: if there is a file that cannot be used.
        """
        path = self._path(name)
        return _read(path) if path.exists() else Learner(name=name)

    def keep(self, learner: Learner) -> None:
        """Write down what a learner has done, whole or not at all.

        Raises:
            OutputError: if it cannot be written; what stood there before still stands.
        """
        path = self._path(learner.name)
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(path, _("cannot be written: {reason}").format(reason=reason(error))) from None
        document = learner.model_dump(mode="json")
        write_whole(path, (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode(), _parse)

    def wipe(self, name: str) -> None:
        """Forget a learner: the file is gone.

        Raises:
            OutputError: if it cannot be removed.
        """
        path = self._path(name)
        try:
            path.unlink(missing_ok=True)
        except OSError as error:
            raise OutputError(path, _("cannot be removed: {reason}").format(reason=reason(error))) from None

    def _path(self, name: str) -> Path:
        """The file of a name, whatever signs the name has: two names never share one."""
        plain = "".join(sign if sign.isalnum() and sign.isascii() else "-" for sign in name.lower())[:40]
        mark = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:12]
        return self._folder / f"{plain}-{mark}{SUFFIX}"


def _read(path: Path) -> Learner:
    return _parse(read_whole(path, MAX_BYTES))


def _parse(data: bytes) -> Learner:
    document = parse_json(data)
    try:
        return Learner.model_validate(document)
    except ValidationError as error:
        raise first_problem(error, document, Learner.model_json_schema) from None
