"""``handouts preview``: the site on this machine, made again as files are saved.

A page is made, a sheet laid out and a figure drawn when a browser asks for it first, so a change of a word shows at
once; until its figure is drawn an exercise has the sign of its position.  Problems are shown in the page; while there
are errors the last good site stays.
Serves this machine only, and only names that lead to it.
"""

from __future__ import annotations

import argparse
import json
import re
import threading
import time
from collections.abc import Callable, Container, Sequence
from dataclasses import dataclass, field
from functools import partial
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path, PurePosixPath
from typing import Any
from urllib.parse import unquote, urlsplit

from watchfiles import watch

from handouts.build.pipeline import Made, make_site
from handouts.build.settings import Settings
from handouts.commands.options import add_cache, add_library_word, read_port
from handouts.commands.posing import MOST_BYTES, POSE, Bench, asset, link_to_bench, may_ask
from handouts.commands.report import CANNOT_RUN, DONE, print_problems
from handouts.gallery.files import gallery_file
from handouts.gallery.page import gallery_page
from handouts.paper.laying import lay_out_document
from handouts.problems import Problem, has_errors
from handouts.source.bases import read_with_base
from handouts.source.files import OUTPUT_MARK
from handouts.store.memo import Memo
from handouts.templating.assets import templates_root

HOST = "127.0.0.1"
GALLERY = ".preview/gallery/"
"""Where the gallery of movements is."""
DEBOUNCE_MS = 60
"""Time in which saves are gathered into one rebuild; editors write a file in several steps."""
ASK_MS = 500
"""How often a page asks what is new.  An answer is never held back: of held connections a browser has six for all its tabs."""
GATHER_SECONDS = 0.05
"""Time in which figures that a page asks for are gathered, to be drawn together."""
MIME = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".woff2": "font/woff2",
    ".webmanifest": "application/manifest+json",
    ".txt": "text/plain; charset=utf-8",
    ".xml": "application/xml",
}
_SCRIPT = """\
"use strict";
(() => {
  const box = document.createElement("section");
  box.className = "preview-problems";
  box.setAttribute("aria-label", "Problems");
  box.hidden = true;
  document.body.prepend(box);
  let shown = null;
  const show = (news) => {
    if (shown !== null && news.version !== shown) { location.reload(); return; }
    if (news.version === shown) return;
    shown = news.version;
    box.replaceChildren(...news.problems.map((text) => {
      const line = document.createElement("p");
      line.textContent = text;
      return line;
    }));
    box.hidden = news.problems.length === 0;
  };
  const ask = async () => {
    try { show(await (await fetch("/.preview/news", { cache: "no-store" })).json()); } catch { /* it has ended, or begins again */ }
    setTimeout(ask, ASK_MS);
  };
  ask();
})();
"""
_SCRIPT = _SCRIPT.replace("ASK_MS", str(ASK_MS))
_WORKER = """\
"use strict";
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith(`handouts:${self.registration.scope}:`)) await caches.delete(name);
  await self.registration.unregister();
})()));
"""
"""In place of every worker: one that a built site left on this port would show its old pages here."""
_STYLE = """\
.preview-problems { position: sticky; inset-block-start: 0; z-index: 9; max-block-size: 40vh; overflow: auto;
  padding: 12px 16px; background: #fff; color: #7a1010; border-block-end: 4px solid #7a1010; font: 15px/1.45 monospace; }
.preview-problems p { margin: 0 0 6px; }
.preview-pose { position: fixed; inset-block-end: 12px; inset-inline-end: 12px; z-index: 9; margin: 0; }
.preview-pose a { display: block; padding: 10px 16px; border: 1px solid #fff; border-radius: 4px; background: #1c1b19; color: #fff;
  font: bold 15px/1.45 system-ui, sans-serif; }
@media print { .preview-pose { display: none; } }
"""


