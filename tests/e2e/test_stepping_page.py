"""The stepping page in a real browser: what it shows, what it remembers, and how one goes on."""

from __future__ import annotations

import base64
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtPdf import QPdfDocument
from selenium.webdriver import Chrome
from selenium.webdriver.support.ui import WebDriverWait

from bedview.bed.needles import needle_name
from bedview.export.sheet import write_sheet
from bedview.export.trace import trace_lines
from tests.e2e.browser import DESKTOP, PHONE, TABLET, Page, browser, open_page, undisturbed
from tests.export.pieces import Compiled, demo, little_heel, random_one, small

Written = Callable[[Compiled], Path]


@pytest.fixture(scope="module")
def driver(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture
def written(tmp_path: Path) -> Written:
    def write(compiled: Compiled) -> Path:
        path = tmp_path / "page.html"
        write_sheet(*compiled, path)
        return path

    return write


@pytest.fixture(autouse=True)
def nothing_goes_wrong(driver: Chrome) -> Iterator[None]:
    with undisturbed(driver):
        yield


def fresh(driver: Chrome, path: Path, size: tuple[int, int] = TABLET, *, clock: bool = True) -> Page:
    """The page as one who never saw it opens it."""
    open_page(driver, path, size, clock=False)
    driver.execute_script("localStorage.clear()")
    return open_page(driver, path, size, clock=clock)


def expected_acts(compiled: Compiled, number: int) -> list[str]:
    step = compiled[1].steps[number]
    said = [*step.hands, *([step.carriage] if step.carriage else [])]
    return [text if text.endswith((".", "!", "?", "…")) else f"{text}." for text in said]


# -- what it shows ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("piece", ["harbour-bootee", "mountain-hut-hat", 3, 8])
def test_each_step_shows_the_bed_of_the_trace(piece: str | int, driver: Chrome, written: Written) -> None:
    compiled = demo(piece) if isinstance(piece, str) else random_one(piece)
    bed, procedure = compiled[0].bed.needles, compiled[1]
    trace = list(trace_lines(procedure.timeline))
    page = fresh(driver, written(compiled))
    lines = [step.first_line - 1 for step in procedure.steps] + [len(trace) - 1]
    for number, line in enumerate(lines):
        seen = page.read()
        shown = {name: (position, loops) for name, position, loops in seen["needles"]}
        positions = trace[line]["positions"] if line >= 0 else "o" * bed
        loops = trace[line]["loops"] if line >= 0 else [0] * bed
        for needle in range(bed):
            found = shown.get(needle_name(needle, bed), ("o", 0))
            assert found == (positions[needle], loops[needle])
        assert seen["step"] == number
        if number < len(procedure.steps):
            assert seen["acts"] == expected_acts(compiled, number)
            assert seen["why"] == procedure.steps[number].why
            page.forward()
    assert page.read()["row"].startswith("Finished")
    page.forward()
    assert page.read()["step"] == len(procedure.steps)


@pytest.mark.parametrize("piece", ["harbour-bootee", 5])
def test_a_step_is_drawn_alike_wherever_one_comes_from(
    piece: str | int, driver: Chrome, written: Written
) -> None:
    compiled = demo(piece) if isinstance(piece, str) else random_one(piece)
    path = written(compiled)
    page = fresh(driver, path)
    step = min(46, len(compiled[1].steps) - 2)
    for _ in range(step):
        page.forward()
    from_before = page.drawn()
    page.forward()
    assert page.drawn() != from_before
    page.back()
    from_behind = page.drawn()
    page = open_page(driver, path)
    assert page.read()["step"] == step
    assert from_before == from_behind == page.drawn()


def test_a_plain_row_moves_no_needle(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()))
    page.forward()
    page.driver.execute_script("""
      window.changed = 0;
      new MutationObserver((found) => { window.changed += found.length; })
        .observe(document.getElementById("cells"), { subtree: true, attributes: true, childList: true });
    """)
    page.forward()
    assert page.read()["step"] == 2
    assert page.ask("window.changed") == 0
    # L5 goes to hold before row 4 and is wrapped in it: one change, seen where row 5 is due.
    for _ in range(3):
        page.forward()
    assert page.ask("window.changed") == 1


def test_cautions_stand_at_their_row(driver: Chrome, written: Written) -> None:
    cast_on = {"kind": "cast_on", "needles": "L3-R3", "yarn": "main"}
    lost = {"kind": "actions", "actions": [{"do": "cut"}, {"do": "knit", "rows": 1}]}
    page = fresh(driver, written(small(cast_on, {"kind": "plain", "rows": 2}, lost)))
    minds = []
    for _ in range(4):
        minds.append(page.read()["mind"])
        page.forward()
    assert "hooks are sharp" in minds[0]
    assert minds[1:3] == ["", ""]
    assert "L3 to R3" in minds[3]
    assert "keep your feet" in minds[3]


# -- what it remembers ------------------------------------------------------------------------------------


