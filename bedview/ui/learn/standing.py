"""How far a learner has come, in words: for the tiles of the lessons and for foretelling."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import datetime

from PySide6.QtCore import QObject

from bedview.lessons.lesson import Lesson
from bedview.session.foretell_run import ForetellRun
from bedview.store.learners import LessonProgress
from bedview.ui.learn.lesson_tile import LessonSeen
from bedview.ui.learn.when import when_again
from bedview.ui.parts.counting import counted


class Standing(QObject):
    """Tells how far one has come."""

    def seen(
        self,
        lessons: Mapping[str, Lesson],
        progress: Mapping[str, LessonProgress],
        run: ForetellRun | None,
    ) -> list[LessonSeen]:
        """The lessons as their tiles tell of them.

        Args:
            lessons: by name, in the order to learn them in.
            progress: of each that was begun.
            run: what is due again; None if that cannot be known.
        """
        coming = next((name for name in lessons if not _is_done(progress.get(name))), None)
        due = Counter(prompt.lesson for prompt in run.due) if run is not None else Counter[str]()
        return [
            LessonSeen(
                name,
                number,
                lesson.title,
                self._state(progress.get(name), due[name]),
                _is_done(progress.get(name)),
                name == coming,
            )
            for number, (name, lesson) in enumerate(lessons.items(), 1)
        ]

    def _state(self, progress: LessonProgress | None, due: int) -> str:
        """How far one has come with a lesson, and how much of it is due again."""
        told = []
        if progress is not None and progress.reached_at is not None:
            told.append(self.tr("Done, after seeing how") if progress.shown else self.tr("Done"))
        elif progress is not None and progress.tries:
            told.append(counted(self.tr("Tried once"), self.tr("Tried {count} times"), progress.tries))
        elif progress is not None:
            told.append(self.tr("Begun"))
        if due:
            one = self.tr("{count} question due again")
            told.append(counted(one, self.tr("{count} questions due again"), due))
        return " · ".join(told)

    def foretelling(self, run: ForetellRun | None, now: datetime) -> str:
        """What foretelling is, and how much of it is due."""
        told = self.tr("Before the row, say what will knit, what will be wrapped, where a gap will come.")
        if run is None:
            return told
        due = len(run.due)
        if due:
            one = self.tr("One question is due again.")
            return f"{told} {counted(one, self.tr('{count} questions are due again.'), due)}"
        if run.next_due is None:
            return told
        text = self.tr("The next one comes back {when}.")
        return f"{told} {text.format(when=when_again(run.next_due, now))}"


def _is_done(progress: LessonProgress | None) -> bool:
    return progress is not None and progress.reached_at is not None
