"""How long a key press takes to show its first result, on the page of all exercises of a large library.

Typed in Chromium, one key after the other, each after the results of the one before: from the key's event to the
first frame with the new list, as Event Timing counts an interaction.  The first key of a word loads its slice.
"""

from __future__ import annotations

import statistics
from pathlib import Path

from tests.bench.measure import Report
from tests.bench.phone import serve
from tests.site.browser import a_browser

WORDS = ("knee", "shoulder", "band", "chair heel")
WATCH = """globalThis.waits = [];
let pressed = 0;
addEventListener('keydown', event => { pressed = event.timeStamp; }, true);
addEventListener('DOMContentLoaded', () => new MutationObserver(() => {
  if (!pressed) return;
  const began = pressed;
  pressed = 0;
  requestAnimationFrame(() => { const then = new MessageChannel(); then.port1.onmessage = () => waits.push(performance.now() - began); then.port2.postMessage(0); });
}).observe(document.querySelector('main'), {subtree: true, childList: true, attributes: true, characterData: true}));"""


def measure_search(report: Report, site: Path, language: str, exercises: int) -> None:
    """The waits of each word's first key, and of the others."""
    first, later = list[float](), list[float]()
    with serve(site) as host, a_browser() as browser:
        for word in WORDS:
            context = browser.new_context(viewport={"width": 1280, "height": 800}, service_workers="block", bypass_csp=True)
            page = context.new_page()
            page.add_init_script(WATCH)
            page.goto(f"{host}/{language}/exercises/index.html")
            page.focus("#q")
            waits: list[float] = []
            for at, letter in enumerate(word):
                page.keyboard.press(letter if letter != " " else "Space")
                page.wait_for_function(f"() => waits.length > {at}")
                waits = page.evaluate("waits")
            first.append(waits[0])
            later += waits[1:]
            context.close()
    report.add("search", f"{exercises} exercises, first key of a word, median (aim 50)", statistics.median(first), "ms")
    report.add("search", f"the longest of {len(first)}", max(first), "ms")
    report.add("search", "each further key, median (aim 50)", statistics.median(later), "ms")
    report.add("search", f"the longest of {len(later)}", max(later), "ms")
