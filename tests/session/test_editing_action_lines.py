from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.session.action_lines import read_actions, say_action
from bedview.session.editing import EditError
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece

ITEMS: list[dict[str, Any]] = [
    {"do": "thread", "yarn": "main"},
    {"do": "cut"},
    {"do": "cut", "tail_cm": 40},
    {"do": "cut", "tail_cm": 12.5},
    {"do": "park"},
    {"do": "resume", "yarn": "a b"},
    {"do": "note", "text": "hang a marker", "needles": "L10,R10"},
    {"do": "note", "text": "two\nlines \\ and more: R4 to hold"},
    {"do": "hold_cams", "on": True},
    {"do": "hold_cams", "on": False},
    {"do": "tension", "dial": 6.5},
    {"do": "counter", "value": 0},
    {"do": "place", "needles": "L10-R4,R7", "position": "hold"},
    {"do": "cast_on", "needles": "L10-R10"},
    {"do": "wrap", "needle": "R10"},
    {"do": "transfer", "from": "L10", "to": "L9"},
    {"do": "bind_off", "needles": "L10-R10"},
    {"do": "hang", "needles": "L10-R10", "edge": {"open": "L10-R10", "pass": 74}, "turned": True},
    {"do": "hang", "needles": "L10-R10", "edge": {"open": "L10-R10"}},
    {"do": "free_move"},
    {"do": "knit", "rows": 4},
    {"do": "knit", "rows": 4, "from": "right"},
]


@pytest.mark.parametrize("item", ITEMS, ids=say_action)
def test_a_line_read_again_is_the_same_action(item: dict[str, Any]) -> None:
    assert "\n" not in say_action(item)
    assert read_actions(say_action(item)) == [item]


def test_every_action_of_the_demos_is_read_again() -> None:
    for path in demo_paths().values():
        for part in read_piece(path).model_dump(exclude_unset=True)["segments"]:
            for item in part.get("actions", ()):
                assert read_actions(say_action(item)) == [item]


@given(
    st.text(alphabet=st.characters(exclude_categories=("Cs", "Zl", "Zp", "Cc")), min_size=1).filter(str.strip)
)
def test_any_words_of_a_note_come_back(text: str) -> None:
    item = {"do": "note", "text": text.strip()}
    assert read_actions(say_action(item)) == [item]


def test_the_first_line_that_is_no_action_is_named() -> None:
    with pytest.raises(EditError, match="line 3: 'purl 2' is no action"):
        read_actions("knit 2\n\npurl 2\nsing")
