"""The lesson: what a teacher writes, as a document.

A lesson puts a bed in front of a learner, says what it is about, and gives a task. Whether the task is done
is told by its goals, which look at the bed and the fabric and never at how they came about. The document is
read as strictly as a piece; whether its solutions really reach its goals is seen in
:mod:`bedview.lessons.lesson_file`.
"""

from __future__ import annotations

import re
from typing import Annotated, Any, Final, Self

from pydantic import BaseModel, FailFast, Field, WithJsonSchema, model_validator

from bedview import language
from bedview.bed.actions import YarnRole
from bedview.bed.needles import Bed, Side, shorten
from bedview.bed.timeline import Timeline
from bedview.language import gettext
from bedview.language import gettext as _
from bedview.lessons.any_goal import AnyGoal
from bedview.lessons.hands import LessonActionList
from bedview.plan.fields import STRICT, BedNeedles, at_place
from bedview.plan.piece import BedPlan, FormatNumber, NamedOnce, Yarn
from bedview.plan.words import Words

MAX_GOALS: Final = 50
MAX_PARAGRAPHS: Final = 20
MAX_LANGUAGES: Final = 50
MAX_TEXTS: Final = 200
LAST_PLACE: Final = 999

Paragraph = Annotated[str, Field(min_length=1, max_length=2_000)]
Line = Annotated[str, Field(min_length=1, max_length=200)]
_LANGUAGE: Final = "[a-z]{2,3}(_[A-Z]{2})?"
Language = Annotated[str, WithJsonSchema({"type": "string", "pattern": f"^{_LANGUAGE}$"})]


class Solution(BaseModel):
    """One right way, to be shown when the learner asks for it.

    Attributes:
        title: what is different in this way, where there are several.
        actions: what hands and carriage do, from the start of the lesson.
    """

    model_config = STRICT

    title: Line | None = None
    actions: Annotated[LessonActionList, Field(min_length=1)]


class Lesson(BaseModel):
    """A whole lesson, in the order of the file.

    Attributes:
        format: number of the file's format.
        place: where it stands among the lessons; the smallest comes first.
        title: its name on screen.
        says: what it is about, a few paragraphs of plain text.
        bed: the bed the learner works on.
        yarns: what can be threaded.
        start: what is done before the learner begins.
        task: what to do, in a sentence or two.
        goals: what must be so in the end; the first that is not so gives the feedback.
        hint: said when the learner asks.
        done: said when all goals are reached.
        solutions: right ways, the plainest first.
        texts: by language, a translation of each text of the lesson, by the text.
    """

    model_config = STRICT

    format: FormatNumber
    place: Annotated[int, Field(ge=1, le=LAST_PLACE)] = LAST_PLACE
    title: Line
    says: Annotated[tuple[Paragraph, ...], Field(strict=False, min_length=1, max_length=MAX_PARAGRAPHS)]
    bed: BedPlan
    yarns: Annotated[tuple[Yarn, ...], Field(strict=False, max_length=20), FailFast(), NamedOnce] = ()
    start: LessonActionList = ()
    task: Paragraph
    goals: Annotated[tuple[AnyGoal, ...], Field(strict=False, min_length=1, max_length=MAX_GOALS), FailFast()]
    hint: Paragraph
    done: Paragraph
    solutions: Annotated[tuple[Solution, ...], Field(strict=False, min_length=1, max_length=9), FailFast()]
    texts: Annotated[
        dict[Language, Annotated[dict[str, Paragraph], Field(max_length=MAX_TEXTS)]],
        Field(max_length=MAX_LANGUAGES),
    ] = {}

    @model_validator(mode="after")
    def _goals_of_yarns(self) -> Self:
        known = {yarn.id for yarn in self.yarns}
        for place, goal in enumerate(self.goals):
            named = goal.names_yarn()
            if named is not None and named not in known:
                sentence = _("the yarn '{yarn}' is not in the lesson").format(yarn=shorten(named))
                raise at_place(("goals", place, "yarn"), sentence)
        return self

    @model_validator(mode="after")
    def _texts_translated(self) -> Self:
        own = set(self.own_texts())
        for name, texts in self.texts.items():
            if re.fullmatch(_LANGUAGE, name) is None:
                raise at_place(("texts", name), _("is not a language written like de or pt_BR"))
            for text in texts:
                if text not in own:
                    raise at_place(
                        ("texts", name, text),
                        _("is no text of this lesson; it must stand there letter by letter"),
                    )
        return self

    @classmethod
    def read(cls, document: dict[str, Any]) -> Self:
        """Make a lesson of a document, as JSON gives it.

        Unlike plain ``model_validate`` it holds every needle list against the lesson's own bed.

        Raises:
            pydantic.ValidationError: if anything in it is not as it should be.
        """
        return cls.model_validate(document, context=BedNeedles.of(document))

    def own_texts(self) -> list[str]:
        """Every text that can be translated, in the order of the file."""
        texts = [self.title, *self.says, *(yarn.name for yarn in self.yarns if yarn.name), self.task]
        texts.extend(goal.says for goal in self.goals)
        texts.extend((self.hint, self.done))
        texts.extend(solution.title for solution in self.solutions if solution.title)
        return texts

    def translated(self, name: str) -> Self:
        """The lesson with its texts in a language (``de``, ``pt_BR``); English where a text has none."""
        return self._saying(self.texts.get(name[:2], {}) | self.texts.get(name, {}))

    def spoken(self) -> Self:
        """The lesson in the language in use, by its own translations or by those of bedview."""
        code = language.code()
        if code == language.ENGLISH:
            return self
        return self._saying({text: gettext(text) for text in self.own_texts()} | self.texts.get(code, {}))

    def _saying(self, texts: dict[str, str]) -> Self:
        if not texts:
            return self
        document = _replaced(self.model_dump(exclude_unset=True, exclude={"texts"}), texts)
        assert isinstance(document, dict)
        return self.read(document)

    def to_bed(self) -> Bed:
        """The bed as the simulator takes it."""
        return Bed(self.bed.needles, self.bed.pitch_mm, Side(self.bed.carriage))

    def yarn_roles(self) -> tuple[tuple[str, YarnRole], ...]:
        """Id and role of each yarn."""
        return tuple((yarn.id, YarnRole(yarn.role)) for yarn in self.yarns)

    def new_timeline(self) -> Timeline:
        """A bed of the lesson on which nothing is done yet, not even the start."""
        return Timeline(self.to_bed(), self.yarn_roles())

    def words(self) -> Words:
        """Sentences about its bed and yarns."""
        return Words(self.bed.needles, self.yarns)


_SAID: Final = frozenset({"title", "says", "task", "hint", "done", "name"})
"""Keys whose values are texts."""


def _replaced(value: object, texts: dict[str, str], key: str = "") -> object:
    """A document with its texts replaced by their translations."""
    if isinstance(value, dict):
        return {each: _replaced(inner, texts, each) for each, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_replaced(inner, texts, key) for inner in value]
    return texts.get(value, value) if isinstance(value, str) and key in _SAID else value
