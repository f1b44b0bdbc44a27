"""Gather every text that people read, for those who translate, and make ready what they wrote.

Use: python3 scripts/words.py [--check]

The texts come from the code and from the resources. They are written to the template ``bedview.pot`` in
``resources/translations``; each language's ``.po`` beside it is brought in step, and its ``.mo`` is made,
which the program reads.
With ``--check`` nothing is written; it fails if anything would be.
"""

import io
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po
from environment import ROOT
from words_in_code import Found, texts_in_code, texts_in_template
from words_in_resources import texts_in_resources

FOLDER = ROOT / "resources" / "translations"
TEMPLATE = FOLDER / "bedview.pot"
LANGUAGES = ("de", "fr")
_WIDE = 100
_NO_DATE = datetime(2000, 1, 1, tzinfo=UTC)
"""When something was written is for version control to know; here it would make each writing differ."""
_UNWANTED = tuple(
    f'"{head}: '.encode()
    for head in (
        "Project-Id-Version",
        "Report-Msgid-Bugs-To",
        "POT-Creation-Date",
        "PO-Revision-Date",
        "Last-Translator",
        "Language-Team",
        "Generated-By",
    )
)
_HEADER = "# Texts of bedview."


def main(arguments: list[str]) -> int:
    """Write all files; return 1 if ``--check`` finds one out of step."""
    checks_only = "--check" in arguments
    template = gather()
    out_of_step = []
    for path, data in _files(template):
        if path.is_file() and path.read_bytes() == data:
            continue
        out_of_step.append(path)
        if not checks_only:
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(data)
    print(f"{sum(1 for message in template if message.id)} texts")
    for path in out_of_step:
        print(f"{path.relative_to(ROOT)} {'is out of step' if checks_only else 'written'}")
    return 1 if checks_only and out_of_step else 0


def gather() -> Catalog:
    """Every text, none translated, in the order of their places."""
    template = _catalogue(None)
    for found in _all_texts():
        template.add(found.text, locations=[(found.place, 0)], auto_comments=list(found.comments))
    return template


def _all_texts() -> Iterator[Found]:
    for path in sorted((ROOT / "bedview").rglob("*.py")):
        yield from texts_in_code(path.read_text(encoding="utf-8"), _place(path))
    for path in sorted((ROOT / "resources" / "page").glob("*.jinja")):
        yield from texts_in_template(path.read_text(encoding="utf-8"), _place(path))
    yield from texts_in_resources()


def _place(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _catalogue(language: str | None) -> Catalog:
    return Catalog(
        language,
        charset="utf-8",
        fuzzy=False,
        header_comment=_HEADER,
        creation_date=_NO_DATE,
        revision_date=_NO_DATE,
    )


def _files(template: Catalog) -> Iterator[tuple[Path, bytes]]:
    """Every file as it should be."""
    yield TEMPLATE, _as_po(template)
    for language in LANGUAGES:
        path = FOLDER / f"{language}.po"
        translated = _catalogue(language)
        if path.is_file():
            written = read_po(io.BytesIO(path.read_bytes()), locale=language)
            for message in template:
                old = written.get(message.id)
                if message.id and old is not None and old.id == message.id:
                    translated.add(message.id, old.string, flags=old.flags, user_comments=old.user_comments)
        translated.update(template, no_fuzzy_matching=True, update_header_comment=False)
        translated.obsolete.clear()
        yield path, _as_po(translated)
        made = io.BytesIO()
        write_mo(made, translated)
        yield path.with_suffix(".mo"), made.getvalue()


def _as_po(catalogue: Catalog) -> bytes:
    written = io.BytesIO()
    write_po(written, catalogue, width=_WIDE, include_lineno=False, omit_header=False)
    lines = written.getvalue().split(b"\n")
    return b"\n".join(line for line in lines if not line.startswith(_UNWANTED))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
