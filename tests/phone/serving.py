"""A local server for the patient's page whose files can be changed, broken or taken away during a test."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler
from threading import Thread

from tests.server import PatientServer

TYPES = {"html": "text/html; charset=utf-8", "js": "text/javascript", "css": "text/css", "svg": "image/svg+xml", "png": "image/png",
         "woff2": "font/woff2", "webmanifest": "application/manifest+json"}  # fmt: skip


class Host:
    """What is served now, and what was asked for."""

    def __init__(self, files: Mapping[str, bytes]) -> None:
        self.files: dict[str, bytes] = dict(files)
        self.asked: list[str] = []
        self.referrers: list[str] = []
        self.address = ""


@contextmanager
def serve(files: Mapping[str, bytes], base: str = "base") -> Iterator[Host]:
    """The files below a base path, as many hosts have it."""
    host = Host(files)

    class Handler(BaseHTTPRequestHandler):
        def log_message(self, format: str, *args: object) -> None:
            pass

        def do_GET(self) -> None:
            host.asked.append(self.path)
            host.referrers.append(self.headers.get("Referer", ""))
            path = self.path.partition("?")[0].removeprefix(f"/{base}/")
            path += "index.html" if path.endswith("/") or not path else ""
            data = host.files.get(path)
            self.send_response(200 if data is not None else 404)
            body = data if data is not None else b"not here"
            self.send_header("Content-Type", TYPES.get(path.rpartition(".")[2], "text/plain"))
            self.send_header("Content-Length", str(len(body)))
            # The worst that static hosts do: everything is kept for an hour, the worker's script too.
            self.send_header("Cache-Control", "max-age=3600")
            self.end_headers()
            self.wfile.write(body)

    server = PatientServer(("127.0.0.1", 0), Handler)
    Thread(target=server.serve_forever, daemon=True).start()
    host.address = f"http://127.0.0.1:{server.server_address[1]}/{base}"
    try:
        yield host
    finally:
        server.shutdown()
        server.server_close()
