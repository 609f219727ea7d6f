"""Reading a QR code at the next visit: Chromium's false camera films the real sheet, zxing reads what the page sees.

Chromium on Linux has no reader of codes of its own, so the page is given one that hands each picture to zxing.
"""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect

from handouts.bundle.link import patient_link
from handouts.clinician.document import picked_document, picked_setting
from handouts.paper.laying import lay_out_document
from handouts.words.wording import Wording
from tests.bundle.sample import bundle_of, pick_of
from tests.clinician.making import EDITION, PaperDrawings, code_of, libraries
from tests.clinician.photograph import photograph
from tests.clinician.test_bundle_page import add, field, page_address, see_titles
from tests.kept import kept
from tests.site.browser import a_browser
from tests.site.test_browser import Watched

pytestmark = [pytest.mark.browser, pytest.mark.paper]

BUNDLE = bundle_of(pick_of("sit", sets=2, reps=12), pick_of("stand", rest_seconds=45), location="main", language="en", weeks=3)
FILM = (1280, 720)
READER = """
window.BarcodeDetector = class {
  static async getSupportedFormats() { return ["qr_code"]; }
  async detect(source) {
    if (window.instead) return window.instead();
    const canvas = document.createElement("canvas");
    canvas.width = source.videoWidth || source.width;
    canvas.height = source.videoHeight || source.height;
    canvas.getContext("2d").drawImage(source, 0, 0);
    return (await window.readCode(canvas.toDataURL())).map((rawValue) => ({ rawValue }));
  }
};
"""
"""In place of the browser's reader (W3C Shape Detection API): gives the picture to zxing; or what a test says instead."""
STREAMS = """
window.streams = [];
if (navigator.mediaDevices) {
  const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
  navigator.mediaDevices.getUserMedia = async (wish) => {
    const stream = await ask(wish);
    window.streams.push(stream);
    return stream;
  };
}
"""
"""Keeps every stream that the page was given, so that a test can see whether it is off."""
STATES = "streams.flatMap((stream) => stream.getTracks()).map((track) => track.readyState)"
NO_CAMERA = "The camera could not be used. Paste the link instead, or open a picture of the code."
NO_BUNDLE = "No bundle code can be read from this QR code. Nothing was opened."


def the_sheet() -> Image.Image:
    """A photograph of the real sheet of the bundle."""
    setting = picked_setting(BUNDLE, libraries()[0], Wording("en"), PaperDrawings(), EDITION).on("letter", "standard")
    laid = kept(lay_out_document, picked_document(setting, BUNDLE, code_of(BUNDLE)))
    assert laid.pdf
    return photograph(laid.pdf)


