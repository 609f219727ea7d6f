"""The preview: serves the site, shows problems in the page, keeps the last good site, makes only what changed."""

from __future__ import annotations

import json
import socket
import threading
import time
from collections.abc import Iterator
from http.client import HTTPConnection
from pathlib import Path

import pytest

from handouts.build.pipeline import make_site
from handouts.build.settings import Settings
from handouts.commands.posing import Bench
from handouts.commands.preview import HOST, PreviewState, handler_for, is_of_library, with_preview
from handouts.store.memo import Memo
from tests.server import PatientServer
from tests.site.browser import a_browser
from tests.small_library import TODAY, texts_with
from tests.test_cli import write

FOOT = "exercises/foot-lift.md"


@pytest.fixture
def shown(tmp_path: Path) -> PreviewState:
    """A preview of the small library, its figures drawn."""
    write(tmp_path / "lib")
    settings = Settings(library=tmp_path / "lib", out=tmp_path / "out", today=TODAY)
    preview = PreviewState(lambda before, _wanted: make_site(settings, before=before))
    preview.renew()
    return preview


@pytest.fixture
def server(shown: PreviewState, tmp_path: Path) -> Iterator[int]:
    """The port of a running preview."""
    running = PatientServer((HOST, 0), handler_for(shown, Bench(tmp_path / "lib")))
    threading.Thread(target=running.serve_forever, daemon=True).start()
    yield running.server_address[1]
    running.shutdown()
    running.server_close()


def get(port: int, path: str, host: str = "127.0.0.1") -> tuple[int, bytes, str]:
    """Status, body and type of an answer."""
    connection = HTTPConnection(HOST, port)
    connection.request("GET", path, headers={"Host": f"{host}:{port}"})
    answer = connection.getresponse()
    found = (answer.status, answer.read(), answer.headers["Content-Type"])
    connection.close()
    return found


def test_pages_and_sheets(server: int) -> None:
    """Pages are served with the preview's script; a sheet is laid out when asked for."""
    status, page, kind = get(server, "/en/exercises/foot-lift/")
    assert (status, kind) == (200, "text/html; charset=utf-8")
    assert b"/.preview/preview.js" in page and b"connect-src 'self'" in page
    status, sheet, kind = get(server, "/en/exercises/foot-lift/foot-lift-letter-standard.pdf")
    assert (status, kind, sheet[:5]) == (200, "application/pdf", b"%PDF-")


def test_unknown_page(server: int) -> None:
    """What is not there is the site's own 404 page."""
    status, page, _ = get(server, "/en/nothing/")
    assert status == 404 and b"<html" in page


def test_no_worker_keeps_a_page_of_the_preview(server: int) -> None:
    """In place of each worker stands one that takes itself and its caches away, so that no old page hides a change."""
    for path in ("/worker.js", "/en/my/worker.js"):
        status, script, kind = get(server, path)
        assert (status, kind) == (200, "text/javascript; charset=utf-8")
        assert b"registration.unregister()" in script and b"fetch" not in script


def test_other_names_are_not_served(server: int) -> None:
    """A name that another site made lead here gets nothing."""
    assert get(server, "/", host="evil.example")[0] == 403


def test_problems_are_shown_and_the_last_good_site_stays(shown: PreviewState, tmp_path: Path, server: int) -> None:
    """An error is in the news with its place; the page is still the good one."""
    write(tmp_path / "lib", texts_with(FOOT, ("tier: wake", "tier: woke")))
    shown.renew()
    news = json.loads(shown.news())
    assert news["problems"] == ["lib/exercises/foot-lift.md:4:7  'woke' is not declared in tiers.yaml. Did you mean 'wake'?"]
    assert get(server, "/en/exercises/foot-lift/")[0] == 200


def test_one_word_changes_its_pages_only(shown: PreviewState, tmp_path: Path) -> None:
    """A changed cue changes its own page and no other exercise's; nothing is made before it is asked for."""
    write(tmp_path / "lib", texts_with(FOOT, ("cues: [Sit tall.]", "cues: [Sit very tall.]")))
    before = {path: shown.find(path) for path in (f"en/exercises/{name}/index.html" for name in ("foot-lift", "leg-lift"))}
    shown.renew()
    assert shown.drawn == {}
    assert [path for path, page in before.items() if shown.find(path) != page] == ["en/exercises/foot-lift/index.html"]
    assert list(shown.drawn) == list(before)


