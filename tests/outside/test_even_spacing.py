"""Even spacing against published answers. T: read in the text of the source; R: by a package; D: derived."""

import numpy as np
import pytest

from bedview.plan.spacing import Gap, blocks, gaps, spread


@pytest.mark.parametrize(
    ("total", "events", "printed"),
    [
        (140, 36, (Gap(3, 4), Gap(4, 32))),  # T: apparel-analysis 2013/06
        (124, 14, (Gap(8, 2), Gap(9, 12))),  # T: Budd 2010
        (176, 42, (Gap(4, 34), Gap(5, 8))),  # T: designyourownsweater 2007/01
        (216, 142, (Gap(1, 68), Gap(2, 74))),  # D
    ],
)
def test_published_answers(total: int, events: int, printed: tuple[Gap, ...]) -> None:
    assert blocks(total, events) == printed
    mixed = gaps(spread(total, events))
    assert {size: mixed.count(size) for size in mixed} == {gap.size: gap.times for gap in printed}


def test_five_in_eight_is_a_rotation_of_the_published_one() -> None:
    # T: local-guru: x.x.xx.x, gaps {1, 1, 2, 2, 2}.
    places = spread(8, 5)
    said = "".join("x" if place in places else "." for place in range(1, 9))
    assert said in {("x.x.xx.x" * 2)[turn : turn + 8] for turn in range(8)}
    assert sorted(gaps(places)) == [1, 1, 2, 2, 2]


@pytest.mark.parametrize(("total", "events"), [(140, 36), (124, 14), (176, 42), (216, 142), (17, 17), (9, 1)])
def test_group_sizes_as_numpy_splits(total: int, events: int) -> None:
    # R: numpy.array_split.
    groups = [len(group) for group in np.array_split(np.arange(total), events)]
    assert sorted(gaps(spread(total, events))) == sorted(groups)