def film(picture: Image.Image) -> bytes:
    """A still picture as a film without end, as Chromium's false camera plays it (YUV4MPEG2)."""
    width, height = FILM
    grey = (width // 2) * (height // 2)
    frame = b"FRAME\n" + picture.convert("L").tobytes() + b"\x80" * (2 * grey)
    return f"YUV4MPEG2 W{width} H{height} F10:1 Ip A1:1 C420jpeg\n".encode() + frame * 2


@pytest.fixture(scope="module")
def sheet() -> Image.Image:
    return the_sheet()


@pytest.fixture(scope="module")
def browser(sheet: Image.Image, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """A browser whose camera sees the upper part of the sheet, where the code is."""
    place = tmp_path_factory.mktemp("camera") / "sheet.y4m"
    (found,) = zxingcpp.read_barcodes(sheet)
    left, top = max(0, found.position.top_left.x - FILM[0] // 2), max(0, found.position.top_left.y - FILM[1] // 2)
    place.write_bytes(film(sheet.crop((left, top, left + FILM[0], top + FILM[1]))))
    with a_browser("--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream", f"--use-file-for-fake-video-capture={place}") as chromium:
        yield chromium


def read_code(address: str) -> list[str]:
    """What zxing reads in a picture in a data address."""
    with Image.open(io.BytesIO(base64.b64decode(address.partition(",")[2]))) as picture:
        return [found.text for found in zxingcpp.read_barcodes(picture.convert("L"))]


@contextmanager
def a_page(browser: Browser, folder: Path, *scripts: str) -> Iterator[Watched]:
    """The bundle page of a browser with a reader, changed by scripts; it complains of nothing."""
    context: BrowserContext = browser.new_context(viewport={"width": 360, "height": 740})
    context.expose_function("readCode", read_code)
    for script in (STREAMS, READER, *scripts):
        context.add_init_script(script)
    watched = Watched(context.new_page())
    watched.page.goto(page_address(folder))
    yield watched
    context.close()
    assert watched.complaints == []


def start(page: Page) -> None:
    """Opens the camera."""
    page.get_by_role("button", name="Scan a code").click()


def see_streams(page: Page, states: list[str]) -> None:
    """Waits until the streams that the page was given are in these states; the page's own policy lets no test wait inside it."""
    for _ in range(200):
        if page.evaluate(STATES) == states:
            return
        page.wait_for_timeout(100)
    assert page.evaluate(STATES) == states


def see_camera_on(page: Page) -> None:
    """The panel is open and one stream runs."""
    see_streams(page, ["live"])
    expect(page.locator("#camera")).to_be_visible()


def see_camera_off(page: Page) -> None:
    """The panel is closed, and every stream that was ever given is off."""
    expect(page.locator("#camera")).to_be_hidden()
    see_streams(page, ["ended"])
    assert page.evaluate("document.getElementById('film').srcObject") is None


def test_the_sheet_in_front_of_the_camera_is_opened(browser: Browser, folder: Path) -> None:
    """The picks and doses of the sheet; the camera is off at once; nothing but the draft is kept, nothing is asked for."""
    with a_page(browser, folder) as watched:
        page = watched.page
        before = page.evaluate("[Object.keys(localStorage), Object.keys(sessionStorage)]")
        asked = len(watched.requests)
        start(page)
        see_titles(page, ["Sit tall", "Stand up"])
        see_camera_off(page)
        assert (field(page, "sets", "S2T3"), field(page, "reps", "S2T3")) == ("2", "12")
        expect(page.locator("#difference")).to_have_text("Nothing changed.")
        expect(page.get_by_role("button", name="Scan a code")).to_be_focused()
        local, tab = page.evaluate("[Object.keys(localStorage), Object.keys(sessionStorage)]")
        assert (local, [each for each in tab if not each.endswith(" picked")]) == tuple(before)  # the codes of what is picked, for other pages in this tab
        beside = ("/assets/figure-", "/assets/sheet", "/assets/book.", "/assets/atkinson-", "/assets/noto-", "/en/sheets/standard/index.html")  # pictures, and the sheet beside the list
        assert [each.url for each in watched.requests[asked:] if not any(part in each.url for part in beside) and not each.url.startswith("blob:")] == []


@pytest.mark.parametrize("close", ["button", "escape", "hidden", "pasted"])
def test_the_camera_is_off_when_the_panel_is_closed(browser: Browser, folder: Path, close: str) -> None:
    """By its button, by Escape, when the page is hidden, and when something was opened by hand."""
    with a_page(browser, folder, "window.instead = async () => [];") as watched:
        page = watched.page
        start(page)
        see_camera_on(page)
        if close == "button":
            page.get_by_role("button", name="Stop the camera").click()
        elif close == "escape":
            page.keyboard.press("Escape")
        elif close == "hidden":
            page.evaluate("Object.defineProperty(document, 'hidden', { value: true }); document.dispatchEvent(new Event('visibilitychange'))")
        else:
            page.locator("#paste").fill(code_of(BUNDLE))
            page.keyboard.press("Enter")
            see_titles(page, ["Sit tall", "Stand up"])
        see_camera_off(page)


def test_the_camera_is_off_when_the_page_is_left(browser: Browser, folder: Path) -> None:
    """What the page does as it is left has ended the stream."""
    with a_page(browser, folder, "window.instead = async () => [];") as watched:
        page = watched.page
        start(page)
        see_camera_on(page)
        page.evaluate(f"addEventListener('pagehide', () => sessionStorage.setItem('left', {STATES}.join()))")
        page.goto((folder / "en/index.html").as_uri())
        assert page.evaluate("sessionStorage.getItem('left')") == "ended"


def test_a_camera_that_comes_too_late_is_switched_off(browser: Browser, folder: Path) -> None:
    """Leave was given only after the panel was closed: the stream ends at once, and nothing is said."""
    late = "const ask = navigator.mediaDevices.getUserMedia; navigator.mediaDevices.getUserMedia = async (wish) => { await new Promise((go) => { window.allow = go; }); return ask(wish); };"
    with a_page(browser, folder, late) as watched:
        page = watched.page
        start(page)
        page.get_by_role("button", name="Stop the camera").click()
        page.evaluate("allow()")
        see_camera_off(page)
        expect(page.locator("#paste-note")).to_have_text("")
        see_titles(page, [])


@pytest.mark.parametrize("fault", ["navigator.mediaDevices.getUserMedia = async () => { throw new DOMException('no', 'NotAllowedError'); };",
                                   "window.instead = async () => { throw new DOMException('no', 'NotSupportedError'); };"])
def test_a_refused_camera_or_a_broken_reader_is_told(browser: Browser, folder: Path, fault: str) -> None:
    """The words name what can be done instead, and that can be done."""
    with a_page(browser, folder, fault) as watched:
        page = watched.page
        page.get_by_role("button", name="Scan a code").click()
        expect(page.locator("#paste-note")).to_have_text(NO_CAMERA)
        expect(page.locator("#camera")).to_be_hidden()
        expect(page.get_by_role("button", name="Open a picture of the code")).to_be_visible()
        assert set(page.evaluate(STATES)) <= {"ended"}


@pytest.mark.parametrize(("text", "words"), [
    ("https://clinic.example/en/exercises/sit/index.html", NO_BUNDLE),
    ("WIFI:T:WPA;S=name;P=secret;;", NO_BUNDLE),
    ("<img src=x onerror=alert(1)>", NO_BUNDLE),
    ("https://clinic.example/en/my/#", NO_BUNDLE),
    ("damaged", NO_BUNDLE),
])  # fmt: skip
def test_a_damaged_or_foreign_code_is_refused_in_words(browser: Browser, folder: Path, text: str, words: str) -> None:
    """The camera is off, the picks stay, and the page says why."""
    shown = code_of(BUNDLE)[:-1] + ("2" if code_of(BUNDLE)[-1] != "2" else "3") if text == "damaged" else text
    with a_page(browser, folder) as watched:
        page = watched.page
        add(page, "walk")
        page.evaluate("text => { window.instead = async () => [{ rawValue: text }]; }", shown)
        start(page)
        expect(page.locator("#paste-note")).to_have_text(words)
        see_camera_off(page)
        see_titles(page, ["Walk"])


def test_of_several_codes_the_bundle_is_opened(browser: Browser, folder: Path) -> None:
    """A code of something else beside it does not stand in the way."""
    with a_page(browser, folder) as watched:
        link = patient_link(libraries()[0].clinic, "en", code_of(BUNDLE))
        watched.page.evaluate("link => { window.instead = async () => [{ rawValue: '' }, { rawValue: 'https://other.example/' }, { rawValue: link }]; }", link)
        start(watched.page)
        see_titles(watched.page, ["Sit tall", "Stand up"])


def test_a_picture_of_the_code(browser: Browser, folder: Path, sheet: Image.Image, tmp_path: Path) -> None:
    """A photograph from a file is opened; one without a code, and a file that is no picture, are refused in words."""
    sheet.save(tmp_path / "sheet.png")
    Image.new("L", (400, 300), 200).save(tmp_path / "wall.png")
    (tmp_path / "text.png").write_text("no picture")
    with a_page(browser, folder) as watched:
        page = watched.page
        for name in ("wall.png", "text.png"):
            page.locator("#picture").set_input_files(tmp_path / name)
            expect(page.locator("#paste-note")).to_have_text("No QR code was found in this picture.")
            page.locator("#open").click()
            expect(page.locator("#paste-note")).not_to_have_text("No QR code was found in this picture.")
        page.locator("#picture").set_input_files(tmp_path / "sheet.png")
        see_titles(page, ["Sit tall", "Stand up"])
        expect(page.locator("#paste-note")).to_have_text("")
        assert page.evaluate(STATES) == []


@pytest.mark.parametrize(("lack", "seen"), [
    ("delete window.BarcodeDetector;", (False, False)),
    ("BarcodeDetector.getSupportedFormats = async () => ['ean_13'];", (False, False)),
    ("BarcodeDetector.getSupportedFormats = async () => { throw new Error('no'); };", (False, False)),
    ("delete Navigator.prototype.mediaDevices;", (False, True)),
    ("", (True, True)),
])  # fmt: skip
def test_nothing_is_shown_that_the_browser_cannot_do(browser: Browser, folder: Path, lack: str, seen: tuple[bool, bool]) -> None:
    """Without a reader there are no buttons; without a camera only the one for a picture."""
    with a_page(browser, folder, lack) as watched:
        page = watched.page
        page.evaluate("new Promise((done) => setTimeout(done, 100))")
        assert (page.locator("#scan").is_visible(), page.locator("#scan-picture").is_visible()) == seen
        expect(page.locator("#camera")).to_be_hidden()
