"""What a step of the stepping page costs in a browser, beside one changed attribute, and its size in bytes.

Everything is measured in one run of one browser: the script with style and layout, and the whole of the
page's main thread until the next frame, painting too.
"""

from __future__ import annotations

import json
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from selenium.webdriver import Chrome, ChromeOptions
from selenium.webdriver.chrome.service import Service

from bedview.export.briefing import brief
from bedview.export.stepping.page import stepping_page
from bedview.export.stepping.page_data import page_data
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.store.demos import find_piece
from bedview.store.piece_file import read_piece

STEPS = 140
ROUNDS = 5

_SETUP = """
let now = 1e6;
Object.defineProperty(Event.prototype, "timeStamp", { get() { return (now += 1000); } });
window.frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
window.works = {
  attribute: (turn) => document.querySelector("#cells use").setAttribute("y", 212 + (turn % 2) / 100),
  step: () => document.dispatchEvent(new KeyboardEvent("keydown", { key: "PageDown", bubbles: true })),
  back: () => document.dispatchEvent(new KeyboardEvent("keydown", { key: "PageUp", bubbles: true })),
};
"""
_RUN = """
const [name, turns, finish] = arguments;
(async () => {
  const times = [];
  for (let turn = 0; turn < turns; turn++) {
    const start = performance.now();
    window.works[name](turn);
    document.getElementById("bed").getBoundingClientRect();
    times.push(performance.now() - start);
    await window.frame();
  }
  finish(times);
})();
"""


@dataclass(frozen=True, slots=True)
class StepTimes:
    """Milliseconds, medians.

    Attributes:
        script_ms: script, style and layout of a step.
        script_floor_ms: the same for one attribute of one needle.
        thread_ms: the page's main thread for a step, painting too.
        thread_floor_ms: the same for one attribute.
    """

    script_ms: float
    script_floor_ms: float
    thread_ms: float
    thread_floor_ms: float

    @property
    def script_ratio(self) -> float:
        """A step over one attribute: script, style and layout."""
        return self.script_ms / self.script_floor_ms

    @property
    def thread_ratio(self) -> float:
        """The same for all of the main thread."""
        return self.thread_ms / self.thread_floor_ms


def wedges(times: int) -> Piece:
    """A long piece: short rows over 120 needles again and again, 204 steps a time."""
    short_rows = {"kind": "short_rows", "down_to": 20, "back": {}}
    return Piece.read(
        {
            "format": 1,
            "title": "Wedges",
            "bed": {"needles": 200, "pitch_mm": 4.5},
            "yarns": [{"id": "main", "role": "fabric"}],
            "segments": [
                {"kind": "cast_on", "needles": "L60-R60", "yarn": "main"},
                {"kind": "repeat", "times": times, "segments": [short_rows, {"kind": "plain", "rows": 4}]},
            ],
        }
    )


def bytes_a_step(piece: Piece, procedure: Procedure) -> tuple[float, float]:
    """Bytes a step of the states alone, and of all that the page is told."""
    told = page_data(piece, procedure, brief(piece, procedure)).told
    steps = len(told["steps"])
    states = {"states": told["states"], "of": [step[0] for step in told["steps"]]}
    return _size(states) / steps, _size(told) / steps


def _size(value: object) -> int:
    return len(json.dumps(value, separators=(",", ":"), ensure_ascii=False).encode())


def measure(driver: Chrome) -> StepTimes:
    """Times of steps on the page that is open."""
    driver.execute_script(_SETUP)
    _run(driver, "step", STEPS)
    _run(driver, "back", STEPS)
    steps, floors = [], []
    for _ in range(ROUNDS):
        floors.append(_run(driver, "attribute", STEPS))
        steps.append(_run(driver, "step", STEPS))
        _run(driver, "back", STEPS)
    script, thread = zip(*steps, strict=True)
    script_floor, thread_floor = zip(*floors, strict=True)
    return StepTimes(*(statistics.median(each) for each in (script, script_floor, thread, thread_floor)))


def _run(driver: Chrome, name: str, turns: int) -> tuple[float, float]:
    """Median of the script, and mean of the main thread, in ms a turn."""
    before = _task_s(driver)
    times: Sequence[float] = driver.execute_async_script(_RUN, name, turns)
    return statistics.median(times), (_task_s(driver) - before) / turns * 1000


def _task_s(driver: Chrome) -> float:
    """Seconds that the page's main thread has worked so far."""
    metrics: list[dict[str, Any]] = driver.execute_cdp_cmd("Performance.getMetrics", {})["metrics"]
    return float(next(metric["value"] for metric in metrics if metric["name"] == "TaskDuration"))


def start_browser(profile: str) -> Chrome:
    """Chromium without a window."""
    options = ChromeOptions()
    options.binary_location = shutil.which("chromium") or ""
    for argument in (
        "--headless=new",
        "--no-sandbox",
        "--window-size=1024,768",
        f"--user-data-dir={profile}",
    ):
        options.add_argument(argument)
    return Chrome(options=options, service=Service(shutil.which("chromedriver")))


def _print_times(found: StepTimes) -> None:
    print(
        f"  script and layout {found.script_ms:.2f} ms a step, {found.script_floor_ms:.2f} ms an attribute: "
        f"{found.script_ratio:.1f} times"
    )
    print(
        f"  main thread {found.thread_ms:.2f} ms a step, {found.thread_floor_ms:.2f} ms an attribute: "
        f"{found.thread_ratio:.1f} times"
    )


def main() -> int:
    """Print what was measured."""
    for times in (1, 10, 20):
        piece = wedges(times)
        procedure = compile_piece(piece)
        states, told = bytes_a_step(piece, procedure)
        print(f"{len(procedure.steps):>5} steps: {states:5.1f} bytes a step for states, {told:5.1f} for all")
    with tempfile.TemporaryDirectory() as folder:
        driver = start_browser(folder)
        driver.set_script_timeout(120)
        driver.execute_cdp_cmd("Performance.enable", {})
        try:
            for name, piece in (
                ("harbour-bootee", read_piece(find_piece("harbour-bootee"))),
                ("120 needles", wedges(1)),
            ):
                path = Path(folder) / "page.html"
                start = time.perf_counter()
                path.write_text(stepping_page(piece, compile_piece(piece)), encoding="utf-8")
                made_ms = (time.perf_counter() - start) * 1000
                driver.get(path.as_uri())
                found = measure(driver)
                print(f"{name}: {path.stat().st_size / 1000:.0f} kB, made in {made_ms:.0f} ms")
                _print_times(found)
        finally:
            driver.quit()
    return 0


if __name__ == "__main__":
    sys.exit(main())