@dataclass(slots=True)
class PreviewState:
    """What the browser is shown: the last good site, the problems now, and a number that counts changes."""

    make: Callable[[Made | None, Container[str]], Made]
    """Makes the site, given the one before, and the exercises whose figures were asked for."""
    made: Made | None = None
    problems: tuple[Problem, ...] = ()
    version: int = 0
    changed: threading.Lock = field(default_factory=threading.Lock)
    drawn: dict[str, bytes] = field(default_factory=dict)
    """What was asked for of this site: pages, sheets."""
    wanted: set[str] = field(default_factory=set)
    """Slugs of exercises whose figures were asked for."""
    asked: threading.Event = field(default_factory=threading.Event)
    """Set where a figure is asked for that is not drawn."""
    renewing: threading.Lock = field(default_factory=threading.Lock)

    def renew(self) -> None:
        """Plan the site again; what is in it is made when it is asked for."""
        with self.renewing:
            made = self.make(self.made, frozenset(self.wanted))
            with self.changed:
                self.problems = made.problems
                if not has_errors(made.problems):
                    self.made, self.drawn = made, {}
                self.version += 1

    def draw_asked(self) -> None:
        """Draw figures as they are asked for, for ever; those of one page together."""
        while self.asked.wait():
            time.sleep(GATHER_SECONDS)
            self.asked.clear()
            self.renew()

    def find(self, path: str) -> bytes | None:
        """The bytes at a path, made now where nobody has asked for them yet."""
        made, drawn = self.made, self.drawn
        if made is not None and (shown := figures_on(path, made.undrawn) - self.wanted):
            self.wanted |= shown
            if path.endswith(".pdf"):
                self.renew()  # no script in a PDF shows it again
                made, drawn = self.made, self.drawn
            else:
                self.asked.set()
        if made is not None and path not in drawn:
            if path in made.pages:
                drawn[path] = made.pages[path]
            else:
                document = made.documents.get(path)
                if document is None:
                    return None
                drawn[path] = lay_out_document(document).pdf
        return drawn.get(path)

    def news(self) -> str:
        """What the page is told, as JSON."""
        lines = [f"{item.place}  {item.what}. {item.mend}" for item in self.problems]
        return json.dumps({"version": self.version, "problems": lines})


class PreviewServer(ThreadingHTTPServer):
    """Keeps enough connections waiting for a page that asks for all its files at once."""

    request_queue_size = 128


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    add_library_word(parser)
    add_cache(parser)
    parser.add_argument("--port", type=read_port, default=8000, help="port on this machine (default: 8000)")


def run(arguments: argparse.Namespace) -> int:
    """Serve until interrupted."""
    settings = Settings.of(arguments)
    memo = Memo(settings.results)
    shown = PreviewState(lambda before, wanted: make_site(settings, memo, before, wanted))
    with settings.workers:
        return _serve(settings, shown, arguments.port)


def _serve(settings: Settings, shown: PreviewState, port: int) -> int:
    shown.renew()
    print_problems(shown.problems)
    try:
        server = PreviewServer((HOST, port), handler_for(shown, Bench(settings.library)))
    except OSError as error:
        print(f"handouts: port {port} cannot be used: {error.strerror}. Choose another with --port.")
        return CANNOT_RUN
    for work in (server.serve_forever, shown.draw_asked):
        threading.Thread(target=work, daemon=True).start()
    address = f"http://{HOST}:{server.server_address[1]}/"
    print(f"{address}  (Ctrl+C ends it; the gallery of movements: {address}{GALLERY})", flush=True)
    try:
        files, _problems = read_with_base(settings.library, settings.library.name)
        roots = [layer.root.resolve() for layer in files.layers()]
        matters = partial(is_of_libraries, roots)
        for _ in watch(*roots, templates_root(), watch_filter=matters, debounce=DEBOUNCE_MS, raise_interrupt=True):
            shown.renew()
            print_problems(shown.problems)
            print("read again", flush=True)
    except KeyboardInterrupt:
        pass
    server.shutdown()
    return DONE


def figures_on(path: str, undrawn: frozenset[str]) -> frozenset[str]:
    """The exercises, of some, whose figures a file shows by itself: a page, a PDF, or a script or picture that has the slug in its name."""
    folder, _, name = path.rpartition("/")
    slug = folder.rpartition("/")[2] if "/exercises/" in path else name.partition("-")[2].partition(".")[0]
    if path.endswith(".pdf") and slug not in undrawn:
        return undrawn
    return undrawn & {slug}


def is_of_libraries(roots: Sequence[Path], change: Any, path: str) -> bool:
    """The same for a library and what it stands on."""
    return all(is_of_library(root, change, path) for root in roots)


def is_of_library(library: Path, _change: Any, path: str) -> bool:
    """Whether a saved file can change the site: not one that is hidden, and none of what a build writes into the library."""
    place = Path(path)
    if library not in place.parents:
        return True
    parts = place.relative_to(library).parts
    return not any(part.startswith(".") for part in parts) and not (library / parts[0] / OUTPUT_MARK).exists()


