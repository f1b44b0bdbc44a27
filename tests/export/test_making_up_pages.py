"""The making up on paper, in text and on the stepping page: every step, in the order of the hands."""

import html
from collections.abc import Iterator
from gettext import NullTranslations

import pytest

from bedview import language
from bedview.export.paper.documents import SheetPart, sheet_pages
from bedview.export.paper.pages import PAPERS
from bedview.export.paper.sizes_table import NoSizes, sizes_of
from bedview.export.sheet import SheetError, SheetOptions, sheet_bytes
from bedview.finish.cards import technique_card
from bedview.finish.finish_plan import finish_plan
from bedview.finish.telling import tell
from bedview.finish.told import Told
from bedview.picture.marks import Text, cautious_width
from bedview.plan.starters import find_starter
from bedview.plan.starters.grading import Graded
from tests.export.pdf import read_pdf
from tests.export.pieces import CAST_ON, Compiled, compiled, demo, small

DEMOS = ["harbour-bootee", "mountain-hut-hat", "allotment-vest-shoulders"]
SIZES = SheetOptions(parts=frozenset({SheetPart.SIZES}))


def told_of(piece: Compiled) -> Told:
    return tell(finish_plan(*piece))


def squeezed(text: str) -> str:
    return "".join(text.split())


def stand_in_order(texts: list[str], whole: str) -> bool:
    """Whether the texts stand in a whole one after the other."""
    place = 0
    for text in texts:
        place = whole.find(text, place)
        if place < 0:
            return False
        place += len(text)
    return True


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("name", DEMOS)
def test_the_document_tells_every_step_of_the_making_up(name: str) -> None:
    piece = demo(name)
    told = told_of(piece)
    with read_pdf(sheet_bytes(*piece, ".pdf")) as pdf:
        whole = squeezed("".join(pdf.text(page) for page in range(pdf.pages)))
    after = whole[whole.rindex("Makingup") :]
    steps = [squeezed(text) for step in told.steps for text in (step.title, step.says, *step.details)]
    # A step may go on after the foot of a page, so that not every text is in one piece.
    assert stand_in_order([squeezed(f"{n}. {step.title}") for n, step in enumerate(told.steps, 1)], after)
    assert sum(step in after for step in steps) >= len(steps) - 2
    for card in {name for step in told.steps for name in step.cards}:
        assert after.count(squeezed(technique_card(card).steps[0])) == 1


@pytest.mark.parametrize("name", DEMOS)
def test_the_text_and_the_page_tell_it_too(name: str) -> None:
    piece = demo(name)
    steps = [text for step in told_of(piece).steps for text in (step.title, step.says, *step.details)]
    text = sheet_bytes(*piece, ".txt").decode()
    assert stand_in_order(steps, text[text.rindex("\nMaking up\n") :])
    page = html.unescape(sheet_bytes(*piece, ".html").decode())
    assert stand_in_order(steps, page[page.index('<section class="making-up">') :])


def test_a_piece_that_is_done_on_the_bed_needs_none() -> None:
    bound = small(CAST_ON, {"kind": "plain", "rows": 2}, {"kind": "bind_off"})
    titles = [step.title for step in told_of(bound).steps]
    pages = sheet_pages(*bound, PAPERS["a4"], cautious_width)
    said = [mark.text for page in pages for mark in page.marks if isinstance(mark, Text)]
    assert ("Making up" in said) == bool(titles)
    assert told_of(small()).steps == ()
    assert '<section class="making-up">' not in sheet_bytes(*small(), ".html").decode()


@pytest.fixture
def another_language() -> Iterator[None]:
    """A language with a comma that says everything as English does."""
    language.use(NullTranslations(), "de", ",")
    yield
    language.use(NullTranslations())


@pytest.mark.usefixtures("another_language")
def test_the_page_says_which_language_it_is_in_and_writes_numbers_its_way() -> None:
    page = sheet_bytes(*small(CAST_ON, {"kind": "plain", "rows": 2}), ".html").decode()
    assert '<html lang="de">' in page
    assert "4,5 mm apart" in page


def test_the_page_is_english_otherwise() -> None:
    page = sheet_bytes(*small(CAST_ON), ".html").decode()
    assert '<html lang="en">' in page
    assert "4.5 mm apart" in page


# -- sizes ------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("qapp")
def test_the_table_has_every_size_with_its_figures() -> None:
    piece = find_starter("sock").make({"size": 40})
    rows = sizes_of(piece)
    assert [row.size for row in rows] == [size.name for size in find_starter("sock").sizes]
    with read_pdf(sheet_bytes(*compiled(piece), ".pdf", SIZES)) as pdf:
        whole = " ".join(" ".join(pdf.text(page).split()) for page in range(pdf.pages))
    graded = [row for row in rows if isinstance(row, Graded)]
    assert len(graded) > 5
    for row in graded:
        assert f"{row.size} {row.needles} {row.rows} {row.stitches} " in whole
        assert f"Size {row.size}" in whole


def test_a_piece_without_measures_has_no_sizes() -> None:
    with pytest.raises(NoSizes, match="not made from measures"):
        sizes_of(small()[0])
    with pytest.raises(SheetError, match="not made from measures"):
        sheet_bytes(*small(), ".pdf", SIZES)


def test_a_document_of_nothing_is_refused() -> None:
    with pytest.raises(SheetError, match="no part"):
        sheet_bytes(*small(), ".pdf", SheetOptions(parts=frozenset()))
