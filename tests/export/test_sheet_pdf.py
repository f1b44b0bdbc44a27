from typing import Any

import numpy as np
import numpy.typing as npt
import pytest

from bedview.export.paper.documents import SheetPart, sheet_pages
from bedview.export.paper.pages import FOOT_MM, INK, MM, PAPERS, Block, Page, flow
from bedview.export.paper.rows import BOX_TALL
from bedview.export.printing import paper_measure, pdf_of
from bedview.export.sheet import SheetError, SheetOptions, sheet_bytes
from bedview.painting.fonts import text_width
from bedview.picture.marks import Box, Dots, Lines, Shape, Text, text_box
from tests.export.pdf import read_pdf
from tests.export.pieces import CAST_ON, Compiled, demo, little_heel, small

WITHOUT_SIZES = [part for part in SheetPart if part is not SheetPart.SIZES]
pytestmark = pytest.mark.usefixtures("qapp")

DEMOS = ["harbour-heel", "harbour-bootee", "allotment-vest-shoulders", "mountain-hut-hat"]


def pages_of(compiled: Compiled, paper: str = "a4", *more: SheetPart) -> list[Page]:
    piece, procedure = compiled
    return sheet_pages(piece, procedure, PAPERS[paper], paper_measure(), {SheetPart.FOLLOWING, *more})


def with_strip(paper: str = "a4") -> SheetOptions:
    return SheetOptions(paper, frozenset({SheetPart.FOLLOWING, SheetPart.NEEDLE_STRIP}))


# -- the pages as they are laid out -----------------------------------------------------------------------


def bounds(mark: Any) -> tuple[float, float, float, float]:  # noqa: ANN401 - marks of any kind
    match mark:
        case Text():
            return text_box(mark, text_width)
        case Box():
            return mark.x, mark.y, mark.x + mark.width, mark.y + mark.height
        case Shape():
            points = [value for _, values in mark.path for value in values]
            return min(points[::2]), min(points[1::2]), max(points[::2]), max(points[1::2])
        case Lines():
            xs, ys = mark.ends[:, ::2], mark.ends[:, 1::2]
            return float(xs.min()), float(ys.min()), float(xs.max()), float(ys.max())
        case Dots():
            (left, top), (right, foot) = mark.centres.min(axis=0), mark.centres.max(axis=0)
            return left - mark.radius, top - mark.radius, right + mark.radius, foot + mark.radius
    raise AssertionError(mark)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", DEMOS)
def test_nothing_reaches_into_the_margin(name: str, paper: str) -> None:
    for page in pages_of(demo(name), paper, *WITHOUT_SIZES):
        room = page.paper
        least, right = room.margin_mm * MM, (room.width_mm - room.margin_mm) * MM
        bottom = (room.height_mm - room.margin_mm) * MM
        # The sign of a box or needle may lean out by less than a millimetre; printers leave 5 mm.
        air = 1.0 * MM
        for mark in page.marks:
            left, top, end, foot = bounds(mark)
            assert least - air <= left <= end <= right + air, mark
            assert least - air <= top <= foot <= bottom + air, mark
        for placed in page.pictures:
            assert placed.x >= least - 1e-6
            assert placed.x + placed.picture.width * placed.scale <= right + 1e-6
            assert placed.y + placed.picture.height * placed.scale <= bottom - FOOT_MM * MM + 1e-6


@pytest.mark.parametrize("name", DEMOS)
def test_no_text_lies_on_another(name: str) -> None:
    for page in pages_of(demo(name), "a4", *WITHOUT_SIZES):
        texts = [(mark, bounds(mark)) for mark in page.marks if isinstance(mark, Text)]
        for place, (one, box) in enumerate(texts):
            for other, beside in texts[place + 1 :]:
                apart = (
                    box[2] <= beside[0] or beside[2] <= box[0] or box[3] <= beside[1] or beside[3] <= box[1]
                )
                assert apart, (one.text, other.text)


