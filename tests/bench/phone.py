"""What a first view costs on a slow phone: bytes over the wire, first content, layout shift, blocking time.

    python -m tests.bench.phone [SITE] [LIBRARY]       default: build/site content

Serves a built site with gzip and opens an exercise page and a patient's page in three languages in Chromium, each with an empty cache,
the network at 1.6 Mbit/s with 150 ms of delay and the processor slowed fourfold (the settings that Lighthouse uses for
mobile phones).  Prints; judges by the goals below; changes nothing.
"""

from __future__ import annotations

import gzip
import statistics
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

from playwright.sync_api import Browser

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import encode_bundle
from handouts.bundle.values import PickedBundle
from handouts.library.read import read_library
from handouts.model import Library, Pick, Ref
from handouts.problems import Place
from handouts.source.files import read_folder
from tests.site.browser import a_browser

BITS_A_SECOND, DELAY_MILLISECONDS, SLOWDOWN, RUNS = 1_600_000, 150, 4, 5
GOALS = {"kB": 60, "kB script": 12, "first content s": 1.5, "shift": 0.02, "blocked ms": 100}
PICKED = 4
LANGUAGES = ("en", "es", "ar")
"""Of the patient's page, as far as the site has them: the first script, accents, and a font of its own from right to left."""
TYPES = {"html": "text/html; charset=utf-8", "js": "text/javascript", "css": "text/css", "svg": "image/svg+xml", "png": "image/png",
         "woff2": "font/woff2", "webmanifest": "application/manifest+json"}  # fmt: skip
WATCH = """globalThis.seen = {shift: 0, blocked: 0, first: 0, moved: []};
const named = node => (node?.parentElement?.outerHTML ?? node?.nodeName ?? 'what is gone').slice(0, 70);
new PerformanceObserver(list => { for (const one of list.getEntries()) if (!one.hadRecentInput) {
  seen.shift += one.value;
  for (const {node, previousRect: was, currentRect: is} of one.sources) seen.moved.push(`${named(node)} from ${was.y} to ${is.y}, ${Math.round(one.startTime)} ms`);
} }).observe({type: 'layout-shift', buffered: true});
new PerformanceObserver(list => { for (const one of list.getEntries()) seen.blocked += Math.max(0, one.duration - 50); }).observe({type: 'longtask', buffered: true});
new PerformanceObserver(list => { for (const one of list.getEntries()) if (one.name === 'first-contentful-paint') seen.first = one.startTime; }).observe({type: 'paint', buffered: true});"""


@contextmanager
def serve(folder: Path) -> Iterator[str]:
    """The site as a static host gives it: texts in gzip, fonts and pictures of points as they are."""

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def log_message(self, format: str, *args: object) -> None:
            pass

        def do_GET(self) -> None:
            path = folder / (self.path.partition("?")[0].lstrip("/") + ("index.html" if self.path.endswith("/") else ""))
            found = path.is_file()
            ending = path.suffix.lstrip(".")
            data = path.read_bytes() if found else b""
            packed = ending in ("html", "js", "css", "svg", "webmanifest")
            body = gzip.compress(data, 9) if packed else data
            self.send_response(200 if found else 404)
            self.send_header("Content-Type", TYPES.get(ending, "text/plain"))
            self.send_header("Content-Length", str(len(body)))
            if packed:
                self.send_header("Content-Encoding", "gzip")
            self.end_headers()
            self.wfile.write(body)

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}"
    finally:
        server.shutdown()
        server.server_close()


@dataclass(frozen=True, slots=True)
class View:
    """One first view."""

    kilobytes: dict[str, float]
    """Over the wire with headers, by kind of file."""
    first_seconds: float
    shift: float
    blocked_milliseconds: float
    moved: tuple[str, ...]
    """What the shift came from."""