def test_the_row_survives_a_reload_and_belongs_to_its_piece(
    driver: Chrome, written: Written, tmp_path: Path
) -> None:
    path = written(little_heel())
    page = fresh(driver, path)
    for _ in range(7):
        page.forward()
    row = page.read()["row"]
    page = open_page(driver, path)
    assert (page.read()["step"], page.read()["row"]) == (7, row)
    other = tmp_path / "other.html"
    write_sheet(*demo("harbour-heel"), other)
    assert open_page(driver, other).read()["step"] == 0
    assert open_page(driver, path).read()["step"] == 7


def test_starting_again_can_be_undone(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()))
    for _ in range(5):
        page.forward()
    page.button("again").click()
    assert page.read()["step"] == 0
    page.button("undo").click()
    assert page.read()["step"] == 5
    assert not page.button("undo").is_displayed()


def test_a_kept_row_that_makes_no_sense_is_left_aside(driver: Chrome, written: Written) -> None:
    path = written(little_heel())
    page = fresh(driver, path)
    digest = page.ask("JSON.parse(document.getElementById('told').textContent).digest")
    for kept in ("", "{", "null", '{"step":-1}', '{"step":1e9}', '{"step":"2"}', "[]"):
        page.driver.execute_script(f"localStorage.setItem('bedview {digest}', arguments[0])", kept)
        page = open_page(driver, path)
        assert page.read()["step"] == 0


# -- how one goes on --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("forward", "back"), [((" ", 32), ("PageUp", 33)), (("ArrowRight", 39), ("ArrowLeft", 37))]
)
def test_keys_go_forward_and_back(
    forward: tuple[str, int], back: tuple[str, int], driver: Chrome, written: Written
) -> None:
    page = fresh(driver, written(little_heel()))
    page.key(*forward)
    page.key(*forward)
    assert page.read()["step"] == 2
    page.key(*back)
    assert page.read()["step"] == 1
    page.key(*forward, held=True)
    page.key(*forward, held=True)
    assert page.read()["step"] == 1


def test_taps_and_swipes_go_forward_and_back(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()), PHONE)
    page.button("next").click()
    page.button("next").click()
    page.button("back").click()
    assert page.read()["step"] == 1
    swipe = [(300.0, 300.0), (200.0, 302.0), (90.0, 305.0)]
    page.driver.execute_script("window.dispatchEvent(new Event('click'))")
    page.touch(swipe)
    assert page.read()["step"] == 2
    page.driver.execute_script("window.dispatchEvent(new Event('click'))")
    page.touch(swipe[::-1])
    assert page.read()["step"] == 1
    page.driver.execute_script("window.dispatchEvent(new Event('click'))")
    page.touch([(200.0, 300.0), (204.0, 360.0), (208.0, 420.0)])
    assert page.read()["step"] == 1


def test_a_press_that_bounces_counts_once(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()), clock=False)
    page.driver.execute_script("""
      const next = document.getElementById("next");
      next.click();
      next.click();
    """)
    assert page.read()["step"] == 1


def test_after_a_tap_space_goes_on_once(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()))
    page.button("next").click()
    page.button("back").click()
    page.key(" ", 32)
    assert page.read()["step"] == 1


def test_the_list_leads_to_a_row_and_back(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()))
    for _ in range(4):
        page.forward()
    page.button("list-button").click()
    assert page.ask("document.activeElement.textContent") == "4"
    page.key("ArrowRight", 39)
    page.driver.find_element("id", "row-9").click()
    assert (page.read()["step"], page.read()["row"]) == (9, "row 9 of 40")
    page.button("undo").click()
    assert page.read()["step"] == 4
    page.button("list-button").click()
    page.key("Escape", 27)
    assert page.button("next").is_displayed()


# -- readers and sizes ------------------------------------------------------------------------------------


def test_a_screen_reader_hears_the_step_and_the_bed(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()))
    for _ in range(5):
        page.forward()
    tree = page.driver.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]

    def named(role: str) -> list[str]:
        return [node.get("name", {}).get("value", "") for node in tree if node["role"]["value"] == role]

    # L5 was held for row 4, whose pass laid a wrap there.
    assert any(
        name.startswith(
            "L5 hold, L4 to R5 working, wraps on L5, carriage on the right, hold cams on, blue wool"
        )
        for name in named("image")
    )
    assert {"Back", "Done", "Start again", "All rows"} <= {name.strip("\u2039 ") for name in named("button")}
    live = page.ask("document.querySelector('[aria-live]').textContent")
    assert " ".join(live.split()).startswith("row 5 of 40 Bring R5 to hold.Knit")
    bar = page.driver.find_element("id", "bar")
    assert (bar.get_attribute("aria-valuenow"), bar.get_attribute("aria-valuemax")) == ("4", "40")