def test_news_are_asked_for(shown: PreviewState, server: int) -> None:
    """The version at once, and another one after a change; no answer is held back."""
    for version in (1, 2):
        status, body, kind = get(server, "/.preview/news")
        assert (status, json.loads(body)["version"], kind) == (200, version, "application/json")
        shown.renew()


@pytest.mark.parametrize("path", ["http://[", "//[", "http://[::1", "/%", "/%ff%fe", "/en/\x7f", "*", "/" + "a/" * 400, "/..%2f..%2fetc/passwd", "/en/%00"])
def test_any_path_is_answered(path: str, server: int) -> None:
    """An address that is none gets an answer, and the server goes on; nothing is printed in the author's terminal."""
    with socket.create_connection((HOST, server), timeout=10) as connection:
        connection.sendall(f"GET {path} HTTP/1.1\r\nHost: {HOST}:{server}\r\nConnection: close\r\n\r\n".encode())
        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    assert answer.split()[1] in (b"400", b"404"), answer[:80]


def test_eight_tabs_load_and_follow(shown: PreviewState, server: int, tmp_path: Path) -> None:
    """A browser has six connections to a host: eight open tabs load all the same, and each shows a change."""
    with a_browser() as browser:
        context = browser.new_context()
        tabs = [context.new_page() for _ in range(8)]
        for tab in tabs:
            tab.goto(f"http://{HOST}:{server}/en/exercises/foot-lift/", timeout=20_000, wait_until="load")
        write(tmp_path / "lib", texts_with(FOOT, ("cues: [Sit tall.]", "cues: [Sit very tall.]")))
        shown.renew()
        for tab in tabs:
            tab.get_by_text("Sit very tall.").first.wait_for(timeout=20_000)
        write(tmp_path / "lib", texts_with(FOOT, ("tier: wake", "tier: woke")))
        shown.renew()
        tabs[0].locator(".preview-problems").get_by_text("is not declared in tiers.yaml").wait_for(timeout=20_000)


def test_what_a_build_writes_into_the_library_makes_nothing_new(tmp_path: Path) -> None:
    """Its own cache and lock, and the output of another command, must not wake the preview for ever."""
    for folder in ("build/site", "exercises", "other"):
        (tmp_path / folder).mkdir(parents=True)
    (tmp_path / "build/.handouts").touch()
    wakes = [path for path in (
        "build/site/index.html", "build/report.json", "build/.cache/a/b", "other/.cache/a", ".lock", ".git/index",
        "exercises/.handouts-0123456789abcdef.new", "exercises/a.md", "clinic.yaml",
    ) if is_of_library(tmp_path, None, str(tmp_path / path))]  # fmt: skip
    assert wakes == ["exercises/a.md", "clinic.yaml"]
    assert is_of_library(tmp_path, None, str(tmp_path.parent / "templates/page.html"))


def test_script_is_let_in_once() -> None:
    """Only the first policy, head and body are changed."""
    page = with_preview(b"<head><meta content=\"default-src 'none'; x\"></head><body></body>")
    assert page.count(b"preview.js") == page.count(b"preview.css") == page.count(b"connect-src") == 1


def test_figures_are_drawn_when_a_browser_asks(tmp_path: Path) -> None:
    """None before that; then those that a page shows, and the page is shown again; a PDF waits for its own.  In the end all is as in a build."""
    write(tmp_path / "lib", texts_with("exercises/leg-lift.md", ("base: sitting", "base: standing")))
    settings, memo = Settings(library=tmp_path / "lib", out=tmp_path / "out", today=TODAY, keep=False), Memo()
    shown = PreviewState(lambda before, wanted: make_site(settings, memo, before, wanted))
    shown.renew()
    drawn, page, pdf = "handouts.build.drawing:draw_one", "en/exercises/foot-lift/index.html", "en/exercises/leg-lift/leg-lift-letter-standard.pdf"
    assert shown.made and shown.made.undrawn == {"foot-lift", "leg-lift"} and drawn not in memo.made
    before = shown.find(page)
    assert shown.asked.is_set() and shown.wanted == {"foot-lift"}
    threading.Thread(target=shown.draw_asked, daemon=True).start()
    for _ in range(2000):
        if shown.version == 2:
            break
        time.sleep(0.01)
    assert (memo.made[drawn], shown.made.undrawn) == (1, {"leg-lift"})
    assert before != shown.find(page)
    whole = make_site(settings, memo)
    assert (shown.find(pdf) or b"").startswith(b"%PDF-") and not shown.made.undrawn
    assert {path: shown.find(path) for path in whole.pages} == dict(whole.pages)
