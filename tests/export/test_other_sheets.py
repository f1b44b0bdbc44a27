"""Tables, pictures, text, and how a file's ending decides."""

import csv
import io
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from gettext import NullTranslations
from pathlib import Path

import pytest
from PySide6.QtGui import QImage

from bedview import language
from bedview.bed.needles import format_needles, parse_needles
from bedview.export.sheet import ENDINGS, SheetError, sheet_bytes, write_sheet
from bedview.export.table_sheet import COLUMNS, as_text
from bedview.export.trace import trace_lines
from bedview.plan.instructions import plan_text
from bedview.store.whole_file import OutputError
from tests.export.pieces import CAST_ON, Compiled, demo, little_heel, random_one, small


def table(compiled: Compiled) -> list[dict[str, str]]:
    text = sheet_bytes(*compiled, ".csv").decode()
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("seed", range(6))
def test_a_line_of_the_table_is_what_the_trace_says(seed: int) -> None:
    compiled = piece, procedure = random_one(seed)
    lines = table(compiled)
    trace = list(trace_lines(procedure.timeline))
    assert len(lines) == len(procedure.steps)
    for line, step in zip(lines, procedure.steps, strict=True):
        told = trace[step.last_line]
        assert line["part"] == "some of it"
        assert line["counter"] == str(told["row"])
        assert line["carriage_at"] == told["carriage"]
        assert line["hold_cams"] == ("on" if told["hold_cams"] else "off")
        assert line["yarn"] == (told["yarn"] or "")
        assert line["row"] == (str(told["pass"]) if step.makes_pass else "")
        if step.makes_pass:
            needles = [parse_needles(name, piece.bed.needles)[0] for name in told["knit"]]
            assert line["knit"] == format_needles(needles, piece.bed.needles)


def test_the_table_of_a_little_heel() -> None:
    lines = table(little_heel())
    assert tuple(lines[0]) == COLUMNS
    assert [line["row"] for line in lines if line["row"]] == [str(row) for row in range(1, 41)]
    assert lines[4]["hands"] == "Set the hold cams to on. Bring L5 to hold"
    assert (lines[4]["knit"], lines[4]["wrapped"]) == ("L4-R5", "L5")


class Whispering(NullTranslations):
    """A language that says everything in brackets."""

    def gettext(self, message: str) -> str:
        return f"({message})"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return f"({super().ngettext(msgid1, msgid2, n)})"


@pytest.fixture
def whispered() -> Iterator[None]:
    language.use(Whispering(), "xx")
    yield
    language.use(NullTranslations())


@pytest.mark.usefixtures("whispered")
@pytest.mark.parametrize("name", ["harbour-bootee", "mountain-hut-hat"])
def test_the_table_is_the_same_in_every_language(name: str) -> None:
    spoken = sheet_bytes(*demo(name), ".csv"), sheet_bytes(*demo(name), ".txt")
    language.use(NullTranslations())
    assert spoken[0] == sheet_bytes(*demo(name), ".csv")
    # What people read did follow.
    assert spoken[1] != sheet_bytes(*demo(name), ".txt")


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@a", "\tb", "\rc"])
def test_no_text_is_a_formula(text: str) -> None:
    assert as_text(text) == f"'{text}"
    assert as_text(f"a{text}") == f"a{text}"


def test_the_table_quotes_what_has_commas_and_lines() -> None:
    nasty = 'say "one", two; =3'
    note = {"kind": "actions", "title": nasty, "actions": [{"do": "note", "text": f"={nasty}"}]}
    line = table(small(note))[0]
    assert (line["part"], line["hands"]) == (nasty, f"'={nasty}")


def test_the_chart_is_sound_svg_with_all_parts() -> None:
    root = ET.fromstring(sheet_bytes(*demo("harbour-bootee"), ".svg"))  # noqa: S314 - our own writing
    said = {text.text for text in root.iter("{http://www.w3.org/2000/svg}text")}
    assert {"Harbour bootee", "Cuff", "Foot", "20 rows", "127"} <= said
    box = [float(number) for number in root.attrib["viewBox"].split()]
    assert box[2:] == [float(root.attrib["width"]), float(root.attrib["height"])]
    assert box[2] == 1000


def test_a_title_in_svg_is_text() -> None:
    root = ET.fromstring(sheet_bytes(*small(CAST_ON, title="<b>&"), ".svg"))  # noqa: S314 - our own writing
    assert "<b>&" in {text.text for text in root.iter("{http://www.w3.org/2000/svg}text")}


@pytest.mark.usefixtures("qapp")
def test_the_image_is_twice_the_size_of_the_chart() -> None:
    compiled = demo("harbour-heel")
    image = QImage.fromData(sheet_bytes(*compiled, ".png"))
    root = ET.fromstring(sheet_bytes(*compiled, ".svg"))  # noqa: S314 - our own writing
    assert (image.width(), image.height()) == (
        2 * float(root.attrib["width"]),
        2 * float(root.attrib["height"]),
    )
    colours = {image.pixel(x, image.height() // 2) for x in range(image.width())}
    assert len(colours) > 3


def test_the_text_has_the_plan_and_what_to_know() -> None:
    compiled = demo("harbour-bootee")
    text = sheet_bytes(*compiled, ".txt").decode()
    lines = text.splitlines()
    assert lines[0] == "Harbour bootee"
    assert [line for line in plan_text(compiled[1]).splitlines() if line not in lines] == []
    assert any(line.startswith("blue harbour wool: 550 tex") for line in lines)
    little = sheet_bytes(*little_heel(), ".txt").decode().splitlines()
    assert sum(line.startswith("warning: Stitches left on the bed, L5 to R5") for line in little) == 1


def test_yarns_that_are_not_knitted_are_left_out() -> None:
    text = sheet_bytes(*little_heel(), ".txt").decode()
    assert "blue wool: " in text
    assert "waste cotton" not in text


# -- files ------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("ending", [*ENDINGS, ".PDF"])
def test_the_ending_says_what_is_written(ending: str, tmp_path: Path) -> None:
    starts = {
        ".pdf": b"%PDF-",
        ".html": b"<!DOCTYPE html>",
        ".csv": b"step,part",
        ".svg": b"<?xml",
        ".png": b"\x89PNG",
        ".txt": b"Net float",
    }
    path = tmp_path / f"sheet{ending}"
    write_sheet(*little_heel(), path)
    assert path.read_bytes().startswith(starts[ending.lower()])
    assert [each.name for each in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize("name", ["sheet", "sheet.doc", "sheet.pdf.gz"])
def test_another_ending_is_refused_and_nothing_written(name: str, tmp_path: Path) -> None:
    with pytest.raises(SheetError, match=r"\.csv, \.html, \.pdf, \.png, \.svg, \.txt"):
        write_sheet(*little_heel(), tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_an_output_error(tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        write_sheet(*little_heel(), tmp_path / "none" / "sheet.txt")


def test_a_piece_without_segments_has_every_toolkit_free_sheet() -> None:
    for ending in (".html", ".csv", ".svg", ".txt"):
        assert sheet_bytes(*small(), ending)


@pytest.mark.usefixtures("qapp")
def test_a_piece_without_segments_can_be_printed() -> None:
    assert sheet_bytes(*small(), ".pdf").startswith(b"%PDF-")
