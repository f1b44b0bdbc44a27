"""Set up, then open the desktop app on a demo; without a display, write the same as a page and pictures."""

import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import environment

_WRITTEN = environment.ROOT / ".demo"
_UNSEEN_PLATFORMS = ("offscreen", "minimal")


def main(arguments: list[str]) -> int:
    """Open the piece or demo named first in ``arguments``, or the first demo.

    Returns:
        The exit code: of the app, or 1 where it could not be set up or written.
    """
    try:
        python = environment.prepare("run")
        piece = arguments[0] if arguments else _first_demo(python)
        if _has_display():
            print(f"Opening {piece} ...", flush=True)
            return _bedview(python, "open", piece, variables={})
        _write(python, piece)
    except environment.SetupError as error:
        print(f"bedview: {error}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nbedview: stopped; start again at any time", file=sys.stderr)
        return 130
    return 0


def _has_display() -> bool:
    if os.environ.get("QT_QPA_PLATFORM", "").partition(":")[0] in _UNSEEN_PLATFORMS:
        return False
    if sys.platform != "linux":
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def _first_demo(python: Path) -> str:
    """The name that the first line of ``bedview demos`` begins with."""
    said = subprocess.run([python, "-m", "bedview", "demos"], capture_output=True, text=True, check=False)
    if said.returncode or not said.stdout.strip():
        why = said.stderr.strip().splitlines()[-1:] or ["there are none"]
        raise environment.SetupError(f"the demos can't be listed: {why[0]}")
    return said.stdout.split(maxsplit=1)[0].rstrip(",:")


def _write(python: Path, piece: str) -> None:
    """Write the stepping page of a piece and pictures of every page of the app, and say where."""
    print("There is no display here, so no window can open.", flush=True)
    print("Writing the same rehearsal as a page, and every page of the app as a picture ...", flush=True)
    _WRITTEN.mkdir(exist_ok=True)
    page = _WRITTEN / f"{Path(piece).name.removesuffix('.piece.json')}.html"
    pictures = _WRITTEN / "pictures"
    for command in (("sheet", piece, "-o", str(page)), ("shots", str(pictures))):
        if _bedview(python, *command, variables={"QT_QPA_PLATFORM": "offscreen"}):
            raise environment.SetupError(f"`bedview {' '.join(command)}` failed")
    print(f"Page to step through:  {page}\nPictures of the app:   {pictures}")


def _bedview(python: Path, *arguments: str, variables: Mapping[str, str]) -> int:
    command = [str(python), "-m", "bedview", *arguments]
    return subprocess.run(command, env={**os.environ, **variables}, check=False).returncode
