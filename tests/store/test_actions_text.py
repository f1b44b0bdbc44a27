import pytest

from bedview.bed.actions import Knit, Park, Wrap
from bedview.store.actions_text import parse_actions
from bedview.store.piece_file import PieceError


def test_actions_by_themselves() -> None:
    text = b'[{"do":"knit","rows":4},{"do":"park"},{"do":"wrap","needle":"R4"}]'

    assert parse_actions(text, 8) == [Knit(4), Park(), Wrap(7)]
    assert parse_actions(b"[]", 8) == []


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        ("{}", "top level", "must be a list, not an object"),
        (
            '[{"do":"park"},{"do":"knit","rows":0}]',
            "[1].rows",
            "must be a whole number from 1 to 9999, not 0",
        ),
        ('[{"do":"wrap","needle":"R5"}]', "[0].needle", "beyond the bed, which ends at R4"),
        ('[{"do":"purl"}]', "[0].do", "'purl' is not an action"),
        ('[{"do":"park","do":"park"}]', "[0].do", "twice"),
        ('[{"do":"park","x":1}]', "[0].x", "known: do"),
        ("[", "line 1 column 1", "ends in the middle"),
    ],
)
def test_the_first_wrong_one_is_named(text: str, where: str, says: str) -> None:
    with pytest.raises(PieceError) as refused:
        parse_actions(text.encode(), 8)

    assert refused.value.where == where
    assert says in refused.value.what
