"""The hosting guide, tried: its nginx configuration as it stands, at the root and below a sub-path, in a browser."""

from __future__ import annotations

import re
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from email.message import Message
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest

from tests.phone.making import make_phone_site
from tests.site.browser import a_browser
from tests.site.making import write_site

ROOT = Path(__file__).parents[2]
NGINX = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin")
GUIDE = (ROOT / "HOSTING.md").read_text(encoding="utf-8")
needs_nginx = pytest.mark.skipif(NGINX is None, reason="nginx is not installed (Debian: nginx-light)")


def the_configuration() -> str:
    """The block that the guide tells to copy."""
    (found,) = re.findall(r"```nginx\n(.*?)```", GUIDE, re.DOTALL)
    return found


@contextmanager
def hosted(folder: Path, *edits: tuple[str, str]) -> Iterator[str]:
    """The folder's ``site`` served by the guide's configuration; gives the address of its root."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    block = the_configuration()
    for old, new in (("listen 80;", f"listen 127.0.0.1:{port};"), ("root /srv/handouts/site;", f"root {folder / 'site'};"), *edits):
        assert block.count(old) == 1
        block = block.replace(old, new)
    places = "".join(f"{kind}_temp_path {folder / kind};\n" for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi"))
    configuration = folder / "nginx.conf"
    configuration.write_text(
        f"daemon off; master_process off; pid {folder / 'pid'}; error_log {folder / 'errors'};\n"
        f"events {{}}\nhttp {{ include /etc/nginx/mime.types; access_log off; {places} {block} }}\n",
        encoding="utf-8",
    )
    assert NGINX
    server = subprocess.Popen([NGINX, "-c", str(configuration), "-e", str(folder / "errors")], stderr=subprocess.PIPE, text=True)
    try:
        for _ in range(100):
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            assert server.poll() is None, server.stderr.read() if server.stderr else ""
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}/"
    finally:
        server.terminate()
        server.wait(timeout=10)
        if server.stderr:
            server.stderr.close()


def ask(address: str) -> tuple[int, Message, bytes]:
    """Status, headers and body of an address of this machine."""
    try:
        with urlopen(address, timeout=10) as answer:
            return answer.status, answer.headers, answer.read()
    except HTTPError as refusal:
        with refusal:
            return refusal.code, refusal.headers, refusal.read()


@needs_nginx
def test_headers_types_and_wrong_addresses(tmp_path: Path) -> None:
    """Each file comes with its type and the headers of the guide's table; pages are asked for again, assets kept."""
    files = make_phone_site()
    write_site(files, tmp_path / "site")
    asset = next(path for path in files if path.startswith("assets/screen."))
    types = {
        "": "text/html; charset=utf-8",
        "en/exercises/lift/": "text/html; charset=utf-8",
        "en/my/worker.js": "application/javascript; charset=utf-8",
        "en/my/manifest.webmanifest": "application/manifest+json",
        asset: "text/css; charset=utf-8",
        next(path for path in files if path.endswith(".svg")): "image/svg+xml",
        next(path for path in files if path.endswith(".woff2")): "font/woff2",
    }
    with hosted(tmp_path) as root:
        for path, kind in types.items():
            status, headers, _ = ask(root + path)
            assert (status, headers["Content-Type"]) == (200, kind), path
            assert headers["Content-Security-Policy"] == "frame-ancestors 'none'"
            assert headers["Referrer-Policy"] == "no-referrer"
            assert headers["X-Content-Type-Options"] == "nosniff"
            assert headers["Permissions-Policy"] == "camera=(self), microphone=(), geolocation=()"
            kept = "public, max-age=31536000, immutable" if path.startswith("assets/") else "no-cache"
            assert headers["Cache-Control"] == kept, path
        status, headers, body = ask(root + "en/exercises/nothing-here/")
        assert (status, body) == (404, files["404.html"])
        assert headers["Referrer-Policy"] == "no-referrer"


@needs_nginx
@pytest.mark.browser
def test_below_a_sub_path(tmp_path: Path) -> None:
    """The same files in a folder below the root: pages, styles and scripts come, and nothing leads out of it."""
    write_site(make_phone_site(), tmp_path / "site/handouts")
    with hosted(tmp_path, ("error_page 404 /404.html;", "error_page 404 /handouts/404.html;")) as root, a_browser() as browser:
        page = browser.new_page()
        asked: list[str] = []
        failed: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.on("response", lambda answer: failed.append(answer.url) if answer.status >= 400 else None)
        for path in ("", "en/", "en/exercises/", "en/exercises/lift/", "en/my/"):
            page.goto(f"{root}handouts/{path}", wait_until="networkidle")
        assert failed == []
        assert all(url.startswith((f"{root}handouts/", "data:", "blob:")) for url in asked), asked
        assert ask(f"{root}handouts/none")[0] == 404


def test_guide_names_what_the_configuration_sends() -> None:
    """Every header of the table is in the configuration, but for the one that needs a certificate."""
    named = re.findall(r"^\| `([A-Z][\w-]+)`", GUIDE, re.MULTILINE)
    sent = re.findall(r"add_header ([\w-]+)", the_configuration())
    assert set(named) - {"Strict-Transport-Security"} == set(sent)