def test_blocks_go_to_the_next_page_with_those_they_belong_to() -> None:
    paper = PAPERS["a4"]
    tall = paper.height_of_text
    rest = Block(tall - 50, (Text(0, 0, "rest", 10, "#000000"),))
    heading = Block(30, (Text(0, 0, "heading", 10, "#000000"),), with_next=True)
    line = Block(30, (Text(0, 0, "line", 10, "#000000"),))
    pages = flow([rest, heading, line, line], paper)
    said = [[mark.text for mark in page.marks if isinstance(mark, Text)] for page in pages]
    assert said == [["rest"], ["heading", "line", "line"]]


def test_a_run_of_like_steps_has_one_picture() -> None:
    # The cast-on, the first needle held, the first one wrapped and the other pushed back; the rest is alike.
    pages = pages_of(little_heel())
    # The last picture is that of the card for the needles that are still on the bed.
    assert sum(len(page.pictures) for page in pages[1:]) == 3 + 1
    assert len(pages[0].pictures) == 1


# -- the document -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_pages_have_the_size_of_the_paper(paper: str, size: tuple[float, float]) -> None:
    compiled = demo("harbour-heel")
    data = sheet_bytes(*compiled, ".pdf", with_strip(paper))
    with read_pdf(data) as pdf:
        assert pdf.pages == len(pages_of(compiled, paper, SheetPart.NEEDLE_STRIP))
        assert pdf.size_mm(0) == pytest.approx(size, abs=0.2)
        assert pdf.size_mm(pdf.pages - 1) == pytest.approx(size[::-1], abs=0.2)


@pytest.mark.parametrize("name", ["harbour-bootee", "mountain-hut-hat"])
def test_every_row_has_one_box_with_its_number(name: str) -> None:
    compiled = demo(name)
    rows = compiled[1].timeline.passes
    numbers: list[int] = []
    for page in pages_of(compiled)[1:]:
        # Boxes of the making up have no number in them and are lower.
        boxes = [mark for mark in page.marks if isinstance(mark, Box) and mark.height == BOX_TALL]
        texts = [mark for mark in page.marks if isinstance(mark, Text)]
        for box in boxes:
            inside = [
                text.text
                for text in texts
                if box.x < text.x < box.x + box.width and box.y < text.y < box.y + box.height
            ]
            assert len(inside) == 1
            numbers.append(int(inside[0]))
    assert numbers == list(range(1, rows + 1))


@pytest.mark.parametrize("name", ["harbour-bootee", "harbour-heel"])
def test_the_document_tells_every_row_and_part(name: str) -> None:
    compiled = demo(name)
    with read_pdf(sheet_bytes(*compiled, ".pdf")) as pdf:
        squeezed = ["".join(pdf.text(page).split()) for page in range(pdf.pages)]
        whole = "".join(squeezed)
        for span in compiled[1].top_spans():
            assert "".join(span.segment.title.split()) in whole
        for page in range(pdf.pages):
            assert f"page{page + 1}of{pdf.pages}" in squeezed[page]
        for row in range(1, compiled[1].timeline.passes + 1):
            assert str(row) in whole


def test_a_veil_over_the_fabric_is_not_opaque() -> None:
    """Qt writes a gradient from clear to full into a PDF as if it were full all over."""
    with read_pdf(sheet_bytes(*little_heel(), ".pdf")) as pdf:
        assert pdf.pages >= 2
        pages = pages_of(little_heel())
        number, placed = next(
            (number, page.pictures[-1])
            for number, page in enumerate(pages)
            if number and len(page.pictures) > 1
        )
        dots = 4.0
        grey = pdf.grey(number, dots)
        top, tall = placed.y / MM * dots, placed.picture.height * placed.scale / MM * dots
        # Where the veil is some way down, the fabric still shows.
        band = grey[int(top + 0.72 * tall) : int(top + 0.8 * tall), 200:-200]
        assert (band < 230).mean(axis=1).max() > 0.2


# -- the strip --------------------------------------------------------------------------------------------


def dark_columns(line: npt.NDArray[np.uint8], below: int = 128) -> npt.NDArray[np.float64]:
    """Middles of the dark stretches along a line of pixels."""
    dark = np.concatenate(([False], line < below, [False])).astype(np.int8)
    starts, ends = np.flatnonzero(np.diff(dark) == 1), np.flatnonzero(np.diff(dark) == -1)
    return (starts + ends) / 2


