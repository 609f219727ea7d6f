"""The bench served and used: only its own page may ask, a save touches the figure's lines alone, and a drag that is saved passes ``check``."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator
from http.client import HTTPConnection
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from handouts.cli import main
from handouts.commands.posing import MOST_BYTES, Bench
from handouts.commands.preview import HOST, PreviewState, handler_for, with_preview
from tests.server import PatientServer
from tests.site.axe import violations
from tests.site.browser import a_browser
from tests.test_cli import write

FILE = "exercises/leg-lift.md"
FIGURE = """\
figure:   # drawn by us
  # both feet stand first
  base: sitting
  end-contacts: [foot.l floor, seat seat]   # the right one swings
  end: {hip.r: 90, knee.r: 60}
"""


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """A small library with a figure to pose."""
    write(tmp_path / "lib")
    path = tmp_path / "lib" / FILE
    text = path.read_text("utf-8")
    assert text.count("figure: {base: sitting}\n") == 1
    path.write_text(text.replace("figure: {base: sitting}\n", FIGURE), encoding="utf-8")
    return tmp_path / "lib"


@pytest.fixture
def port(library: Path) -> Iterator[int]:
    """The port of a preview that has nothing but the bench."""
    running = PatientServer((HOST, 0), handler_for(PreviewState(lambda *_: None), Bench(library)))  # type: ignore[arg-type,return-value]
    threading.Thread(target=running.serve_forever, daemon=True).start()
    yield running.server_address[1]
    running.shutdown()
    running.server_close()


def ask(port: int, path: str, body: bytes, **other: str | None) -> tuple[int, bytes]:
    """Status and body of the answer to a request of the page, with other headers."""
    headers = {"Host": f"{HOST}:{port}", "Origin": f"http://{HOST}:{port}", "Content-Type": "application/json", "Content-Length": str(len(body))}
    headers |= {name.replace("_", "-"): value for name, value in other.items() if value is not None}
    connection = HTTPConnection(HOST, port, timeout=20)
    connection.putrequest("POST", path, skip_host=True, skip_accept_encoding=True)
    for name, value in headers.items():
        if other.get(name.replace("-", "_"), "") is not None:
            connection.putheader(name, value)
    connection.endheaders(body)
    answer = connection.getresponse()
    found = (answer.status, answer.read())
    connection.close()
    return found


POSE = "/.preview/pose/leg-lift"
TEXT = json.dumps({"text": "base: standing\n"}).encode()


@pytest.mark.parametrize("other", [
    {"Origin": "https://evil.example"}, {"Origin": None}, {"Origin": "null"}, {"Host": "evil.example", "Origin": "http://evil.example"},
    {"Content_Type": "text/plain"}, {"Content_Type": None}, {"Origin": "http://127.0.0.1:1"},
])  # fmt: skip
def test_another_page_is_refused(port: int, library: Path, other: dict[str, str | None]) -> None:
    """A form or a script of another site asks nothing and saves nothing."""
    before = (library / FILE).read_bytes()
    assert ask(port, POSE, TEXT, **other)[0] == 403
    assert ask(port, POSE, json.dumps({"text": "base: supine\n", "save": ""}).encode(), **other)[0] == 403
    assert (library / FILE).read_bytes() == before


def test_what_is_asked_wrongly(port: int) -> None:
    """Too long, of no length, at another address, no JSON: an answer, and the server goes on."""
    assert ask(port, POSE, TEXT)[0] == 200
    assert ask(port, POSE, b"", Content_Length=str(MOST_BYTES + 1))[0] == 413
    assert ask(port, POSE, b"", Content_Length="many")[0] == 413
    assert ask(port, "/en/", TEXT)[0] == 404
    for body in (b"{", b"3", b"\xff"):
        assert json.loads(ask(port, POSE, body)[1])["refused"] == "This is no request of the bench."
    assert json.loads(ask(port, POSE, TEXT)[1])["problems"] == []


@pytest.mark.parametrize("slug", ["none", "..%2f..%2fclinic", "leg-lift.md", "gallery/none", "LEG-LIFT", "", "../exercises/leg-lift"])
def test_only_exercises_are_posed(port: int, slug: str) -> None:
    """Another name, a path that leads elsewhere, a movement that is not there: not found, and nothing is saved."""
    connection = HTTPConnection(HOST, port, timeout=20)
    connection.request("GET", f"/.preview/pose/{slug}")
    answer = connection.getresponse()
    assert answer.status == 404
    connection.close()
    found = json.loads(ask(port, f"/.preview/pose/{slug}", json.dumps({"text": "base: supine\n", "save": ""}).encode())[1])
    assert found["refused"] == "There is no file to save into."


def test_a_file_that_was_changed_meanwhile_is_not_written_over(library: Path) -> None:
    """The page says so, and the other change stays."""
    bench, path = Bench(library), library / FILE
    page = bench.page(POSE.lstrip("/")) or ""
    digest = page.partition('data-digest="')[2].partition('"')[0]
    path.write_bytes(path.read_bytes() + b"More.\n")
    before = path.read_bytes()
    found = json.loads(bench.reply(POSE.lstrip("/"), json.dumps({"text": "base: supine\n", "save": digest}).encode()))
    assert found["refused"].startswith("Not saved: the file was changed meanwhile.") and path.read_bytes() == before


def test_pages_lead_to_the_bench() -> None:
    """The preview of an exercise has a link; other pages have none."""
    page = b"<html><head></head><body></body></html>"
    assert b'href="/.preview/pose/leg-lift"' in with_preview(page, "en/exercises/leg-lift/index.html")
    assert b"/.preview/pose/" not in with_preview(page, "en/index.html")


def drag_mark(page: Page, mark: str, x: int, y: int) -> None:
    """Drag a mark by some pixels."""
    box = page.locator(f'[data-mark="{mark}"]').bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 12, box["y"] + 12)
    page.mouse.down()
    for share in (0.3, 0.6, 1.0):
        page.mouse.move(box["x"] + 12 + x * share, box["y"] + 12 + y * share)
    page.mouse.up()


def test_drag_a_foot_save_and_check(port: int, library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In Chromium: the foot is dragged, the text follows, the file has the new angles and every other byte, ``check`` finds no more than before."""
    path = library / FILE
    before = path.read_bytes()
    main(["check", str(library)])
    said = capsys.readouterr().out
    with a_browser() as browser:
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        errors: list[str] = []
        asked: list[str] = []
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(f"http://{HOST}:{port}{POSE}")
        expect(page.get_by_role("status")).to_have_text("No problem found.")
        drag_mark(page, "foot.r 2", 40, -30)
        expect(page.get_by_role("status")).to_have_text("Right foot moved. No problem found.")
        text = page.get_by_label("Text of the figure").input_value()
        assert "end: {hip.r: 90, knee.r: 60}" not in text and "end: {hip.r: " in text
        page.get_by_role("button", name=f"Save into {FILE}").click()
        expect(page.get_by_role("status")).to_have_text("Saved.")
        assert errors == [] and all(url.startswith(f"http://{HOST}:{port}/") for url in asked)
    after = path.read_bytes()
    end = text.partition("end: ")[2].partition("\n")[0].encode()
    assert after == before.replace(b"end: {hip.r: 90, knee.r: 60}", b"end: " + end) and after != before
    assert main(["check", str(library)]) == 0
    assert capsys.readouterr().out == said


