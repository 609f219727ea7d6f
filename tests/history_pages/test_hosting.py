"""The hosting guide, tried: its configurations as they stand, at the root and below a sub-path, in a browser."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import socket
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import urlsplit

import pytest

from tests.history_pages.making import publish, site_of
from tests.phone.making import make_phone_site
from tests.site.browser import a_browser
from tests.site.making import write_site
from tests.small_library import TEXTS

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "HOSTING.md").read_text(encoding="utf-8")
UNPACKED = ROOT / ".venv/servers"
"""Where ``./run tests`` unpacks servers."""
PLACES = ("", "handouts/")
"""At the root of a host and below a sub-path."""
KEPT, ASKED = "public, max-age=31536000, immutable", "no-cache"
HEADERS = {
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Permissions-Policy": "camera=(self), microphone=(), geolocation=()",
}


def binary_of(name: str) -> str | None:
    """The program of a server, of the system or unpacked."""
    return shutil.which(name, path=os.pathsep.join((os.environ["PATH"], "/usr/sbin", f"{UNPACKED}/usr/sbin", f"{UNPACKED}/usr/bin")))


@dataclass(frozen=True, slots=True)
class Server:
    """One of the guide's servers."""

    name: str
    binary: str
    package: str
    sends: str
    """Pattern of a header in its configuration."""
    edits: Callable[[int], tuple[tuple[str, str], ...]]
    """What is changed in the guide's block to serve it at a port of this machine."""
    start: Callable[[str, Path, str], list[str]]
    """Writes the configuration into a folder, and says how the server is started."""

    @property
    def block(self) -> str:
        """What the guide tells to copy."""
        found = re.findall(rf"```{self.name}\n(.*?)```", GUIDE, re.DOTALL)
        assert len(found) == 1
        return str(found[0])


