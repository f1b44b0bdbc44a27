import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.piece import Piece
from bedview.store.migration import migrate
from bedview.store.piece_file import OutputError, PieceError, parse_piece, read_piece, write_piece
from bedview.store.piece_text import piece_text

JETTY = """\
{
  "format": 1,
  "title": "Jetty flag „Möwe“",
  "bed": {"needles": 120, "pitch_mm": 9.0, "carriage": "right"},
  "yarns": [
    {"id": "main", "role": "fabric", "name": "Tarred blue", "tex": 400, "colour": "#3b6ea5"},
    {"id": "scrap", "role": "waste"}
  ],
  "gauges": [
    {"yarn": "main", "tension": 6, "stitches": 16, "rows": 22.5, "over_mm": 100}
  ],
  "segments": [
    {"kind": "actions", "title": "Hoist", "actions": [
      {"do": "thread", "yarn": "main"},
      {"do": "cast_on", "needles": "L10-R10"},
      {"do": "knit", "rows": 4, "from": "right"}
    ]},
    {"kind": "repeat", "times": 3, "segments": [
      {"kind": "actions", "actions": [
        {"do": "tension", "dial": 6},
        {"do": "tension", "dial": 6.0}
      ]}
    ]},
    {"kind": "actions", "actions": []}
  ],
  "seams": [
    {"kind": "graft", "a": {"open": "L10-L2"}, "b": {"open": "L9-L1", "reverse": true}},
    {"kind": "mattress", "a": {"side": "left", "passes": [1, 4]}, "b": {"side": "right", "passes": [1, 4]}}
  ]
}
"""
SMALL: dict[str, Any] = {"format": 1, "bed": {"needles": 4, "pitch_mm": 9}, "segments": []}


def one_line_or_piece(data: bytes) -> bool:
    """Whether some bytes are read as a piece, or refused in one line: all that may happen."""
    try:
        return isinstance(parse_piece(data), Piece)
    except PieceError as refused:
        return len(str(refused).splitlines()) == 1


needles = some.sampled_from(["L2", "L1", "R1", "R2", "L2-R1", "R1-R2,L2"])
one = some.sampled_from(["L2", "L1", "R1", "R2"])
edges = some.one_of(
    some.builds(lambda n: {"open": n}, needles),
    some.builds(lambda n, p: {"open": n, "pass": p}, needles, some.integers(1, 200_000)),
    some.builds(
        lambda n, p: {"made_in_pass": p, "needles": n, "by": "pass"}, needles, some.integers(0, 200_000)
    ),
    some.builds(
        lambda a, b: {"side": "left", "passes": [a, a + b]}, some.integers(1, 99), some.integers(0, 99)
    ),
)
numbers = some.one_of(some.integers(0, 20), some.floats(0, 20))
items = some.one_of(
    some.builds(lambda y: {"do": "thread", "yarn": y}, some.text(min_size=1, max_size=20)),
    some.builds(lambda t: {"do": "cut", "tail_cm": t}, numbers),
    some.builds(lambda t, n: {"do": "note", "text": t, "needles": n}, some.text(), needles),
    some.builds(lambda t: {"do": "note", "text": t}, some.text()),
    some.builds(lambda on: {"do": "hold_cams", "on": on}, some.booleans()),
    some.builds(lambda d: {"do": "tension", "dial": d}, numbers),
    some.builds(lambda v: {"do": "counter", "value": v}, some.integers(0, 9999)),
    some.builds(lambda n: {"do": "place", "needles": n, "position": "upper"}, needles),
    some.builds(lambda n: {"do": "wrap", "needle": n}, one),
    some.builds(lambda a, b: {"do": "transfer", "from": a, "to": b}, one, one),
    some.builds(
        lambda n, e, t: {"do": "hang", "needles": n, "edge": e, "turned": t}, needles, edges, some.booleans()
    ),
    some.builds(lambda r: {"do": "knit", "rows": r, "from": "left"}, some.integers(1, 99)),
    some.just({"do": "free_move"}),
)
pieces = some.builds(
    lambda title, actions, times: (
        SMALL
        | {
            "title": title,
            "segments": [
                {
                    "kind": "repeat",
                    "times": times,
                    "segments": [{"kind": "actions", "title": title, "actions": actions}],
                }
            ],
        }
    ),
    some.text(max_size=50),
    some.lists(items, max_size=12),
    some.integers(1, 9),
)


def test_a_file_written_again_is_the_same_file() -> None:
    assert piece_text(parse_piece(JETTY.encode())).decode() == JETTY


@given(pieces)
def test_what_was_read_is_what_the_file_says(document: dict[str, Any]) -> None:
    piece = parse_piece(json.dumps(document).encode())

    written = piece_text(piece)

    assert json.loads(written) == document
    assert parse_piece(written) == piece
    assert piece_text(parse_piece(written)) == written


