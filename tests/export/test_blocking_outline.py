from itertools import pairwise

import pytest

from bedview.export.paper.blocking_outline import NoGauge, Outline, outline_of, outline_pages
from bedview.export.paper.needle_strip import OVERLAP, bands
from bedview.export.paper.pages import PAPERS
from tests.export.pieces import CAST_ON, Compiled, small

# The gauge of these pieces: 28 stitches and 40 rows over 100 mm, so 3.571 mm by 2.5 mm.
STITCH_MM, ROW_MM = 100 / 28, 100 / 40


def outline(compiled: Compiled) -> Outline:
    return outline_of(*compiled)


def area_mm2(found: Outline) -> float:
    """By the shoelace formula."""
    whole = 0.0
    for ring in found.rings():
        pairs = zip(ring, ring[1:] + ring[:1], strict=True)
        whole += abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2
    return whole


def test_a_rectangle_has_the_size_of_its_gauge() -> None:
    found = outline(small(CAST_ON, {"kind": "plain", "rows": 39}))
    # Ten wales of a cast-on and 39 knitted loops.
    assert found.width_mm == pytest.approx(10 * STITCH_MM)
    assert found.height_mm == pytest.approx(40 * ROW_MM)
    assert area_mm2(found) == pytest.approx(400 * STITCH_MM * ROW_MM)
    assert not found.cups


def test_waste_is_no_part_of_it() -> None:
    waste = {"kind": "scrap_off", "needles": "L5-R5", "waste": "waste", "rows": 8}
    found = outline(small(CAST_ON, {"kind": "plain", "rows": 39}, waste))
    assert found.height_mm == pytest.approx(40 * ROW_MM)


def test_a_slope_of_short_rows_slopes() -> None:
    slope = {"kind": "short_rows", "down_to": 4, "ends": "right", "needles_a_step": 2}
    found = outline(small(CAST_ON, {"kind": "plain", "rows": 3}, slope))
    lengths = (found.top - found.bottom).tolist()
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[-1] < lengths[0]
    assert found.cups


def test_pages_cover_the_whole_in_full_size() -> None:
    compiled = small(
        {"kind": "cast_on", "needles": "L40-R40", "yarn": "main"}, {"kind": "plain", "rows": 159}, needles=120
    )
    found, paper = outline(compiled), PAPERS["a4"]
    # 285.7 by 400 mm on sheets of 184 by some 240 mm that overlap by 10.
    pages = outline_pages(found, paper, compiled[1].words)
    assert len(pages) == 2 * 2
    shapes = [
        mark
        for page in pages
        for placed in page.pictures
        for mark in placed.picture.layer("outline")
        if hasattr(mark, "path")
    ]
    assert all(placed.scale == 1 for page in pages for placed in page.pictures)
    for shape in shapes:
        xs = [x for _, points in shape.path for x in points[::2]]
        assert (max(xs) - min(xs)) / 10 == pytest.approx(80 * STITCH_MM)


def test_the_paper_lies_so_that_fewest_sheets_are_needed() -> None:
    # 63 needles and 190 rows at 28 by 40 to 10 cm: 225 by 477.5 mm with its cast-on. Upright A4 takes 184 by
    # 239 mm a sheet: 2 across, 3 down. Sideways it takes 271 by 152: 1 across, 4 down.
    tall = small(
        {"kind": "cast_on", "needles": "L32-R31", "yarn": "main"}, {"kind": "plain", "rows": 190}, needles=120
    )
    pages = outline_pages(outline(tall), PAPERS["a4"], tall[1].words)
    assert len(pages) == 4
    assert {page.paper for page in pages} == {PAPERS["a4"].sideways()}


def test_without_fabric_there_is_none() -> None:
    with pytest.raises(NoGauge, match="no fabric"):
        outline(small())


@pytest.mark.parametrize(
    ("first", "last", "pitch", "room"), [(0, 199, 4.5, 271.0), (40, 69, 9.0, 271.0), (3, 3, 9.0, 30.0)]
)
def test_bands_cover_every_needle_and_overlap(first: int, last: int, pitch: float, room: float) -> None:
    found = bands(first, last, pitch, room)
    assert found[0].first == first
    assert found[-1].last == last
    for band, following in pairwise(found):
        assert following.first == band.last - OVERLAP + 1
    assert all((band.last - band.first + 1) * pitch <= room for band in found)


def test_bands_of_200_needles_are_four() -> None:
    # 60 needles of 4.5 mm fit into 271 mm; each band after the first brings 58 new ones: 60 + 58 + 58 + 24.
    assert [(band.first, band.last) for band in bands(0, 199, 4.5, 271.0)] == [
        (0, 59),
        (58, 117),
        (116, 175),
        (174, 199),
    ]
