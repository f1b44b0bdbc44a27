"""Where the size of a stitch comes from."""

import numpy as np
import pytest

from bedview.form.links import fabric_loops
from bedview.form.stitch_sizes import StitchSizes, stitch_sizes
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from tests.form.fabrics import Writer, rectangle


def sizes_of(piece: Piece) -> StitchSizes:
    timeline = compile_piece(piece).timeline
    return stitch_sizes(piece, timeline, fabric_loops(timeline.fabric))


def test_a_swatch_tells_all() -> None:
    sizes = sizes_of(rectangle(4, 2, gauge=(25, 40)))
    assert sizes.width_mm == pytest.approx(np.full(12, 4.0))
    assert sizes.height_mm == pytest.approx(np.full(12, 2.5))
    assert sizes.notes == ()


def test_without_a_swatch_the_pitch_tells_and_says_so() -> None:
    sizes = sizes_of(rectangle(4, 2, gauge=None))
    # 2.65 pitches of 5 mm to a loop, as the yarn is reckoned; of that 1 / 3.8 across and 1 / 5.0 up (Munden
    # 1959, dry relaxed).
    assert sizes.width_mm == pytest.approx(np.full(12, 13.25 / 3.8))
    assert sizes.height_mm == pytest.approx(np.full(12, 13.25 / 5.0))
    assert len(sizes.notes) == 1
    assert "pitch of 5 mm" in sizes.notes[0]


def test_each_row_has_the_size_of_its_own_tension() -> None:
    writer = Writer(4)
    for dial in (6, 8):
        writer.do("tension", dial=dial)
        writer.knit()
    document = writer.document()
    document["gauges"].append({"yarn": "main", "tension": 8, "stitches": 10, "rows": 10, "over_mm": 100})
    sizes = sizes_of(Piece.read(document))
    assert sizes.width_mm[4:].tolist() == [5.0] * 4 + [10.0] * 4


def test_the_nearest_tension_is_taken_where_there_is_no_swatch_of_the_one_set() -> None:
    writer = Writer(4)
    writer.do("tension", dial=7.5)
    writer.knit()
    document = writer.document()
    document["gauges"].append({"yarn": "main", "tension": 8, "stitches": 10, "rows": 10, "over_mm": 100})
    sizes = sizes_of(Piece.read(document))
    assert sizes.width_mm[4:].tolist() == [10.0] * 4
    assert any("at tension 7.5" in note and "tension 8" in note for note in sizes.notes)