@given(some.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    assert one_line_or_piece(data)


@given(
    some.recursive(
        some.none() | some.booleans() | some.floats() | some.integers() | some.text(),
        lambda inner: (
            some.lists(inner)
            | some.dictionaries(
                some.sampled_from(
                    [*SMALL, "kind", "do", "actions", "needles", "edge", "open", "yarns", "seams", "times"]
                ),
                inner,
            )
        ),
    )
)
def test_any_json_is_read_or_refused(document: object) -> None:
    for text in (
        document,
        SMALL | {"segments": document},
        SMALL | {"segments": [{"kind": "actions", "actions": document}]},
    ):
        assert one_line_or_piece(json.dumps(text).encode())


def test_a_byte_order_mark_is_passed_over() -> None:
    assert parse_piece(b"\xef\xbb\xbf" + JETTY.encode()) == parse_piece(JETTY.encode())


def test_a_colon_in_a_note_is_no_key() -> None:
    note = {"do": "note", "text": 'hang: a "marker": here', "needles": "L1"}
    told = SMALL | {"title": "a:b", "segments": [{"kind": "actions", "title": ":", "actions": [note]}]}

    assert parse_piece(json.dumps(told).encode()).to_document()["segments"][0]["actions"] == (note,)


def test_a_colon_as_escape_does_not_make_up_for_a_key_twice() -> None:
    text = '{"format":1,"bed":{"needles":4,"pitch_mm":9},"title":"a\\u003ab","segments":[],"segments":[]}'
    with pytest.raises(PieceError, match="segments: the key 'segments' stands here twice"):
        parse_piece(text.encode())


def test_a_colon_as_escape_alone_is_read() -> None:
    text = '{"format":1,"bed":{"needles":4,"pitch_mm":9},"title":"a\\u003ab","segments":[]}'

    assert parse_piece(text.encode()).title == "a:b"


def test_exactly_as_many_actions_and_passes_as_allowed() -> None:
    park, knit = {"do": "park"}, {"do": "knit", "rows": 8000}
    many = [{"kind": "actions", "actions": [knit] * 25 + [park] * (200_000 - 25)}]

    assert len(parse_piece(json.dumps(SMALL | {"segments": many}).encode()).segments) == 1
    one_more = [*many, {"kind": "actions", "actions": [park]}]
    with pytest.raises(PieceError, match=r"segments\[1\]: .* more than 200000 actions"):
        parse_piece(json.dumps(SMALL | {"segments": one_more}).encode())


def test_a_newer_format_is_named_and_an_older_one_brought_up_to_date() -> None:
    def from_first(old: dict[str, Any]) -> dict[str, Any]:
        return {"format": 2, "called": old["title"]}

    assert migrate({"format": 1, "title": "Net"}, {1: from_first}, newest=2) == {"format": 2, "called": "Net"}
    with pytest.raises(PieceError, match="format: is newer"):
        migrate({"format": 3}, {1: from_first}, newest=2)


def test_what_cannot_be_opened_is_told_in_a_line(tmp_path: Path) -> None:
    with pytest.raises(PieceError, match="file: cannot be read: there is no such file"):
        read_piece(tmp_path / "none.piece.json")
    with pytest.raises(PieceError, match="file: cannot be read: it is a folder"):
        read_piece(tmp_path)
    (tmp_path / "file").touch()
    with pytest.raises(PieceError, match="file: cannot be read: a part of the path is not a folder"):
        read_piece(tmp_path / "file" / "none")
    with pytest.raises(PieceError, match="its name is too long"):
        read_piece(tmp_path / ("x" * 300))
    with pytest.raises(PieceError, match="its path cannot be used"):
        read_piece(tmp_path / "\0")


def test_a_file_beyond_32_mib_is_not_read(tmp_path: Path) -> None:
    large = tmp_path / "large.piece.json"
    with large.open("wb") as file:
        file.truncate(32 * 2**20 + 1)

    with pytest.raises(PieceError, match="file: is larger than 32 MiB"):
        read_piece(large)
    with pytest.raises(PieceError, match="file: is larger than 32 MiB"):
        read_piece(Path("/dev/zero"))


def test_write_and_read_again(tmp_path: Path) -> None:
    piece, path = parse_piece(JETTY.encode()), tmp_path / "jetty.piece.json"

    write_piece(path, piece)

    assert path.read_text() == JETTY
    assert read_piece(path) == piece


def test_a_piece_that_could_not_be_read_again_is_not_written(tmp_path: Path) -> None:
    piece, path = parse_piece(JETTY.encode()), tmp_path / "jetty.piece.json"
    write_piece(path, piece)

    with pytest.raises(OutputError, match="title: must be at most 2000 characters"):
        write_piece(path, piece.model_copy(update={"title": "x" * 2001}))

    assert path.read_text() == JETTY
    assert [file.name for file in tmp_path.iterdir()] == [path.name]
