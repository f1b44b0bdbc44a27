"""The commands other programs rely on: what they print, and their exit codes."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from bedview.cli.running import run
from tests.reference.by_hand import heel
from tests.reference.procedures import random_piece
from tests.reference.simulator import run as reference_run

BARE: dict[str, Any] = {
    "format": 1,
    "bed": {"needles": 8, "pitch_mm": 9.0},
    "yarns": [{"id": "main", "role": "fabric"}],
}


def written(folder: Path, name: str, actions: list[dict[str, Any]], **more: object) -> str:
    """Write a piece of plain actions and give its path."""
    piece = {**BARE, "segments": [{"kind": "actions", "actions": actions}], **more}
    path = folder / name
    path.write_text(json.dumps(piece), encoding="utf-8")
    return str(path)


@pytest.fixture
def sound(tmp_path: Path) -> str:
    """Four stitches, two rows, bound off."""
    return written(
        tmp_path,
        "sound.piece.json",
        [
            {"do": "thread", "yarn": "main"},
            {"do": "cast_on", "needles": "L2-R2"},
            {"do": "knit", "rows": 2, "from": "right"},
            {"do": "bind_off", "needles": "L2-R2"},
            {"do": "cut", "tail_cm": 20},
        ],
    )


@pytest.fixture
def dropping(tmp_path: Path) -> str:
    """Four stitches that fall off."""
    return written(
        tmp_path,
        "dropping.piece.json",
        [
            {"do": "thread", "yarn": "main"},
            {"do": "cast_on", "needles": "L2-R2"},
            {"do": "cut"},
            {"do": "knit", "rows": 1},
        ],
    )


@pytest.fixture
def refused(tmp_path: Path) -> str:
    """A wrap of a needle that is not in hold, as the third action."""
    actions = [
        {"do": "thread", "yarn": "main"},
        {"do": "cast_on", "needles": "L2-R2"},
        {"do": "wrap", "needle": "R2"},
    ]
    return written(tmp_path, "refused.piece.json", actions)


def test_trace_gives_a_line_an_action_and_a_line_a_row(
    sound: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["trace", sound]) == 0
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [line["do"] for line in lines] == ["thread", "cast_on", "knit", "knit", "bind_off", "cut"]
    assert [line["n"] for line in lines] == list(range(6))
    assert [line["action"] for line in lines] == [0, 1, 2, 2, 3, 4]
    assert {line["file"] for line in lines} == {sound}
    assert lines[1]["positions"] == "oowwwwoo"
    assert lines[2]["knit"] == ["L2", "L1", "R1", "R2"]
    assert lines[3]["carriage"] == "right"
    assert lines[5]["yarn"] is None
    assert lines[0]["tension"] is None


def test_trace_prints_what_was_done_before_a_refusal(
    refused: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["trace", refused]) == 2
    out, err = capsys.readouterr()
    assert [json.loads(line)["do"] for line in out.splitlines()] == ["thread", "cast_on"]
    assert err == f"bedview: {refused}: action 2: R2 is not in hold, so it cannot be wrapped\n"


def test_other_commands_print_nothing_for_a_refused_piece(
    refused: str, capsys: pytest.CaptureFixture[str]
) -> None:
    for command in (["check", refused], ["fabric", refused, "--json"], ["plan", refused]):
        assert run(command) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert err.startswith(f"bedview: {refused}: action 2: R2")
        assert err.count("\n") == 1


def test_trace_of_a_random_piece_is_the_reference_s(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    piece = random_piece(7)
    path = tmp_path / "random.piece.json"
    path.write_text(json.dumps(piece), encoding="utf-8")
    assert run(["trace", str(path)]) == 0
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for line in lines:
        del line["file"]
    assert lines == reference_run(piece).trace


def test_check_says_by_its_exit_code_whether_an_error_stands(
    sound: str, dropping: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["check", sound]) == 0
    assert run(["check", dropping, "--json"]) == 1
    out = capsys.readouterr().out.splitlines()
    finding = json.loads(out[-1])
    assert finding["rule"] == "unsecured-stitches"
    assert finding["severity"] == "error"
    assert (finding["action"], finding["pass"]) == (3, 1)
    assert finding["needles"] == ["L2", "L1", "R1", "R2"]
    assert "waste yarn" in finding["message"]


def test_an_unusable_file_among_others(sound: str, dropping: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", sound, "nowhere.piece.json", dropping, "--json"]) == 2
    out, err = capsys.readouterr()
    assert json.loads(out.splitlines()[-1])["file"] == dropping
    assert err.startswith("bedview: nowhere.piece.json: file: ")
    assert err.count("\n") == 1


def test_a_seam_with_an_edge_that_is_not_there_is_unusable(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seam = {"kind": "graft", "a": {"open": "L4"}, "b": {"open": "L1"}}
    path = written(
        tmp_path,
        "seam.piece.json",
        [{"do": "thread", "yarn": "main"}, {"do": "cast_on", "needles": "L2-R2"}],
        seams=[seam],
    )
    assert run(["check", path]) == 2
    assert capsys.readouterr().err.startswith(f"bedview: {path}: seams[0].a: no open loop stands on L4")


def test_fabric_counts_of_a_heel_counted_by_hand(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "heel.piece.json"
    path.write_text(json.dumps(heel(30, 8, "carriage", hand_wraps=False)), encoding="utf-8")
    assert run(["fabric", str(path), "--json"]) == 0
    counts = json.loads(capsys.readouterr().out)
    # Common practice: 30 needles down to 8 and back, one a row.
    assert counts["openings"] == {"1": 22, "2": 1003, "4": 1, "5": 20}
    assert counts["loops"]["cast_on"] == 30
    assert counts["unsecured"] == 0


def test_mirror_twice_gives_the_same_bytes(sound: str, tmp_path: Path) -> None:
    once, twice, thrice = (str(tmp_path / f"{name}.piece.json") for name in ("once", "twice", "thrice"))
    assert run(["mirror", sound, "-o", once]) == 0
    assert run(["mirror", once, "-o", twice]) == 0
    assert run(["mirror", twice, "-o", thrice]) == 0
    assert Path(thrice).read_bytes() == Path(once).read_bytes()
    assert json.loads(Path(once).read_text(encoding="utf-8"))["bed"]["carriage"] == "left"


def test_what_cannot_be_written_is_said_in_one_line(sound: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["mirror", sound, "-o", "/nowhere/at/all.piece.json"]) == 3
    assert capsys.readouterr().err.count("\n") == 1


def test_schema_is_a_schema_and_takes_the_demos(sound: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)
    piece = json.loads(Path(sound).read_text(encoding="utf-8"))
    jsonschema.validate(piece, schema, cls=jsonschema.Draft202012Validator)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**piece, "extra": 1}, schema, cls=jsonschema.Draft202012Validator)


@pytest.mark.parametrize("words", [["nonsense"], ["trace"], ["fabric", "--loud"], ["schema", "sonnet"]])
def test_a_command_line_that_cannot_be_used(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(words) == 2
    err = capsys.readouterr().err
    assert err.startswith("bedview: ")
    assert err.count("\n") == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a disk that is always full")
def test_a_full_disk_behind_the_output(sound: str) -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            [sys.executable, "-m", "bedview", "trace", sound],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
            text=True,
        )
    assert done.returncode == 3
    assert done.stderr.startswith("bedview: the output could not be written")
    assert done.stderr.count("\n") == 1


def test_a_reader_that_has_seen_enough(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        "long.piece.json",
        [
            {"do": "thread", "yarn": "main"},
            {"do": "cast_on", "needles": "L2-R2"},
            {"do": "knit", "rows": 9999},
        ],
    )
    with subprocess.Popen(
        [sys.executable, "-m", "bedview", "trace", path], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as going:
        assert going.stdout is not None
        assert going.stderr is not None
        first = going.stdout.readline()
        going.stdout.close()
        said = going.stderr.read()
    assert json.loads(first)["do"] == "thread"
    assert said == b""
    # 1 would mean that an error stands.
    assert going.returncode == 0


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere there is always a screen")
def test_no_display_is_told_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    command = [sys.executable, "-m", "bedview", "open", "harbour-heel"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 3
    assert done.stderr.startswith("bedview: there is no display")
    assert done.stderr.count("\n") == 1


def test_locate_gives_the_places_or_the_nearest(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "heel.piece.json"
    path.write_text(json.dumps(heel(30, 8, "carriage", hand_wraps=False)), encoding="utf-8")
    # After four plain rows R15 is held in row 5 and L15 in row 6; both come back in the last two of 44 rows.
    assert run(["locate", str(path), "--held", "L15,R15", "--carriage", "right", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert {match["pass"] for match in told["matches"]} >= {6}
    assert "nearest" not in told
    assert run(["locate", str(path), "--held", "L2,R2", "--carriage", "right", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["matches"] == []
    assert 1 <= len(told["nearest"]) <= 5
    assert run(["locate", str(path), "--held", "Q1", "--carriage", "right"]) == 2


def test_unpick_gives_the_way_back_and_the_bed_then(sound: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["unpick", sound, "--from", "2", "--to", "1", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    # The second pass went to the right, so the yarn comes out towards the left.
    assert told["passes"] == [{"pass": 2, "needles": ["L2", "L1", "R1", "R2"], "towards": "left"}]
    assert told["positions"] == "oowwwwoo"
    assert told["loops"] == [0, 0, 1, 1, 1, 1, 0, 0]
    assert (told["carriage"], told["row"], told["yarn"], told["hold_cams"]) == ("left", 1, "main", False)


def test_what_dropped_cannot_be_unpicked(dropping: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["unpick", dropping, "--from", "1", "--to", "0", "--json"]) == 2
    assert "dropped" in capsys.readouterr().err


def test_progress_of_a_piece_never_knitted(sound: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["progress", sound, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {}


def test_starters_and_a_piece_of_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["starters", "--json"]) == 0
    told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert {"key", "unit", "default", "min", "max", "says"} <= set(told[0]["parameters"][0])
    name = told[0]["name"]
    path = str(tmp_path / "begun.piece.json")
    assert run(["start", name, "-o", path]) == 0
    assert run(["check", path]) == 0
    assert run(["start", name]) == 0
    assert capsys.readouterr().out.endswith(Path(path).read_text(encoding="utf-8"))


def test_a_starter_s_mistakes_name_what_is_allowed(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (
        ["start", "no-such"],
        ["start", "sock", "--set", "colour=red"],
        ["start", "sock", "--set", "room"],
    ):
        assert run(words) == 2
        err = capsys.readouterr().err
        assert err.startswith("bedview: start: ")
        assert err.count("\n") == 1


def test_lessons_are_listed_checked_and_tried(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["lessons"]) == 0
    names = [line.split("\t")[0] for line in capsys.readouterr().out.splitlines()]
    assert "four-positions" in names
    for name in names:
        assert run(["lesson", name]) == 0
    capsys.readouterr()
    assert run(["lesson", "four-positions", "--try", "[]", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["reached"] is False
    assert set(told) == {"reached", "says", "needles"}
    assert run(["lesson", "four-positions", "--try", "[7]"]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_finish_names_the_open_groups(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["finish", "harbour-bootee", "--json"]) == 0
    told = json.dumps(json.loads(capsys.readouterr().out))
    for group in ("toe", "one flap", "other flap"):
        assert group in told


def test_schema_of_a_lesson(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema", "lesson"]) == 0
    jsonschema.Draft202012Validator.check_schema(json.loads(capsys.readouterr().out))


def test_sheets_and_shapes_are_written_by_their_ending(sound: str, tmp_path: Path) -> None:
    for ending in ("html", "csv", "svg", "txt"):
        assert run(["sheet", sound, "-o", str(tmp_path / f"sheet.{ending}")]) == 0
    for ending in ("obj", "ply"):
        assert run(["form", sound, "-o", str(tmp_path / f"shape.{ending}")]) == 0
    assert run(["sheet", sound, "-o", str(tmp_path / "sheet.doc")]) == 2
    assert run(["form", sound, "-o", str(tmp_path / "shape.doc")]) == 2
    assert run(["sheet", sound, "-o", "/nowhere/at/all.csv"]) == 3
