import pytest

from bedview.store.piece_file import PieceError, parse_piece
from tests.store.broken_files import BROKEN, Broken


@pytest.mark.parametrize("broken", BROKEN.values(), ids=BROKEN.keys())
def test_is_refused_with_its_place_in_one_line(broken: Broken) -> None:
    data = broken.text.encode() if isinstance(broken.text, str) else broken.text

    with pytest.raises(PieceError) as refused:
        parse_piece(data)

    assert refused.value.where == broken.where
    assert broken.says in refused.value.what
    assert str(refused.value) == f"{refused.value.where}: {refused.value.what}"
    assert len(str(refused.value).splitlines()) == 1
    assert len(refused.value.what) < 300
