"""How soon a page is ready and how soon the slider answers, in a real browser, against a bare page in the same run.

    OAKUM_BROWSER=/path/to/chromium python bench/pages.py [finds, default 5000]

The project is the demo with further invented finds. Ready: from the request until the load event, medians of 7
visits with a warm cache. Slider and rig control: from the input event until the new load, or the plan with the
turned rig, stands in the page. Goals: 0.35 s, 0.1 s and 0.15 s. The bare page is one heading served by the same
server and browser.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import threading
import time
from pathlib import Path

import uvicorn
from playwright.sync_api import Page, sync_playwright

from oakum.desk.demo.project import make_demo
from oakum.desk.lifts.bodies import finds_with_body
from oakum.record import Draft, Logbook
from oakum.web.app import create_app
from oakum.web.serve import loopback_socket

VISITS = 7
SLIDES = 10
TURN = """([name, value]) => new Promise(done => {
  const field = document.querySelector('#knob-' + name), target = document.querySelector('#try');
  const start = performance.now();
  new MutationObserver((_, watch) => { watch.disconnect(); done(performance.now() - start); })
    .observe(target, { childList: true });
  field.value = value;
  field.dispatchEvent(new Event('input', { bubbles: true }));
})"""
SLIDE = """level => new Promise(done => {
  const slider = document.querySelector('#level-slide'), target = document.querySelector('#level');
  const start = performance.now();
  new MutationObserver((_, watch) => { watch.disconnect(); done(performance.now() - start); })
    .observe(target, { childList: true });
  slider.value = level;
  slider.dispatchEvent(new Event('input', { bubbles: true }));
})"""
READY = """async () => {
  const visit = performance.getEntriesByType('navigation')[0];
  while (!visit.loadEventEnd) await new Promise(done => setTimeout(done, 1));
  return visit.loadEventEnd - visit.startTime;
}"""


def ready_s(page: Page, address: str) -> float:
    """Median time from the request to the load event, seconds."""
    taken = []
    for _ in range(VISITS):
        page.goto(address, wait_until="load")
        taken.append(page.evaluate(READY) / 1000)
    return statistics.median(taken)


def main(count: int) -> None:
    with tempfile.TemporaryDirectory() as room:
        folder = make_demo(Path(room))
        with Logbook.open(folder) as logbook:
            logbook.append_many(
                Draft("find.entered", None, {"title": f"treenail {i}", "material": "oak"}, "recorder")
                for i in range(min(count, 4_900))
            )
            find = max((one.find for one in finds_with_body(logbook)), key=lambda one: len(one.fields["toml"]))
        app = create_app(folder, token="bench")

        @app.get("/bare")
        def bare() -> str:
            return "bare"

        listener = loopback_socket()
        server = uvicorn.Server(uvicorn.Config(app, log_level="error"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        base = f"http://127.0.0.1:{listener.getsockname()[1]}"
        root = ["--no-sandbox"] if hasattr(os, "getuid") and os.getuid() == 0 else []
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=os.environ["OAKUM_BROWSER"], args=root)
            page = browser.new_page()
            page.goto(f"{base}/enter?token=bench")
            plain = ready_s(page, f"{base}/bare")
            print(f"a bare page               {plain:6.3f} s")
            for name, path in (
                ("Today", "/"),
                ("Finds", "/finds"),
                ("Finds, a search", "/finds?q=oak"),
                ("a find", f"/finds/{find.id}"),
                ("a lift", f"/lifts/{find.id}"),
                ("a body", f"/lifts/{find.id}/body"),
                ("a plan", f"/lifts/{find.id}/plan"),
                ("a rig", f"/lifts/{find.id}/rig"),
                ("after a lift", f"/lifts/{find.id}/after"),
                ("Gear", "/gear"),
                ("Logbook", "/logbook"),
            ):
                taken = ready_s(page, base + path)
                print(f"{name:24s}  {taken:6.3f} s  {taken / plain:5.1f} x bare  (goal < 0.35 s)")
            page.goto(f"{base}/lifts/{find.id}")
            slides = [page.evaluate(SLIDE, f"{-2 + 0.2 * i:.2f}") / 1000 for i in range(SLIDES)]
            print(f"slider, round trip        {statistics.median(slides):6.3f} s                (goal < 0.1 s)")
            page.goto(f"{base}/lifts/{find.id}/plan")
            for name, values in (("hook", [3.7 + 0.1 * i for i in range(SLIDES)]), ("bags", [4, 5, 2, 1, 6, 7, 8, 9])):
                turns = [page.evaluate(TURN, [name, f"{value:.4g}"]) / 1000 for value in values]
                print(f"control, {name:14s}   {statistics.median(turns):6.3f} s                (goal < 0.15 s)")
            browser.close()
        server.should_exit = True
        thread.join(10)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5_000)
