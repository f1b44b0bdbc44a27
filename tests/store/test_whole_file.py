import errno
import os
import stat
import threading
from pathlib import Path

import pytest

from bedview.store.whole_file import OutputError, write_whole

OLD, NEW = b"what stood there before", b"what is new"


@pytest.fixture
def target(tmp_path: Path) -> Path:
    path = tmp_path / "pier.piece.json"
    path.write_bytes(OLD)
    return path


def still_stands(path: Path) -> bool:
    """Whether the old file is there and nothing lies beside it."""
    return path.read_bytes() == OLD and [file.name for file in path.parent.iterdir()] == [path.name]


def test_new_and_again(tmp_path: Path) -> None:
    path = tmp_path / "pier.piece.json"

    write_whole(path, OLD)
    assert path.read_bytes() == OLD
    write_whole(path, NEW)
    assert path.read_bytes() == NEW
    assert [file.name for file in tmp_path.iterdir()] == [path.name]


def test_permissions_are_kept_and_new_files_follow_the_umask(target: Path) -> None:
    target.chmod(0o640)
    write_whole(target, NEW)
    assert stat.S_IMODE(target.stat().st_mode) == 0o640

    before = os.umask(0o027)
    try:
        write_whole(target.with_name("new"), NEW)
    finally:
        os.umask(before)
    assert stat.S_IMODE(target.with_name("new").stat().st_mode) == 0o640


def test_a_link_stays_a_link(target: Path) -> None:
    link = target.with_name("link")
    link.symlink_to(target.name)

    write_whole(link, NEW)

    assert link.is_symlink()
    assert target.read_bytes() == NEW


def test_a_link_to_nothing_makes_what_it_leads_to(target: Path) -> None:
    link = target.with_name("link")
    link.symlink_to("later")

    write_whole(link, NEW)

    assert link.is_symlink()
    assert target.with_name("later").read_bytes() == NEW


def test_links_in_a_circle(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to("b")
    (tmp_path / "b").symlink_to("a")

    with pytest.raises(OutputError, match="cannot be written"):
        write_whole(tmp_path / "a", NEW)


def test_a_folder_is_not_replaced(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="it is a folder"):
        write_whole(tmp_path, NEW)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="no such file or folder"):
        write_whole(tmp_path / "none" / "pier.piece.json", NEW)
    assert list(tmp_path.iterdir()) == []


def test_a_pipe_is_written_to_and_not_replaced(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    read: list[bytes] = []
    reader = threading.Thread(target=lambda: read.append(pipe.read_bytes()))
    reader.start()

    write_whole(pipe, NEW)

    reader.join()
    assert read == [NEW]
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_a_full_disk(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write

    def full_after_three(handle: int, data: memoryview) -> int:
        if os.lseek(handle, 0, os.SEEK_CUR) >= 3:
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(handle, data[:3])

    monkeypatch.setattr(os, "write", full_after_three)

    with pytest.raises(OutputError, match="cannot be written: there is no space left on the disk"):
        write_whole(target, NEW)
    assert still_stands(target)


def test_a_write_in_small_portions_is_completed(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, data[:2]))

    write_whole(target, NEW)

    assert target.read_bytes() == NEW


def test_a_disk_that_loses_bytes_without_a_word(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write

    def pretend(handle: int, data: memoryview) -> int:
        real(handle, data[:3])
        return len(data)

    monkeypatch.setattr(os, "write", pretend)

    with pytest.raises(OutputError, match="no space left"):
        write_whole(target, NEW)
    assert still_stands(target)


def test_a_disk_that_alters_bytes(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, bytes(len(data))))

    with pytest.raises(OutputError, match="reads back differently"):
        write_whole(target, NEW)
    assert still_stands(target)


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_step_that_fails(target: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    def fail(*_: object) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, step, fail)

    with pytest.raises(OutputError, match="input/output error"):
        write_whole(target, NEW)
    assert still_stands(target)


def test_a_folder_one_may_not_write_in(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Whoever runs this may be allowed everything, so the system's refusal is played.
    real = os.open

    def refuse_new(path: Path, flags: int, mode: int = 0o777) -> int:
        if flags & os.O_CREAT:
            raise PermissionError(errno.EACCES, "Permission denied")
        return real(path, flags, mode)

    monkeypatch.setattr(os, "open", refuse_new)

    with pytest.raises(OutputError, match="you are not allowed to"):
        write_whole(target, NEW)
    assert still_stands(target)


def test_a_write_protected_file(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda _path, _mode: False)

    with pytest.raises(OutputError, match="write-protected"):
        write_whole(target, NEW)
    assert still_stands(target)


def test_what_does_not_pass_its_check_is_not_put_in_place(target: Path) -> None:
    def check(data: bytes) -> None:
        assert data == NEW
        raise ValueError

    with pytest.raises(OutputError):
        write_whole(target, NEW, check)
    assert still_stands(target)
