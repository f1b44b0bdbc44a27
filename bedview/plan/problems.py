"""What is wrong with a document, and where, in one plain sentence.

pydantic says what it found in its own words and places; people get ours. Limits and known keys are looked up
in the document's JSON Schema, so a new kind of segment speaks well without a line here.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Final

from pydantic import ValidationError

from bedview.bed.needles import shorten
from bedview.language import gettext as _
from bedview.language import marked, ngettext
from bedview.plan.edges_file import EDGE_KEYS
from bedview.plan.fields import shown

Place = tuple[int | str, ...]
"""Keys and indices from the top of a document."""

TOP: Final = marked("top level")
"""How the place is called that has no path."""


class PieceError(ValueError):
    """A piece, or another document, that cannot be used.

    Attributes:
        where: a JSON path such as ``segments[2].rows``, or a place in the text such as ``line 3 column 7``.
        what: what is wrong there, one sentence without a full stop.
    """

    def __init__(self, where: str, what: str) -> None:
        super().__init__(f"{_(where)}: {what}")
        self.where = where
        self.what = what


def json_path(place: Iterable[int | str]) -> str:
    """A place as people read it: ``segments[0].actions[17].needles``."""
    path = ""
    for part in place:
        if isinstance(part, int):
            path += f"[{part}]"
        elif re.fullmatch(r"[A-Za-z_][A-Za-z0-9_]{0,59}", part):
            path += f".{part}" if path else part
        else:
            path += f"[{json.dumps(shorten(part), ensure_ascii=False)}]"
    return path or TOP


def first_problem(
    error: ValidationError, document: object, schema: Callable[[], dict[str, Any]]
) -> PieceError:
    """The first thing pydantic found wrong, in our words.

    Args:
        error: what pydantic raised.
        document: what it was given.
        schema: makes the JSON Schema of such documents; limits and known keys are looked up there.
    """
    details = error.errors(include_url=False)[0]
    tagged = _Walk(schema(), document)
    for part in details["loc"]:
        tagged.step(part)
    kind, facts = details["type"], details.get("ctx", {})
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        return _wrong_tag(tagged, kind, facts)
    if kind == "extra_forbidden":
        known = ", ".join(tagged.parent_keys())
        return PieceError(
            tagged.path(), _("is not a key bedview knows here; known: {known}").format(known=known)
        )
    if kind == "at_place":
        return PieceError(json_path((*tagged.place, *facts["place"])), facts["sentence"])
    if kind == "value_error":
        return PieceError(tagged.path(), str(facts["error"]))
    say = _SENTENCES.get(kind)
    sentence = say(tagged.schema, details["input"], facts) if say else _lower(details["msg"])
    return PieceError(tagged.path(), sentence)


class _Walk:
    """Follows a place of pydantic's through document and schema at once.

    pydantic's places hold the tags of unions too; they are no part of the path in the document.
    """

    def __init__(self, schema: dict[str, Any], document: object) -> None:
        self._definitions: dict[str, Any] = schema.get("$defs", {})
        self._parent: Mapping[str, Any] = {}
        self._tag_due = False
        self.schema = self._settle(schema, document)
        self.value = document
        self.place: Place = ()

    def step(self, part: int | str) -> None:
        """Go on to an entry or a key; a tag moves nothing."""
        if isinstance(part, str) and self._is_tag(part):
            return
        self._parent = self.schema
        self.place = (*self.place, part)
        below = self.schema.get("items", {}) if isinstance(part, int) else self._below(part)
        try:
            self.value = self.value[part]  # type: ignore[index]
        except (KeyError, IndexError, TypeError):
            self.value = None
        self.schema = self._settle(below, self.value)

    def path(self) -> str:
        """The place, as people read it."""
        return json_path(self.place)

    def parent_keys(self) -> list[str]:
        """The keys known where the last step came from."""
        return list(self._parent.get("properties", {}))

    def _below(self, key: str) -> dict[str, Any]:
        found: dict[str, Any] = self.schema.get("properties", {}).get(key, {})
        return found

    def _is_tag(self, part: str) -> bool:
        """Whether a part of a place is the tag of a union: it comes once, before any of the value's keys.

        A key may be called like a tag: the actions of a segment of the kind ``actions``.
        """
        due, self._tag_due = self._tag_due, False
        if part.startswith("edge:"):
            return True
        value = self.value
        return due and isinstance(value, dict) and part in (value.get("kind"), value.get("do"))

    def _settle(self, schema: dict[str, Any], value: object) -> dict[str, Any]:
        """Follow references, and choose among alternatives by what the value says it is."""
        while "$ref" in schema:
            schema = self._definitions[schema["$ref"].rpartition("/")[2]]
        choices = schema.get("oneOf") or schema.get("anyOf")
        if not choices:
            return schema
        self._tag_due = True
        settled = [self._settle(choice, value) for choice in choices]
        return next((choice for choice in settled if _speaks_of(choice, value)), schema)


def _speaks_of(schema: Mapping[str, Any], value: object) -> bool:
    properties = schema.get("properties", {})
    if not isinstance(value, dict):
        return schema.get("type") != "null" and not properties
    for key in ("kind", "do"):
        if key in properties:
            return bool(properties[key].get("const") == value.get(key))
    return any(key in properties and key in value for key in EDGE_KEYS)


def _wrong_tag(walk: _Walk, kind: str, facts: Mapping[str, Any]) -> PieceError:
    if not isinstance(walk.value, dict):
        return PieceError(walk.path(), _("must be an object, not {value}").format(value=shown(walk.value)))
    key = str(facts["discriminator"]).strip("'")
    if key not in ("kind", "do"):
        return PieceError(walk.path(), _("needs one of the keys {listed}").format(listed=_listed(EDGE_KEYS)))
    where = json_path((*walk.place, key))
    if kind == "union_tag_not_found":
        return PieceError(where, _("is missing"))
    known = str(facts["expected_tags"]).replace("'", "")
    text = _("{value} is not a kind bedview knows; known: {known}")
    if key == "do":
        text = _("{value} is not an action bedview knows; known: {known}")
    return PieceError(where, text.format(value=shown(walk.value[key]), known=known))


def _listed(words: Sequence[str]) -> str:
    if len(words) == 1:
        return words[0]
    return _("{first} or {last}").format(first=", ".join(words[:-1]), last=words[-1])


def _lower(message: str) -> str:
    return message[:1].lower() + message[1:]


_Sentence = Callable[[Mapping[str, Any], object, Mapping[str, Any]], str]


def _in_limits(schema: Mapping[str, Any], value: object, _facts: Mapping[str, Any]) -> str:
    is_limited, is_whole = "minimum" in schema and "maximum" in schema, schema.get("type") != "number"
    if is_whole:
        text = _("must be a whole number, not {value}")
        if is_limited:
            text = _("must be a whole number from {least} to {most}, not {value}")
    else:
        text = _("must be a number, not {value}")
        if is_limited:
            text = _("must be a number from {least} to {most}, not {value}")
    return text.format(least=schema.get("minimum"), most=schema.get("maximum"), value=shown(value))


def _too_long(_schema: Mapping[str, Any], value: object, facts: Mapping[str, Any]) -> str:
    length = len(value) if isinstance(value, list | tuple) else facts["actual_length"]
    return _("has {length} entries; at most {most} are allowed").format(
        length=length, most=facts["max_length"]
    )


def _not(wanted: str) -> _Sentence:
    return lambda _schema, value, _facts: _(wanted).format(value=shown(value))


_SENTENCES: Final[Mapping[str, _Sentence]] = {
    "missing": lambda _schema, _value, _facts: _("is missing"),
    "int_type": _in_limits,
    "float_type": _in_limits,
    "finite_number": _in_limits,
    "greater_than": _in_limits,
    "greater_than_equal": _in_limits,
    "less_than": _in_limits,
    "less_than_equal": _in_limits,
    "bool_type": _not(marked("must be true or false, not {value}")),
    "string_type": _not(marked("must be text, not {value}")),
    "string_unicode": lambda _schema, _value, _facts: _("has characters that are no text"),
    "string_too_short": lambda _schema, _value, _facts: _("must not be empty"),
    "string_too_long": lambda _schema, value, facts: _(
        "must be at most {most} characters long, not {length}"
    ).format(most=facts["max_length"], length=len(str(value))),
    "literal_error": lambda _schema, value, facts: _("must be {expected}, not {value}").format(
        expected=facts["expected"], value=shown(value)
    ),
    "list_type": _not(marked("must be a list, not {value}")),
    "tuple_type": _not(marked("must be a list, not {value}")),
    "too_long": _too_long,
    "too_short": lambda _schema, _value, facts: ngettext(
        "must have at least {least} entry", "must have at least {least} entries", facts["min_length"]
    ).format(least=facts["min_length"]),
    "dict_type": _not(marked("must be an object, not {value}")),
    "model_type": _not(marked("must be an object, not {value}")),
    "model_attributes_type": _not(marked("must be an object, not {value}")),
}
