import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.picture.lines_of_text import shortened, wrapped


def ten_a_letter(text: str, size: float, bold: bool) -> float:
    return len(text) * size * (2 if bold else 1)


def test_words_go_on_the_next_line_where_they_do_not_fit() -> None:
    assert wrapped("bring R10 to hold", 90, 10, ten_a_letter) == ["bring R10", "to hold"]
    assert wrapped("bring R10 to hold", 90, 10, ten_a_letter, bold=True) == ["brin", "g", "R10", "to", "hold"]


def test_a_word_wider_than_the_line_is_broken() -> None:
    assert wrapped("a sailmakersneedle", 60, 10, ten_a_letter) == ["a", "sailma", "kersne", "edle"]


@given(st.text(st.characters(codec="ascii"), max_size=60), st.floats(10, 400))
def test_nothing_is_lost_and_nothing_sticks_out(text: str, room: float) -> None:
    lines = wrapped(text, room, 10, ten_a_letter)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(ten_a_letter(line, 10, False) <= room for line in lines)


@pytest.mark.parametrize(
    ("room", "cut"), [(100, "short rows"), (99, "short ro…"), (70, "short…"), (20, "s…"), (10, "")]
)
def test_a_text_is_cut_with_an_ellipsis(room: float, cut: str) -> None:
    assert shortened("short rows", room, 10, ten_a_letter) == cut
