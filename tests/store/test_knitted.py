from bedview.bed.actions import Action, Knit, Note, Place, Tension
from bedview.bed.needles import Bed, Position, Side
from bedview.store.knitted import step_digests

BED = Bed(8)
HOLD = Place((0,), Position.HOLD)


def digests(*steps: list[Action], bed: Bed = BED) -> list[bytes]:
    """The running digests of some steps."""
    return list(step_digests(bed, steps))


def test_one_digest_a_step_each_unlike_the_others() -> None:
    found = digests([Knit(4)], [Knit(4)], [HOLD, Knit(1)])

    assert len(set(found)) == len(found) == 3
    assert {len(digest) for digest in found} == {16}


def test_a_change_alters_its_step_and_all_after_it() -> None:
    before = digests([Knit(1)], [HOLD, Knit(1)], [Knit(1)])
    after = digests([Knit(1)], [Place((1,), Position.HOLD), Knit(1)], [Knit(1)])

    assert before[0] == after[0]
    assert before[1] != after[1]
    assert before[2] != after[2]


def test_more_rows_later_are_no_change_of_these() -> None:
    assert digests([Knit(4)], [Knit(4)]) == digests([Knit(40, Side.RIGHT)], [Knit(40, Side.RIGHT)])


def test_notes_do_nothing_to_the_bed() -> None:
    assert digests([Note("x"), Knit(1)]) == digests([Knit(1)])


def test_where_a_step_ends_matters() -> None:
    assert digests([HOLD], [Knit(1)])[1] != digests([HOLD, Knit(1)])[0]
    assert digests([HOLD, Tension(6)], [Knit(1)])[1] != digests([HOLD], [Tension(6), Knit(1)])[1]


def test_another_bed_or_side_is_another_procedure() -> None:
    found = [digests([Knit(1)], bed=bed)[0] for bed in (BED, Bed(10), Bed(8, carriage=Side.LEFT))]

    assert len(set(found)) == 3