def start_nginx(binary: str, folder: Path, block: str) -> list[str]:
    """With pid, logs and temporary files in the folder."""
    mime = next(path for path in (Path("/etc/nginx/mime.types"), UNPACKED / "etc/nginx/mime.types") if path.is_file())
    places = "".join(f"{kind}_temp_path {folder / kind};\n" for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi"))
    (folder / "nginx.conf").write_text(
        f"daemon off; master_process off; pid {folder / 'pid'}; error_log {folder / 'errors'};\n"
        f"events {{}}\nhttp {{ include {mime}; access_log off; {places} {block} }}\n",
        encoding="utf-8",
    )
    return [binary, "-c", str(folder / "nginx.conf"), "-e", str(folder / "errors")]


def start_caddy(binary: str, folder: Path, block: str) -> list[str]:
    """Without its port for administration, its storage in the folder."""
    before = f"{{\n admin off\n auto_https off\n storage file_system {folder / 'storage'}\n}}\n"
    (folder / "Caddyfile").write_text(before + block, encoding="utf-8")
    return [binary, "run", "--config", str(folder / "Caddyfile"), "--adapter", "caddyfile"]


MODULES = ("mpm_event", "authz_core", "dir", "mime", "headers", "deflate", "filter")
"""What Debian's Apache loads without being asked and the configuration needs, and the two that the guide enables."""


def start_apache(binary: str, folder: Path, block: str) -> list[str]:
    """With the modules of a usual installation and what the guide enables."""
    (port,) = re.findall(r"<VirtualHost (\S+)>", block)
    modules = "".join(f"LoadModule {name}_module /usr/lib/apache2/modules/mod_{name}.so\n" for name in MODULES)
    types = folder / "mime.types"
    types.write_text(
        "text/html html\ntext/css css\napplication/javascript js\napplication/json json\nimage/svg+xml svg\n"
        "application/xml xml\nfont/woff2 woff2\napplication/pdf pdf\n"
    )
    (folder / "apache.conf").write_text(
        f"ServerRoot {folder}\nPidFile {folder / 'pid'}\nErrorLog {folder / 'errors'}\nDefaultRuntimeDir {folder}\n"
        f"Listen {port}\n{modules}TypesConfig {types}\nUser nobody\nGroup nogroup\n{block}",
        encoding="utf-8",
    )
    return [binary, "-f", str(folder / "apache.conf"), "-DFOREGROUND"]


SERVERS = (
    Server("nginx", "nginx", "nginx", r"add_header ([\w-]+)", lambda port: (("listen 80;", f"listen 127.0.0.1:{port};"),), start_nginx),
    Server("caddy", "caddy", "caddy", r"^    (?:    |header @\w+ )(?!Content-Type)([A-Z][\w-]+) \"", lambda port: (("clinic.example {", f"http://127.0.0.1:{port} {{"),), start_caddy),
    Server("apache", "apache2", "apache2-bin", r"Header always set ([\w-]+)", lambda port: (("*:80", f"127.0.0.1:{port}"),), start_apache),
)  # fmt: skip


@contextmanager
def hosted(server: Server, folder: Path, place: str = "") -> Iterator[str]:
    """The folder's ``site`` served by the guide's configuration; gives the address of the site."""
    binary = binary_of(server.binary)
    if binary is None:
        pytest.skip(f"{server.binary} is not installed (Debian: {server.package}; ./run tests fetches it)")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    block = server.block
    for old, new in (*server.edits(port), ("/404.html", f"/{place}404.html")):
        assert block.count(old) == 1 or old == "/404.html", old
        block = block.replace(old, new)
    assert "/srv/handouts/site" in block
    command = server.start(binary, folder, block.replace("/srv/handouts/site", str(folder / "site")))
    with (folder / "said").open("w+") as said:
        running = subprocess.Popen(command, stdout=said, stderr=said, env={"PATH": os.environ["PATH"], "HOME": str(folder)})
        try:
            for _ in range(1200):  # a minute: a busy machine starts a server late
                with socket.socket() as probe:
                    if probe.connect_ex(("127.0.0.1", port)) == 0:
                        break
                assert running.poll() is None, (folder / "said").read_text()
                time.sleep(0.05)
            else:
                raise AssertionError(f"{server.binary} does not answer: {(folder / 'said').read_text()}")
            yield f"http://127.0.0.1:{port}/{place}"
        finally:
            running.terminate()
            running.wait(timeout=20)


@dataclass(frozen=True, slots=True)
class Answer:
    """What a server answers."""

    status: int
    headers: http.client.HTTPMessage
    body: bytes


def ask(address: str) -> Answer:
    """The answer to an address of this machine; what leads elsewhere is not followed."""
    parts = urlsplit(address)
    connection = http.client.HTTPConnection(parts.netloc, timeout=60)
    try:
        connection.request("GET", parts.path)
        answer = connection.getresponse()
        return Answer(answer.status, answer.headers, answer.read())
    finally:
        connection.close()


@cache
def the_site(place: str) -> dict[str, bytes]:
    """Pages of the patient and of the clinician, codes and feeds, as a build makes them for an address."""
    texts = {**TEXTS, "clinic.yaml": TEXTS["clinic.yaml"].replace("site: https://clinic.example/", f"site: https://clinic.example/{place}")}
    return {**make_phone_site(), **site_of(texts, publish(texts)).files}


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder that everyone may read: a server that is started by root gives up its rights."""
    with TemporaryDirectory(prefix="hosting-", ignore_cleanup_errors=True) as name:
        Path(name).chmod(0o755)
        yield Path(name)


def fill(folder: Path, place: str) -> Path:
    """The folder with the site in it."""
    write_site(the_site(place), folder / "site" / place)
    return folder


every_server = pytest.mark.parametrize("server", SERVERS, ids=lambda server: server.name)
every_place = pytest.mark.parametrize("place", PLACES, ids=("root", "sub-path"))


def test_the_guide_asks_for_a_build_each_night() -> None:
    """Reviews end by the calendar, so a site that is never built again goes on as if they held."""
    assert "Build every night, also where nothing was changed" in GUIDE
    assert "--fail-on review-lapsed" in (ROOT / "OPERATIONS.md").read_text(encoding="utf-8")



@every_place
@every_server
def test_headers_and_types(server: Server, place: str, folder: Path) -> None:
    """Each file comes with its type and the headers of the guide's table; pages are asked for again, assets kept."""
    files = the_site(place)
    script = r"(application|text)/javascript; charset=utf-8"
    types = {
        "": "text/html; charset=utf-8",
        "en/exercises/foot-lift/": "text/html; charset=utf-8",
        "en/my/worker.js": script,
        "en/my/manifest.webmanifest": r"application/manifest\+json",
        next(path for path in files if path.endswith("/feed.xml")): r"application/atom\+xml",
        next(path for path in files if path.startswith("assets/screen.")): "text/css; charset=utf-8",
        next(path for path in files if path.startswith("assets/page_state.")): script,
        next(path for path in files if path.endswith(".svg")): r"image/svg\+xml",
        next(path for path in files if path.endswith(".woff2")): "font/woff2",
    }
    with hosted(server, fill(folder, place), place) as address:
        for path, kind in types.items():
            answer = ask(address + path)
            assert answer.status == 200, path
            assert re.fullmatch(kind, answer.headers["Content-Type"], re.IGNORECASE), (path, answer.headers["Content-Type"])
            assert {name: answer.headers.get_all(name) for name in HEADERS} == {name: [value] for name, value in HEADERS.items()}, path
            assert answer.headers.get_all("Cache-Control") == [KEPT if path.startswith("assets/") else ASKED], path
            assert answer.body == files[path + "index.html" if path.endswith("/") or not path else path]


@every_place
@every_server
def test_wrong_addresses(server: Server, place: str, folder: Path) -> None:
    """A wrong address, or a folder without a page, gets the site's own page and the headers; no browser keeps that for a year."""
    with hosted(server, fill(folder, place), place) as address:
        for path in ("en/exercises/nothing-here/", "nothing", "assets/screen.000000000000.css", "en/code/zzzz/"):
            answer = ask(address + path)
            assert (answer.status, answer.body) == (404, the_site(place)["404.html"]), path
            assert {name: answer.headers.get_all(name) for name in HEADERS} == {name: [value] for name, value in HEADERS.items()}, path
            assert answer.headers.get_all("Cache-Control") == [ASKED], path
        for path in ("assets/", "en/code/"):
            answer = ask(address + path)
            assert answer.status in (403, 404) and answer.body == the_site(place)["404.html"], path
            assert {name: answer.headers.get_all(name) for name in HEADERS} == {name: [value] for name, value in HEADERS.items()}, path
            assert answer.headers.get_all("Cache-Control") == [ASKED], path
        lead = ask(f"{address}en/exercises/foot-lift")
        assert lead.status in (301, 302, 307, 308)
        place_named = lead.headers["Location"]
        assert place_named in (f"/{place}en/exercises/foot-lift/", "foot-lift/", f"{address}en/exercises/foot-lift/")


@pytest.mark.browser
@every_place
@every_server
def test_in_a_browser(server: Server, place: str, folder: Path) -> None:
    """Pages, styles and scripts come, nothing leads out of the site, and a code's letters may be small."""
    files = the_site(place)
    code = next(path for path in files if path.startswith("en/code/")).split("/")[2]
    assert code != code.lower()
    with hosted(server, fill(folder, place), place) as address, a_browser() as browser:
        context = browser.new_context()
        asked: list[str] = []
        failed: list[str] = []
        context.on("request", lambda request: asked.append(request.url))
        context.on("response", lambda answer: failed.append(answer.url) if answer.status >= 400 else None)
        opened = [context.new_page() for _ in range(5)]
        for page, path in zip(opened, ("", "en/", "en/exercises/", "en/exercises/foot-lift/", "en/my/"), strict=True):
            page.goto(f"{address}{path}")
        for page in opened:
            page.wait_for_load_state("networkidle")
        assert failed == []
        for typed in (f"en/code/{code.lower()}/", f"en/code/{code.lower()}"):
            page.goto(f"{address}{typed}")
            page.wait_for_url(f"{address}en/code/{code}/")
            assert code in page.inner_text("h1")
        page.goto(f"{address}en/code/zzzz/", wait_until="networkidle")
        assert page.url == f"{address}en/code/ZZZZ/" and page.inner_text("h1") == "Page not found"
        assert all(url.startswith((address, "data:", "blob:")) for url in asked), asked


@every_server
def test_guide_names_what_the_configuration_sends(server: Server) -> None:
    """Every header of the table is in the configuration; that of the certificate only where there is one."""
    named = set(re.findall(r"^\| `([A-Z][\w-]+)`", GUIDE, re.MULTILINE))
    sent = set(re.findall(server.sends, server.block, re.MULTILINE))
    assert sent == (named if server.name == "caddy" else named - {"Strict-Transport-Security"})
