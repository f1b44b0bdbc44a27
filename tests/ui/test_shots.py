import os
from pathlib import Path

import pytest
from PySide6.QtGui import QImage

from bedview.picture.look import DARK, LIGHT
from bedview.store.demos import demo_paths
from bedview.store.whole_file import OutputError
from bedview.ui import shots
from bedview.ui.pages.names import LEARN, PAGES, PLAN, REHEARSE
from bedview.ui.shots import PRINTED, SIZES, Shot, all_shots, paint_shots


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> list[Shot]:
    wanted = [
        Shot("", ""),
        Shot("", LEARN, view="missed"),
        Shot("harbour-heel", REHEARSE, what_if=True),
        Shot("harbour-heel", PLAN, view=PRINTED),
    ]
    monkeypatch.setattr(shots, "all_shots", lambda: wanted)
    return wanted


def test_every_page_of_every_demo_is_painted() -> None:
    wanted = {(shot.demo, shot.page) for shot in all_shots()}
    assert wanted == {("", ""), ("", LEARN)} | {(demo, page) for demo in demo_paths() for page in PAGES}
    names = [shot.name for shot in all_shots()]
    assert len(names) == len(set(names))


@pytest.mark.usefixtures("qapp")
def test_pictures_have_their_size_and_the_colours_of_their_look(few: list[Shot], tmp_path: Path) -> None:
    paths = list(paint_shots(tmp_path / "new"))
    assert sorted(paths) == sorted((tmp_path / "new").iterdir())
    assert len(paths) == len(few) * 2 * len(SIZES)
    for path in paths:
        image = QImage(str(path))
        *_, look, size = path.stem.split("-")
        assert f"{image.width()}x{image.height()}" == size
        paper = {"light": LIGHT, "dark": DARK}[look].paper
        assert image.pixelColor(2, image.height() - 2).name() == paper
        colours = {image.pixel(x, y) for x in range(0, image.width(), 7) for y in range(0, image.height(), 7)}
        assert len(colours) > 20, f"{path.name} shows next to nothing"


@pytest.mark.usefixtures("qapp", "few")
def test_the_users_settings_stay_as_they_are(tmp_path: Path, own_home: Path) -> None:
    list(paint_shots(tmp_path / "new"))
    assert [path for path in own_home.rglob("*") if path.suffix in (".conf", ".ini")] == []


@pytest.mark.skipif(os.name == "nt", reason="a file of that name is refused otherwise there")
@pytest.mark.usefixtures("qapp")
def test_a_folder_that_cannot_be_made_is_an_output_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(OutputError):
        next(paint_shots(tmp_path / "file" / "folder"))