_FITS = """() => {
  const root = document.documentElement;
  const inside = [...document.querySelectorAll(".work button:not([hidden]), #bed, h1")].every((one) => {
    const box = one.getBoundingClientRect();
    return box.left >= 0 && box.top >= 0 && box.right <= innerWidth && box.bottom <= innerHeight;
  });
  const now = document.querySelector(".now");
  return [
    root.scrollWidth <= innerWidth && root.scrollHeight <= innerHeight && inside,
    now.scrollHeight <= now.clientHeight + 1 && now.scrollWidth <= now.clientWidth,
  ];
}"""


@pytest.mark.parametrize("size", [PHONE, TABLET, DESKTOP, (844, 390), (320, 568)])
def test_all_steps_fit_on_the_screen(size: tuple[int, int], driver: Chrome, written: Written) -> None:
    compiled = demo("harbour-bootee")
    page = fresh(driver, written(compiled), size)
    crowded = []
    for number in range(len(compiled[1].steps) + 1):
        fits = page.ask(f"({_FITS})()")
        assert fits[0], f"step {number}"
        if not fits[1]:
            crowded.append(number)
        page.forward()
    # On the smallest screens a long sentence may be scrolled; everywhere else all is seen at once.
    assert not crowded or min(size) < 390 or size == (844, 390), crowded


def test_buttons_are_as_large_as_a_thumb(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()), PHONE)
    for name in ("next", "back", "again", "list-button"):
        box = page.button(name).rect
        assert box["height"] >= 48
        assert box["width"] >= 48


@pytest.mark.parametrize(
    ("features", "paper"),
    [
        ({"prefers-color-scheme": "light"}, "rgb(246, 244, 238)"),
        ({"prefers-color-scheme": "dark"}, "rgb(20, 23, 27)"),
        ({"prefers-contrast": "more"}, "rgb(0, 0, 0)"),
    ],
)
def test_it_wears_the_look_the_reader_prefers(
    features: dict[str, str], paper: str, driver: Chrome, written: Written
) -> None:
    page = open_page(driver, written(little_heel()), features=features)
    assert page.ask("getComputedStyle(document.documentElement).backgroundColor") == paper


def test_motion_is_left_out_where_it_is_not_wanted(driver: Chrome, written: Written) -> None:
    path = written(little_heel())
    moving = "getComputedStyle(document.getElementById('carriage')).transitionDuration"
    page = open_page(driver, path, features={"prefers-reduced-motion": "no-preference"})
    assert page.ask(moving) != "0s"
    page = open_page(driver, path, features={"prefers-reduced-motion": "reduce"})
    assert page.ask(moving) == "0s"


# -- text, not markup -------------------------------------------------------------------------------------

NASTY = '</script><img src=x onerror="document.title=1"><b>&amp;{{ 7*7 }}'


def test_titles_and_notes_are_text(driver: Chrome, written: Written) -> None:
    note = {"kind": "actions", "title": NASTY, "actions": [{"do": "note", "text": NASTY}]}
    page = fresh(driver, written(small(note, title=NASTY)))
    assert page.driver.title == NASTY
    assert page.read()["acts"] == [f"{NASTY}."]
    assert page.read()["part"] == NASTY
    assert page.ask("document.images.length") == 0
    page.button("list-button").click()
    assert NASTY in page.driver.find_element("id", "list").text


# -- paper, and no script ---------------------------------------------------------------------------------


def test_it_prints_as_the_list_of_rows(driver: Chrome, written: Written) -> None:
    page = fresh(driver, written(little_heel()))
    options = {"preferCSSPageSize": True, "paperWidth": 8.27, "paperHeight": 11.69}
    data = base64.b64decode(page.driver.execute_cdp_cmd("Page.printToPDF", options)["data"])
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    document = QPdfDocument()
    document.load(buffer)
    text = "\n".join(document.getAllText(number).text() for number in range(document.pageCount()))
    document.close()
    # Where letters stand apart the reader of the file puts spaces; they say nothing.
    squeezed = "".join(text.split())
    grid = "".join(str(row) for row in range(16, 41))
    for said in (
        "Netfloat",
        "Knit3rows.COL123Heel",
        "4Setthe",
        "5BringR5tohold.",
        "15PushL5",
        f"Knit25rows.COR{grid}",
    ):
        assert said in squeezed
    assert "Startagain" not in squeezed


def test_without_script_the_list_is_there(driver: Chrome, written: Written) -> None:
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        driver.get(written(little_heel()).as_uri())
        text = driver.find_element("id", "list").text
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    assert "Bring R5 to hold." in text
    assert not driver.find_element("id", "work").is_displayed()


def test_turning_the_screen_draws_the_bed_anew(driver: Chrome, written: Written) -> None:
    path = written(demo("allotment-vest-shoulders"))
    page = fresh(driver, path, PHONE)
    narrow = page.ask("document.getElementById('bed').getAttribute('viewBox')")
    metrics = {"width": 1440, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
    WebDriverWait(driver, 10).until(
        lambda _: page.ask("document.getElementById('bed').getAttribute('viewBox')") != narrow
    )
    width = float(page.ask("document.getElementById('bed').getAttribute('viewBox')").split()[2])
    assert width > float(narrow.split()[2])