def _place_of(page: Page, mark: str) -> tuple[float, float]:
    box = page.locator(f'[data-mark="{mark}"]').bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_drag_follows_and_nothing_jumps(port: int) -> None:
    """While a foot is dragged its joints follow; let go, the picture keeps its place; of marks in one place the chosen one moves, from anywhere."""
    with a_browser() as browser:
        page = browser.new_page(viewport={"width": 360, "height": 760})
        page.goto(f"http://{HOST}:{port}{POSE}")
        status = page.get_by_role("status")
        expect(status).to_have_text("No problem found.")
        knee = page.get_by_label("Right knee flexion (below 0: knee hyperextension) in degrees, picture 2")
        before, (x, y) = knee.input_value(), _place_of(page, "foot.r 2")
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 16, y - 12, steps=3)
        expect(knee).not_to_have_value(before)
        page.mouse.up()
        expect(status).to_contain_text("Right foot moved.")
        still, (x, y) = _place_of(page, "head 2"), _place_of(page, "hand.r 2")
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 24, _place_of(page, "head 2")[1] - 18, steps=3)
        page.mouse.up()
        expect(status).to_contain_text("Right hand moved.")  # now the drawing is higher, and its frame another one
        after = _place_of(page, "head 2")
        assert abs(after[0] - still[0]) < 4 and abs(after[1] - still[1]) < 4, (still, after)
        page.get_by_label("What a drag moves").select_option("hand.l 2")
        field, box = page.get_by_label("Text of the figure"), page.locator("#picture").bounding_box()
        text = field.input_value()
        assert box is not None
        page.mouse.move(box["x"] + 20, box["y"] + box["height"] - 12)
        page.mouse.down()
        page.mouse.move(box["x"] + 30, box["y"] + box["height"] - 40)
        page.mouse.up()
        expect(status).to_contain_text("Left hand moved.")
        assert field.input_value() != text and "l: " in field.input_value()


