"""What is installed elsewhere is whole: a wheel carries the resources and finds them."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "unpacked")
    return folder / "unpacked"


def files_below(folder: Path) -> set[Path]:
    return {path.relative_to(folder) for path in folder.rglob("*") if path.is_file()}


def test_wheel_carries_the_resources(unpacked: Path) -> None:
    assert files_below(unpacked / "bedview" / "_resources") == files_below(ROOT / "resources")


def test_wheel_finds_its_resources(unpacked: Path) -> None:
    ask = "from bedview.resources import resource_path; print(resource_path('demos'))"
    said = subprocess.run(
        [sys.executable, "-c", ask], cwd=unpacked, check=True, capture_output=True, text=True
    )
    assert Path(said.stdout.strip()) == (unpacked / "bedview" / "_resources" / "demos").resolve()


def test_wheel_brings_the_command(unpacked: Path) -> None:
    (entry_points,) = unpacked.glob("*.dist-info/entry_points.txt")
    assert "bedview = bedview.cli:main" in entry_points.read_text(encoding="utf-8").splitlines()