def look(browser: Browser, address: str) -> View:
    """Opens a page with an empty cache and waits until nothing more comes."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block")
    page = context.new_page()
    page.add_init_script(WATCH)
    link = context.new_cdp_session(page)
    kinds: dict[str, str] = {}
    sizes: dict[str, float] = {}

    def note(event: dict[str, Any]) -> None:
        kind = kinds.get(event["requestId"], "other")
        sizes[kind] = sizes.get(kind, 0.0) + event["encodedDataLength"] / 1000

    link.on("Network.requestWillBeSent", lambda event: kinds.__setitem__(event["requestId"], event["request"]["url"].partition("#")[0].rpartition(".")[2]))
    link.on("Network.loadingFinished", note)
    link.send("Network.enable")
    speed = BITS_A_SECOND / 8
    link.send("Network.emulateNetworkConditions", {"offline": False, "latency": DELAY_MILLISECONDS, "downloadThroughput": speed, "uploadThroughput": speed / 2})
    link.send("Emulation.setCPUThrottlingRate", {"rate": SLOWDOWN})
    page.goto(address)
    page.wait_for_load_state("networkidle")
    seen = page.evaluate("globalThis.seen")
    context.close()
    return View(sizes, seen["first"] / 1000, seen["shift"], seen["blocked"], tuple(seen["moved"]))


def report(name: str, views: list[View]) -> None:
    """The median of some views, each figure beside its goal."""
    kinds = views[-1].kilobytes
    values = {
        "kB": sum(kinds.values()),
        "kB script": kinds.get("js", 0.0),
        "first content s": statistics.median(view.first_seconds for view in views),
        "shift": max(view.shift for view in views),
        "blocked ms": statistics.median(view.blocked_milliseconds for view in views),
    }
    print(f"{name}  ({', '.join(f'{kind} {size:.1f}' for kind, size in sorted(kinds.items()))} kB)")
    for what, value in values.items():
        print(f"  {what:<16}{value:8.2f}   goal {GOALS[what]:>6}   {'ok' if value <= GOALS[what] else 'MISSED'}")
    if values["shift"] > GOALS["shift"]:
        print("\n".join(f"    moved: {each}" for view in views for each in view.moved))


def by_weight(site: Path, library: Library, language: str) -> list[str]:
    """The exercises that have a page in a language, the one whose page takes most bytes last."""
    weights = {each.slug: len(gzip.compress(page.read_bytes())) for each in library.exercises if (page := site / language / f"exercises/{each.slug}/index.html").is_file()}
    return sorted(weights, key=lambda slug: weights[slug])


def list_code(library: Library, slugs: list[str], language: str) -> str:
    """The code of some exercises, in a language."""
    place = Place("bench")
    picks = tuple(Pick(place=place, exercise=Ref(slug, place)) for slug in slugs)
    code = encode_bundle(PickedBundle(language, library.clinic.locations[0].slug, 4, picks), make_catalogue(library))
    assert isinstance(code, str), code
    return code


def main(site: Path, content: Path) -> None:
    """Measures the pages."""
    library, _ = read_library(read_folder(content, content.name)[0], content.name)
    assert library is not None
    with serve(site) as host, a_browser() as browser:
        heaviest = by_weight(site, library, library.language)[-1]
        pages = {f"exercise page, the heaviest: {heaviest}": f"{host}/{library.language}/exercises/{heaviest}/index.html"}
        for language in LANGUAGES:
            if (site / language / "my/index.html").is_file():
                mine = by_weight(site, library, language)[-PICKED:]
                pages[f"my exercises, {PICKED} of them, {language}: {', '.join(mine)}"] = f"{host}/{language}/my/index.html#{list_code(library, mine, language)}"
        for name, address in pages.items():
            report(name, [look(browser, address) for _ in range(RUNS)])


if __name__ == "__main__":
    given = [Path(argument) for argument in sys.argv[1:]]
    main(*(given + [Path("build/site"), Path("content")][len(given) :]))
