"""Whatever people read goes through the catalogue, whole: no literal text reaches a widget or a message."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ROOMS = ROOT / "bedview"

SHOWN = {
    **dict.fromkeys(("setText", "setToolTip", "setAccessibleName", "setAccessibleDescription"), 0),
    **dict.fromkeys(("setPlaceholderText", "setWindowTitle", "setTitle", "setStatusTip"), 0),
    **dict.fromkeys(("setSuffix", "setPrefix", "addMenu", "addAction", "addItem", "say"), 0),
    **dict.fromkeys(("QLabel", "Label", "QPushButton", "Button", "QAction", "QCheckBox"), 0),
    **dict.fromkeys(("announce", "setItemText", "setTabText"), 1),
}
"""What shows a text in a window, and the text's place among the arguments."""
SHOWN_BY_NAME = ("says", "tip", "tooltip")
MESSAGES = {
    **dict.fromkeys(("Refused", "PieceError", "OutputError", "at_place"), 1),
    **dict.fromkeys(("SegmentError", "StarterError", "UnitError", "NeedleError", "EdgeError"), 0),
    **dict.fromkeys(("EditError", "ReplanError", "UnpickError", "JournalError", "SheetError"), 0),
    **dict.fromkeys(("NoGauge", "TooLong", "SwatchTooWide", "Failed", "Repair"), 0),
}
"""What carries a message to people, and the message's place among the arguments."""
BUGS = ("IndexError", "KeyError", "TypeError", "RuntimeError", "TimeoutError", "NotationError")
FINDERS = ("first", "last", "passes", "widest")
NAMES = {"bedview", "{self.desk.title}[*] – bedview", "{said} (Language)"}
"""What is called the same in every language."""
NOT_FOR_PEOPLE = (
    "bed/notation.py",  # states as tests write them
    "cli/",  # the terminal speaks English, for scripts rely on it
    "export/stepping/",  # the page's drawing
    "plan/starters/shoulders.py",  # names of parts; all are gathered by making the piece
    "picture/svg.py",  # a file for other programs
    "session/action_lines.py",  # what a line of actions is written like
    "store/journal",  # what the database is asked
    "ui/parts/style_sheet.py",
    "ui/shots.py",  # pictures for those who carry on
)
"""Where sentences with gaps are something else."""
GLUE = re.compile(r"[A-Za-z]{2,},? [A-Za-z]{2,}")
WORD = re.compile(r"[A-Za-z]{2,}")


def _files(folder: Path) -> Iterator[tuple[Path, ast.Module]]:
    for path in sorted(folder.rglob("*.py")):
        if not path.relative_to(ROOMS).as_posix().startswith(NOT_FOR_PEOPLE):
            yield path, ast.parse(path.read_text(encoding="utf-8"))


def _called(call: ast.Call) -> str:
    if isinstance(call.func, ast.Attribute):
        return call.func.attr
    return call.func.id if isinstance(call.func, ast.Name) else ""


def _literal(value: ast.expr) -> Iterator[str]:
    """Texts that stand right there, without a call that looks them up."""
    match value:
        case ast.Constant(value=str(text)):
            yield text
        case ast.JoinedStr():
            yield ast.unparse(value)[2:-1]
        case ast.IfExp():
            yield from _literal(value.body)
            yield from _literal(value.orelse)
        case ast.BinOp():
            yield from _literal(value.left)
            yield from _literal(value.right)
        case ast.Call(func=ast.Attribute(attr="format" | "join" | "replace", value=inner)):
            yield from _literal(inner)


def _has_words(text: str) -> bool:
    return WORD.search(re.sub(r"\{[^}]*\}", "", text)) is not None and text not in NAMES


def _unlooked(folder: Path, places: dict[str, int], by_name: tuple[str, ...] = ()) -> list[str]:
    found = []
    for path, tree in _files(folder):
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call):
                continue
            place = places.get(_called(node))
            values = [node.args[place]] if place is not None and len(node.args) > place else []
            values += [keyword.value for keyword in node.keywords if keyword.arg in by_name]
            texts = [text for value in values for text in _literal(value) if _has_words(text)]
            found += [f"{path.relative_to(ROOT)}:{node.lineno}: {text}" for text in texts]
    return found


def test_no_literal_text_reaches_a_widget() -> None:
    assert _unlooked(ROOMS / "ui", SHOWN, SHOWN_BY_NAME) == []


def test_no_message_is_made_of_literal_text() -> None:
    assert _unlooked(ROOMS, MESSAGES) == []


@pytest.mark.parametrize(
    "room",
    [
        path.name
        for path in sorted(ROOMS.iterdir())
        if path.is_dir() and path.name not in ("cli", "__pycache__")
    ],
)
def test_sentences_are_whole_with_named_gaps(room: str) -> None:
    """A sentence put together by an f-string cannot be found in a catalogue."""
    found = []
    for path, tree in _files(ROOMS / room):
        apart = {id(inner) for node in ast.walk(tree) if _is_for_coders(node) for inner in ast.walk(node)}
        for node in ast.walk(tree):
            if isinstance(node, ast.JoinedStr) and id(node) not in apart:
                plain = " {} ".join(_plain(node))
                if GLUE.search(plain):
                    found.append(f"{path.relative_to(ROOT)}:{node.lineno}: {ast.unparse(node)}")
    assert found == []


def _is_for_coders(node: ast.AST) -> bool:
    """What is said when the program is wrong, not whoever uses it; or what a part is found by."""
    return isinstance(node, ast.Assert) or (isinstance(node, ast.Call) and _called(node) in (*BUGS, *FINDERS))


def _plain(text: ast.JoinedStr) -> list[str]:
    return [
        part.value for part in text.values if isinstance(part, ast.Constant) and isinstance(part.value, str)
    ]


def test_the_guards_see_what_they_guard_against() -> None:
    call = ast.parse('label.setText("Knit" if one else f"{rows} rows of {what}".format())').body[0]
    assert isinstance(call, ast.Expr)
    assert isinstance(call.value, ast.Call)
    assert [text for text in _literal(call.value.args[0]) if _has_words(text)] == [
        "Knit",
        "{rows} rows of {what}",
    ]
    looked_up = ast.parse('label.setText(self.tr("Knit {rows}").format(rows=rows))').body[0]
    assert isinstance(looked_up, ast.Expr)
    assert isinstance(looked_up.value, ast.Call)
    assert list(_literal(looked_up.value.args[0])) == []