def test_of_marks_close_together_the_nearest_is_taken(port: int) -> None:
    """A pointer beside two marks takes the one that is nearer to it, whichever lies on top."""
    with a_browser() as browser:
        page = browser.new_page(viewport={"width": 360, "height": 760})
        page.goto(f"http://{HOST}:{port}{POSE}")
        expect(page.get_by_role("status")).to_have_text("No problem found.")
        marks = page.locator(".mark").evaluate_all("all => all.map(one => one.dataset.mark)")
        places = {mark: _place_of(page, mark) for mark in marks}
        pairs = [(abs(places[one][0] - places[two][0]) + abs(places[one][1] - places[two][1]), one, two) for one in marks for two in marks if one < two]
        _, one, two = min(pair for pair in pairs if pair[0] > 6)
        (x, y), (u, v) = places[one], places[two]
        for mark, share in ((one, 0.2), (two, 0.8)):
            page.mouse.move(x + (u - x) * share, y + (v - y) * share)
            page.mouse.down()
            assert page.locator(".mark.held").evaluate_all("all => all.map(one => one.dataset.mark)") == [mark]
            page.mouse.up()
            page.wait_for_timeout(50)


def test_the_bench_by_keys(port: int) -> None:
    """A mark is pushed with the arrows, a slider and a number set an angle, Undo takes each back; the live region tells it."""
    with a_browser() as browser:
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(f"http://{HOST}:{port}{POSE}")
        field, status = page.get_by_label("Text of the figure"), page.get_by_role("status")
        first = field.input_value()
        mark = page.get_by_role("button", name="Right foot, picture 2: push with the arrow keys")
        mark.focus()
        page.keyboard.press("ArrowUp")
        expect(status).to_have_text("Right foot moved. No problem found.")
        assert field.input_value() != first and mark.evaluate("one => one === document.activeElement")
        page.get_by_role("button", name="Undo").press("Enter")
        expect(field).to_have_value(first)
        number = page.get_by_label("Right knee flexion (below 0: knee hyperextension) in degrees, picture 2")
        number.fill("55")
        number.press("Tab")
        expect(field).to_have_value(first.replace("knee.r: 60", "knee.r: 55"))
        page.get_by_label("Right knee flexion (below 0: knee hyperextension), picture 2", exact=True).press("ArrowRight")
        expect(field).to_have_value(first.replace("knee.r: 60", "knee.r: 56"))
        page.get_by_role("button", name="Right knee flexion (below 0: knee hyperextension), picture 2: leave it out").press("Enter")
        expect(field).to_have_value(first.replace(", knee.r: 60", ""))
        field.fill("base: standin\n")
        expect(page.locator("#problems li")).to_have_text("line 1, column 7: 'standin' is not a base position. Did you mean 'standing'?")
        expect(status).to_have_text("1 problem.")


def test_contacts_things_and_words(port: int) -> None:
    """A contact is taken out and added, a thing added, base, view and picture 2 chosen; the text has what a person would write."""
    with a_browser() as browser:
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(f"http://{HOST}:{port}/.preview/pose/gallery/hip-flexion-standing")
        field = page.get_by_label("Text of the figure")
        expect(page.get_by_role("button", name="Save into")).to_have_count(0)
        field.fill("base: standing\n")
        expect(page.locator(".count").first).to_have_text("")
        page.locator("[data-contacts] summary").click()
        page.get_by_role("button", name="Take out the contact foot floor, picture 1").click()
        expect(field).to_have_value("base: standing\ncontacts: [none]\n")
        place = page.locator('.contacts[data-picture="1"]')
        for side in "rl":
            place.get_by_label("Part").select_option(f"toes.{side}")
            place.get_by_role("button", name="Add").click()
            expect(place.locator("li")).to_have_text(["toes.r floor ×" if side == "r" else "toes floor ×"])
        expect(field).to_have_value("base: standing\ncontacts: [toes floor]\n")
        page.locator("[data-props] summary").click()
        page.locator("#prop").select_option("wall")
        page.locator("#how").fill("front 0.5")
        page.locator("#add-prop").click()
        expect(field).to_have_value("base: standing\nprops: {wall: [front, 0.5]}\ncontacts: [toes floor]\n")
        page.get_by_label("View").select_option("front")
        page.locator("#second").select_option("yes")
        expect(field).to_have_value("base: standing\nview: front\nprops: {wall: [front, 0.5]}\ncontacts: [toes floor]\nend: {}\n")


@pytest.mark.parametrize("width", [360, 1280])
def test_widths_and_colours(port: int, width: int) -> None:
    """Nothing reaches over the edge, and axe-core finds nothing in light and dark, with every part opened."""
    with a_browser() as browser:
        context = browser.new_context(viewport={"width": width, "height": 760}, bypass_csp=True)
        page = context.new_page()
        page.goto(f"http://{HOST}:{port}{POSE}")
        expect(page.get_by_role("status")).to_have_text("No problem found.")
        page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert violations(page, ("light", "dark")) == []
