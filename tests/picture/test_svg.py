from xml.etree import ElementTree as ET

from bedview.bed.needles import Position
from bedview.picture.bed_drawing import draw_bed
from bedview.picture.bed_needles import needles_painted
from bedview.picture.look import LIGHT
from bedview.picture.marks import DisplayList, Layer, Text
from bedview.picture.svg import to_svg
from tests.picture.examples import standing

SVG = "{http://www.w3.org/2000/svg}"


def read(text: str) -> ET.Element:
    """The document as any reader of XML sees it."""
    return ET.fromstring(text)  # noqa: S314  # nobody else had a hand in this text


def group(root: ET.Element, name: str) -> ET.Element:
    return next(element for element in root.iter(f"{SVG}g") if element.get("class") == name)


def test_svg_holds_the_same_needles() -> None:
    picture = draw_bed(standing("oowwuhhhoo", loops="0011111100", wraps="0000001100"), 1280, 390, LIGHT)
    root = read(to_svg(picture))
    uses = group(root, "needles").findall(f"{SVG}use")
    assert (
        len(uses) == 10 == sum(needles_painted(picture.layer("needles"), position) for position in Position)
    )
    assert len(group(root, "wraps").findall(f"{SVG}use")) == 2
    names = {element.get("id") for element in root.find(f"{SVG}defs") or ()}
    used = {(use.get("{http://www.w3.org/1999/xlink}href") or "")[1:] for use in root.iter(f"{SVG}use")}
    assert used <= names
    assert root.find(f"{SVG}title") is not None


def test_texts_are_escaped() -> None:
    picture = DisplayList(10, 10, "#ffffff", (Layer("a&b", (Text(0, 0, "</text><b>&", 10, "#000000"),)),))
    root = read(to_svg(picture))
    assert [element.text for element in root.iter(f"{SVG}text")] == ["</text><b>&"]


def test_ids_take_a_prefix_so_that_pictures_can_share_a_page() -> None:
    root = read(to_svg(draw_bed(standing("wwww"), 640, 200, LIGHT), only_body=True, prefix="one-"))
    names = [element.get("id") or "" for element in root.find(f"{SVG}defs") or ()]
    assert names
    assert all(name.startswith("one-") for name in names)


def test_no_path_is_empty() -> None:
    root = read(to_svg(draw_bed(standing("o" * 300), 1280, 390, LIGHT)))
    assert all(element.get("d") for element in root.iter(f"{SVG}path"))