def handler_for(shown: PreviewState, bench: Bench) -> type[BaseHTTPRequestHandler]:
    """A request handler over what is shown, and the posing bench of its library."""

    class Handler(BaseHTTPRequestHandler):
        """Answers GET for pages, sheets, and what is new; POST for the posing bench alone."""

        protocol_version = "HTTP/1.1"

        def do_GET(self) -> None:
            """One request."""
            host = (self.headers.get("Host") or "").rsplit(":", 1)[0]
            try:
                path = unquote(urlsplit(self.path).path).lstrip("/")
            except ValueError:
                self._answer(HTTPStatus.BAD_REQUEST, b"this is no address", ".txt")
                return
            if host not in (HOST, "localhost"):
                self._answer(HTTPStatus.FORBIDDEN, b"this address is not served", ".txt")
            elif path == ".preview/news":
                self._answer(HTTPStatus.OK, shown.news().encode(), ".json")
            elif path == ".preview/preview.js":
                self._answer(HTTPStatus.OK, _SCRIPT.encode(), ".js")
            elif path == ".preview/preview.css":
                self._answer(HTTPStatus.OK, _STYLE.encode(), ".css")
            elif path.startswith(POSE):
                self._pose(bench.page(path))
            elif found := asset(path):
                self._answer(HTTPStatus.OK, found[0].encode(), found[1])
            elif path.startswith(GALLERY):
                self._gallery(path.removeprefix(GALLERY))
            elif PurePosixPath(path).name in ("worker.js", "own-worker.js"):
                self._answer(HTTPStatus.OK, _WORKER.encode(), ".js")
            else:
                self._page(path)

        def _pose(self, page: str | None) -> None:
            if page is None:
                self._answer(HTTPStatus.NOT_FOUND, b"there is no such exercise", ".txt")
            else:
                self._answer(HTTPStatus.OK, page.encode(), ".html")

        def do_POST(self) -> None:
            """A request of the posing bench, from its own page only."""
            host, length = self.headers.get("Host") or "", self.headers.get("Content-Length") or ""
            path = urlsplit(self.path).path.lstrip("/")
            self.close_connection = True  # what was not read is no request
            if host.rsplit(":", 1)[0] not in (HOST, "localhost") or not may_ask(host, self.headers.get("Origin"), self.headers.get("Content-Type")):
                self._answer(HTTPStatus.FORBIDDEN, b"this is asked by another page", ".txt")
            elif not path.startswith(POSE):
                self._answer(HTTPStatus.NOT_FOUND, b"nothing is asked here", ".txt")
            elif not length.isascii() or not length.isdigit() or int(length) > MOST_BYTES:
                self._answer(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, b"this is longer than a figure", ".txt")
            else:
                self._answer(HTTPStatus.OK, bench.reply(path, self.rfile.read(int(length))).encode(), ".json")

        def _gallery(self, path: str) -> None:
            data = gallery_page(f"/{POSE}gallery/").encode() if path in ("", "index.html") else gallery_file(path)
            suffix = PurePosixPath(path or "index.html").suffix
            self._answer(HTTPStatus.OK if data else HTTPStatus.NOT_FOUND, data or b"this is not in the gallery", suffix if data else ".txt")

        def _page(self, path: str) -> None:
            wanted = f"{path}index.html" if path == "" or path.endswith("/") else path
            data = shown.find(wanted)
            status = HTTPStatus.OK
            if data is None:
                data, wanted, status = shown.find("404.html") or _empty_page(), "404.html", HTTPStatus.NOT_FOUND
            suffix = PurePosixPath(wanted).suffix
            self._answer(status, with_preview(data, wanted) if suffix == ".html" else data, suffix)

        def _answer(self, status: HTTPStatus, data: bytes, suffix: str) -> None:
            self.send_response(status)
            self.send_header("Content-Type", MIME.get(suffix, "application/octet-stream"))
            self.send_header("Content-Length", str(len(data)))
            self.send_header("Cache-Control", "no-store")
            self.end_headers()
            self.wfile.write(data)

        def log_message(self, format: str, *values: Any) -> None:
            """Requests are not logged."""

    return Handler


def with_preview(page: bytes, path: str = "") -> bytes:
    """A page that asks for changes: its policy lets it reach its own host; that of an exercise leads to the posing bench."""
    text = page.decode()
    text = re.sub("(default-src (?:'|&#39;)none(?:'|&#39;);)", r"\1 connect-src 'self';", text, count=1)
    text = text.replace("</head>", '<link rel="stylesheet" href="/.preview/preview.css"></head>', 1)
    return text.replace("</body>", f'{link_to_bench(path)}<script src="/.preview/preview.js"></script></body>', 1).encode()


def _empty_page() -> bytes:
    return b"<!doctype html><html lang=en><head><title>handouts preview</title></head><body></body></html>"