@pytest.mark.parametrize("pitch_mm", [3.6, 4.5, 7.0, 9.0])
def test_the_strip_has_the_pitch_of_the_bed(pitch_mm: float) -> None:
    compiled = small(CAST_ON, pitch_mm=pitch_mm)
    dots = 20.0
    with read_pdf(sheet_bytes(*compiled, ".pdf", with_strip())) as pdf:
        grey = pdf.grey(pdf.pages - 1, dots)
    # The ticks hang from the upper edge of the band, which lies 12 mm below the margin.
    middles = dark_columns(grey[round((13 + 12 + 3) * dots)]) / dots
    # Between the band's own two edges, broken lines, ten ticks from L5 to R5.
    ticks = middles[(middles > 13.2) & (middles < 13 + 10 * pitch_mm - 0.2)]
    assert len(ticks) == 10
    assert np.diff(ticks) == pytest.approx(np.full(9, pitch_mm), abs=0.05)
    assert ticks[-1] - ticks[0] == pytest.approx(9 * pitch_mm, abs=0.05)


def test_the_ruler_is_100_mm_long() -> None:
    dots = 20.0
    with read_pdf(sheet_bytes(*small(CAST_ON), ".pdf", with_strip())) as pdf:
        grey = pdf.grey(pdf.pages - 1, dots)
        tall = pdf.size_mm(pdf.pages - 1)[1]
    top = tall - 13 - FOOT_MM - 13
    line = grey[round((top + 6 - 0.7) * dots), : round((13 + 2 + 101) * dots)]
    middles = dark_columns(line) / dots
    assert len(middles) == 101
    assert middles[-1] - middles[0] == pytest.approx(100, abs=0.05)


def test_the_outline_is_in_full_size() -> None:
    # Ten needles and 40 rows at 28 by 40 to 10 cm: 35.7 by 100 mm, drawn with lines 0.7 mm wide.
    rectangle = small(CAST_ON, {"kind": "plain", "rows": 39})
    dots = 20.0
    options = SheetOptions(parts=frozenset({SheetPart.OUTLINE}))
    with read_pdf(sheet_bytes(*rectangle, ".pdf", options)) as pdf:
        grey = pdf.grey(0, dots)
    # Below the heads and above the ruler nothing else is as dark.
    middle = grey[round(40 * dots) : round(120 * dots)]
    across = dark_columns(np.median(middle, axis=0).astype(np.uint8), below=60) / dots
    assert across[-1] - across[0] == pytest.approx(10 * 100 / 28, abs=0.05)
    column = grey[: round(160 * dots), round((across[0] + 6) * dots)]
    down = dark_columns(column, below=60) / dots
    assert down[-1] - down[-2] == pytest.approx(40 * 100 / 40, abs=0.05)


# -- what cannot be had -----------------------------------------------------------------------------------


def test_unknown_paper_is_refused() -> None:
    with pytest.raises(SheetError, match="a4, letter"):
        sheet_bytes(*little_heel(), ".pdf", SheetOptions(paper="napkin"))


def test_an_outline_without_a_gauge_is_refused() -> None:
    piece, procedure = little_heel()
    bare = piece.revised(gauges=())
    with pytest.raises(SheetError, match="gauge"):
        sheet_bytes(bare, procedure, ".pdf", SheetOptions(parts=frozenset({SheetPart.OUTLINE})))


def test_a_document_has_its_title() -> None:
    data = pdf_of(pages_of(little_heel()), "Net float")
    with read_pdf(data) as pdf:
        title = pdf.document.metaData(pdf.document.MetaDataField.Title)
    assert title == "Net float"


# -- text -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("bold", [False, True])
def test_signs_beside_figures_are_copied_out_as_they_are_read(bold: bool) -> None:
    """A typeface may have another glyph for a sign beside a figure; a reader of the file must know it too."""
    said = ("Row 10: knit", "at 24:00", "2-3 (4) + 5 x 6", "3x4 -> 12", "1 @ 2 != 3 := 4")
    marks = tuple(
        Text(20 * MM, (20 + 10 * line) * MM, text, 4 * MM, INK.ink, bold=bold)
        for line, text in enumerate(said)
    )
    with read_pdf(pdf_of([Page(PAPERS["a4"], marks)], "Signs")) as pdf:
        assert pdf.text(0).splitlines() == [*said]
