"""Files read and written whole: never a file half written, never a file larger than it may be.

A file is written beside the one it replaces, its length checked, synced to the disk, read back, and only then
put in its place. Whatever fails before that, what stood there still stands.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Final

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.problems import PieceError

_PLAIN: Final = {
    errno.ENOSPC: marked("there is no space left on the disk"),
    errno.EDQUOT: marked("there is no space left for you on the disk"),
    errno.EACCES: marked("you are not allowed to"),
    errno.EPERM: marked("you are not allowed to"),
    errno.EROFS: marked("the disk is read-only"),
    errno.ENOENT: marked("there is no such file or folder"),
    errno.ENOTDIR: marked("a part of the path is not a folder"),
    errno.EISDIR: marked("it is a folder, not a file"),
    errno.ENAMETOOLONG: marked("its name is too long"),
    errno.ELOOP: marked("its links lead round in a circle"),
}


class OutputError(Exception):
    """A file that could not be written. What stood there before still stands.

    Attributes:
        path: the file.
        what: why, one sentence without a full stop.
    """

    def __init__(self, path: Path, what: str) -> None:
        super().__init__(f"{path}: {what}")
        self.path = path
        self.what = what


def reason(error: OSError | ValueError | RuntimeError) -> str:
    """Why the system refused, in plain words."""
    if isinstance(error, OSError):
        plain = _PLAIN.get(error.errno or 0)
        return _(plain) if plain else (error.strerror or str(error)).lower()
    return _("its path cannot be used")


def read_whole(path: Path, most_bytes: int) -> bytes:
    """The bytes of a file, or of a pipe.

    Args:
        path: where it lies.
        most_bytes: how large it may be; a larger one is not read.

    Raises:
        PieceError: if it is not there, cannot be read, is a folder, or is larger.
    """
    try:
        with path.open("rb") as file:
            size = os.fstat(file.fileno()).st_size
            data = b"" if size > most_bytes else file.read(most_bytes + 1)
    except (OSError, ValueError) as error:
        raise PieceError("file", _("cannot be read: {reason}").format(reason=reason(error))) from None
    if max(size, len(data)) > most_bytes:
        raise PieceError("file", _("is larger than {most_bytes} MiB").format(most_bytes=most_bytes // 2**20))
    return data


def write_whole(path: Path, data: bytes, check: Callable[[bytes], object] | None = None) -> None:
    """Write a file so that either all of it stands there or what stood there before.

    A link stays a link, and what it leads to is replaced. The permissions of an existing file are kept.

    Args:
        path: where it shall lie; the folder must be there.
        data: all of it.
        check: is given what was read back, before the file is put in place; it may raise :class:`PieceError`.

    Raises:
        OutputError: if it could not be written whole.
    """
    try:
        target = path.resolve()
        before = target.stat() if target.exists() else None
        if before is not None and stat.S_ISDIR(before.st_mode):
            raise OutputError(path, reason(IsADirectoryError(errno.EISDIR, "")))
        if before is not None and not stat.S_ISREG(before.st_mode):
            # A pipe or a device is written to; it must not be replaced by a file.
            _write_all(os.open(target, os.O_WRONLY), data)
            return
        if before is not None and not os.access(target, os.W_OK):
            raise OutputError(path, _("it is write-protected"))
        _replace(target, data, before, check)
    except (OSError, ValueError, RuntimeError) as error:
        what = str(error) if isinstance(error, PieceError) else reason(error)
        raise OutputError(path, _("cannot be written: {what}").format(what=what)) from None


def _replace(
    target: Path, data: bytes, before: os.stat_result | None, check: Callable[[bytes], object] | None
) -> None:
    beside = target.with_name(f".bedview-{secrets.token_hex(8)}.part")
    try:
        _write_beside(beside, data, before)
        _read_back(beside, data, check)
        beside.replace(target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    sync_folder(target.parent)


def _read_back(beside: Path, data: bytes, check: Callable[[bytes], object] | None) -> None:
    written = beside.read_bytes()
    if written != data:
        raise OSError(errno.EIO, _("what was written reads back differently"))
    if check is not None:
        check(written)


def _write_beside(beside: Path, data: bytes, before: os.stat_result | None) -> None:
    binary = getattr(os, "O_BINARY", 0)
    # The system takes the umask off these permissions, as for any new file.
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | binary, 0o666)
    if before is not None and hasattr(os, "fchmod"):
        with contextlib.suppress(PermissionError):
            os.fchown(handle, before.st_uid, before.st_gid)
        os.fchmod(handle, stat.S_IMODE(before.st_mode))
    _write_all(handle, data)


def _write_all(handle: int, data: bytes) -> None:
    """Write and close; for a file, make sure of its length and that it is on the disk."""
    try:
        left = memoryview(data)
        while left:
            left = left[os.write(handle, left) :]
        found = os.fstat(handle)
        if stat.S_ISREG(found.st_mode):
            if found.st_size != len(data):
                raise OSError(errno.ENOSPC, _("cut short"))
            os.fsync(handle)
    finally:
        os.close(handle)


def sync_folder(folder: Path) -> None:
    """Make a change of names in a folder last, where the system lets one: the files are safe without."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
