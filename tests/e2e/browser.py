"""A real browser without a window, and the stepping page opened in it from a file."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from selenium.webdriver import Chrome, ChromeOptions
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement

PHONE, TABLET, DESKTOP = (390, 844), (1024, 768), (1440, 900)

_CLOCK = """
let now = 1e6;
Object.defineProperty(Event.prototype, "timeStamp", { get() { return now; } });
window.addEventListener("keydown", () => { now += 1000; }, true);
window.addEventListener("click", () => { now += 1000; }, true);
"""
"""A clock by which a second passes between any two presses, so that tests need not wait."""

_READ = """
const needles = [...document.querySelectorAll("#cells use")].map((needle) => {
  const cell = document.querySelector(needle.getAttribute("href")).dataset;
  return [needle.dataset.needle, cell.position, Number(cell.loops) + Number(cell.wraps)];
});
const words = (id) => document.getElementById(id).textContent;
return {
  step: Number(document.documentElement.dataset.step),
  needles,
  acts: [...document.querySelectorAll("#acts li")].map((item) => item.textContent),
  row: words("row"), why: words("why"), mind: words("mind"), kept: words("kept"), part: words("part"),
  bed: words("bed-words"),
};
"""

_DRAWN = """
const round = (box) => [box.left, box.top, box.width, box.height].map((value) => Math.round(value * 2));
return ["cells", "fabric", "yarn", "rings", "touches", "arrow", "names"].map((id) =>
  [...document.getElementById(id).querySelectorAll("use, path, rect, text")].map((mark) => [
    mark.tagName, mark.getAttribute("class"), mark.getAttribute("href"), mark.textContent,
    mark.getAttribute("visibility"), ...round(mark.getBoundingClientRect()),
  ]).sort().join("\\n"));
"""


@dataclass(frozen=True)
class Page:
    """The stepping page in a browser."""

    driver: Chrome

    def read(self) -> dict[str, Any]:
        """What stands on it now."""
        found: dict[str, Any] = self.driver.execute_script(_READ)
        return found

    def drawn(self) -> list[str]:
        """Every mark of the bed with its place on the screen."""
        found: list[str] = self.driver.execute_script(_DRAWN)
        return found

    def ask(self, script: str) -> Any:  # noqa: ANN401 - whatever the script returns
        """The value of an expression."""
        return self.driver.execute_script(f"return {script}")

    def button(self, name: str) -> WebElement:
        return self.driver.find_element(By.ID, name)

    def key(self, key: str, code: int, *, held: bool = False) -> None:
        """Press a key as the keyboard does, or report that it is still held."""
        event = {"key": key, "code": key, "windowsVirtualKeyCode": code, "autoRepeat": held}
        self.driver.execute_cdp_cmd("Input.dispatchKeyEvent", {"type": "rawKeyDown", **event})
        if not held:
            self.driver.execute_cdp_cmd("Input.dispatchKeyEvent", {"type": "keyUp", **event})

    def forward(self) -> None:
        self.key("PageDown", 34)

    def back(self) -> None:
        self.key("PageUp", 33)

    def touch(self, points: list[tuple[float, float]]) -> None:
        """Draw one finger through these points."""
        kinds = ["touchStart", *["touchMove"] * (len(points) - 1)]
        for kind, (x, y) in zip(kinds, points, strict=True):
            self._touch(kind, [{"x": x, "y": y}])
        self._touch("touchEnd", [])

    def _touch(self, kind: str, points: list[dict[str, float]]) -> None:
        self.driver.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def complaints(self) -> list[str]:
        """What the browser's console says since it was last asked."""
        return [entry["message"] for entry in self._log("browser")]

    def _log(self, kind: str) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self.driver.get_log(kind)  # type: ignore[no-untyped-call]
        return found

    def requested(self) -> list[str]:
        """Addresses that pages from files have asked for since it was last asked."""
        events = [json.loads(entry["message"])["message"] for entry in self._log("performance")]
        asked = [event for event in events if event["method"] == "Network.requestWillBeSent"]
        return [
            event["params"]["request"]["url"]
            for event in asked
            if event["params"]["documentURL"].startswith("file:")
        ]


@contextmanager
def browser(profile: Path) -> Iterator[Chrome]:
    """Chromium with a profile of its own; it asks nobody for drivers."""
    program, driver_program = shutil.which("chromium"), shutil.which("chromedriver")
    assert program, "these tests need chromium"
    assert driver_program, "these tests need chromedriver"
    options = ChromeOptions()
    options.binary_location = program
    for argument in ("--headless=new", "--disable-dev-shm-usage", f"--user-data-dir={profile}"):
        options.add_argument(argument)
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        options.add_argument("--no-sandbox")
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = Chrome(options=options, service=Service(driver_program))
    try:
        yield driver
    finally:
        driver.quit()


@contextmanager
def undisturbed(driver: Chrome) -> Iterator[None]:
    """No test may leave a word in the console, or have asked for anything but the file itself."""
    page = Page(driver)
    page.complaints()
    page.requested()
    yield
    assert page.complaints() == []
    assert [url for url in page.requested() if not url.startswith(("file:", "data:"))] == []


def open_page(
    driver: Chrome,
    file: Path,
    size: tuple[int, int] = TABLET,
    *,
    features: Mapping[str, str] | None = None,
    clock: bool = True,
) -> Page:
    """Open a page at a size, touch and all.

    Args:
        driver: the browser.
        file: the page.
        size: of the window.
        features: what the reader prefers, as media features.
        clock: let a second pass at each press.
    """
    width, height = size
    metrics = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
    driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": True})
    preferred = [{"name": name, "value": value} for name, value in (features or {}).items()]
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "", "features": preferred})
    page = Page(driver)
    driver.get(file.as_uri())
    if clock:
        driver.execute_script(_CLOCK)
    return page
