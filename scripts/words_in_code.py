"""The texts for people that stand in Python code and in page templates."""

import ast
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO

from jinja2.ext import babel_extract

SINGLE = {"gettext": 0, "_": 0, "marked": 0, "tr": 0, "translate": 1, "QT_TRANSLATE_NOOP": 1, "_say": 0}
"""What is called with a text, and the place of the text among the arguments."""
SINGULAR_AND_PLURAL = {"ngettext": (0, 1), "Saying": (2, 3)}
"""What is called with the text for one thing and that for many."""
OF_CLASSES = ("says", "does", "title")
"""Attributes of classes that are said to people, as those of parts and starters."""


@dataclass(frozen=True)
class Found:
    """A text, or its forms for one and for many; the file it stands in; and what translators should know."""

    text: str | tuple[str, str]
    place: str
    comments: tuple[str, ...] = ()


def texts_in_code(code: str, place: str) -> Iterator[Found]:
    """The texts that are marked for translation in some code, in order.

    Args:
        code: Python.
        place: the file it stands in, from the top of the project.
    """
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.Call):
            for text in _of_call(node):
                yield Found(text, place)
        elif isinstance(node, ast.AnnAssign) and node.value and ast.unparse(node.target) in OF_CLASSES:
            for text in _constants(node.value):
                yield Found(text, place)


def _of_call(call: ast.Call) -> Iterator[str | tuple[str, str]]:
    name = _called(call)
    if name in SINGLE and len(call.args) > SINGLE[name]:
        yield from _constants(call.args[SINGLE[name]])
    if name in SINGULAR_AND_PLURAL:
        first, second = SINGULAR_AND_PLURAL[name]
        if name == "Saying":
            yield from (text for each in call.args[:2] for text in _constants(each))
        pair = [*_constants(call.args[first]), *_constants(call.args[second])]
        if len(pair) == 2:
            yield pair[0], pair[1]
    if name in ("Field", "FieldSpec"):
        for keyword in call.keywords:
            if keyword.arg == "title":
                yield from _constants(keyword.value)


def _called(call: ast.Call) -> str:
    if isinstance(call.func, ast.Attribute):
        return call.func.attr
    return call.func.id if isinstance(call.func, ast.Name) else ""


def _constants(value: ast.expr) -> Iterator[str]:
    """The texts that an argument may be."""
    if isinstance(value, ast.Constant) and isinstance(value.value, str) and value.value:
        yield value.value
    elif isinstance(value, ast.IfExp):
        yield from _constants(value.body)
        yield from _constants(value.orelse)
    elif isinstance(value, ast.Dict):
        for each in value.values:
            yield from _constants(each)


def texts_in_template(template: str, place: str) -> Iterator[Found]:
    """The texts that are marked for translation in a page template, in order."""
    keywords = [name for name, at in SINGLE.items() if not at]
    for _line, _function, text, _comments in babel_extract(BytesIO(template.encode()), keywords, (), {}):
        for each in _flat(text):
            yield Found(each, place)


def _flat(text: str | Sequence[str | None] | None) -> Iterator[str]:
    if isinstance(text, str):
        yield text
    elif text is not None:
        yield from (each for each in text if each)
