"""The PDF writer reaches nothing that was not declared with the document, says so, and gives the same bytes again."""

from __future__ import annotations

import gc
import io
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from handouts.paper import contained_writer
from handouts.paper.contained_writer import find_bad_links, render_pdf
from handouts.problems import Grade, PaperUnavailableError, Place, show_problem

pytestmark = pytest.mark.paper

PLACE = Place("content/exercises/test.md", 3, 5)
SEEN: list[tuple[str, str]] = []
WATCHING = [False]


def watch(event: str, args: tuple[object, ...], watching: list[bool] = WATCHING) -> None:
    """Keeps what is opened and what is connected to, while a test watches; a hook outlives its module."""
    if watching[0] and event in ("open", "socket.connect", "socket.getaddrinfo"):
        SEEN.append((event, str(args[0] if event == "open" else args)))


sys.addaudithook(watch)


def page(body: str, head: str = "") -> str:
    """An HTML document in English."""
    return f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Test</title>{head}</head><body><h1>Test</h1>{body}</body></html>'


PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c49444154789c63f8ffff3f0005fe02fe0def46b8"
    "0000000049454e44ae426082"
)


@pytest.fixture
def jail(tmp_path: Path) -> Iterator[Path]:
    """A folder with a picture, a style sheet and a secret, and a watch over every file opened."""
    (tmp_path / "secret.txt").write_text("SECRET")
    (tmp_path / "secret.css").write_text("h1 { color: red }")
    (tmp_path / "secret.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path id="x" d="M0 0h9v9z"/></svg>')
    (tmp_path / "secret.eps").write_text("%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n")
    (tmp_path / "secret.png").write_bytes(PNG)
    render_pdf(page("<p>Warm</p>"), {}, PLACE)
    SEEN.clear()
    WATCHING[0] = True
    yield tmp_path
    WATCHING[0] = False


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9"><title>T</title>{}</svg>'
ROUTES = {
    "link attachment": page("", '<link rel="attachment" href="{jail}/secret.txt">'),
    "a attachment": page('<a rel="attachment" href="{jail}/secret.txt">x</a>'),
    "img": page('<img alt="x" src="{jail}/secret.png">'),
    "object": page('<object data="{jail}/secret.png"></object>'),
    "embed": page('<embed src="{jail}/secret.png">'),
    "background": page("", "<style>h1 {{ background: url({jail}/secret.png) }}</style>"),
    "list-style-image": page("<ul><li>x</li></ul>", "<style>li {{ list-style-image: url({jail}/secret.png) }}</style>"),
    "content": page("", "<style>h1::before {{ content: url({jail}/secret.png) }}</style>"),
    "font-face": page("", "<style>@font-face {{ font-family: X; src: url({jail}/secret.txt) }} h1 {{ font-family: X }}</style>"),
    "font-face local": page("", '<style>@font-face {{ font-family: X; src: local("DejaVu Sans") }} h1 {{ font-family: X }}</style>'),
    "base": page('<img alt="x" src="secret.png">', '<base href="{jail}/">'),
    "svg image": page(SVG.format('<image xlink:href="{jail}/secret.png" width="9" height="9"/>')),
    "svg image href": page(SVG.format('<image href="{jail}/secret.png" width="9" height="9"/>')),
    "import file": page("", "<style>@import url({jail}/secret.css);</style>"),
    "import host": page("", "<style>@import url(http://127.0.0.1:9/x.css);</style>"),
    "stylesheet": page("", '<link rel="stylesheet" href="{jail}/secret.css">'),
    "host": page('<img alt="x" src="http://127.0.0.1:9/x.png">'),
    "data": page('<img alt="x" src="data:text/plain,x">'),
    "eps": page('<img alt="x" src="{jail}/secret.eps">'),
    "undeclared name": page('<img alt="x" src="secret.png">'),
    "link javascript": page('<a href="javascript:app.alert(1)">x</a>'),
    "link file": page('<a href="{jail}/secret.txt">x</a>'),
    "link data": page('<a href="data:text/html,x">x</a>'),
}
"""Each is refused.  The routes that WeasyPrint 70 leaves open by default, and their neighbours."""
INERT = {
    "iframe": page('<iframe src="{jail}/secret.txt"></iframe>'),
    "svg use": page(SVG.format('<use xlink:href="{jail}/secret.svg#x"/>')),
}
"""WeasyPrint passes these over: nothing is opened, and the page is made without them."""


@pytest.mark.parametrize("route", ROUTES)
def test_undeclared_address_is_refused(route: str, jail: Path) -> None:
    """No file of the jail is opened, no host is asked, there is no PDF, and a problem names the address."""
    laid = render_pdf(ROUTES[route].replace("{{", "{").replace("}}", "}").replace("{jail}", jail.as_uri()), {}, PLACE)
    assert laid.pdf == b""
    assert laid.problems
    assert {problem.rule for problem in laid.problems} <= {"paper-fetch", "paper-link", "paper-log"}
    assert all(problem.place == PLACE and problem.grade is Grade.ERROR for problem in laid.problems)
    assert [what for what in SEEN if str(jail) in what[1] or what[0] != "open"] == []


WHOLE = {
    "svg image": "content/exercises/test.md:3:5: error: the sheet asks for '{jail}/secret.png', which was not declared. Take the address out of the text or the figure. [paper-fetch]",
    "import host": "content/exercises/test.md:3:5: error: the sheet asks for 'http://127.0.0.1:9/x.css', which was not declared. Take the address out of the text or the figure. [paper-fetch]",
    "link javascript": "content/exercises/test.md:3:5: error: the sheet links to 'javascript:app.alert(1)'. Use an address that begins with https:. [paper-link]",
    "a attachment": "content/exercises/test.md:3:5: error: the sheet links to '{jail}/secret.txt'. Use an address that begins with https:. [paper-link]",
    "undeclared name": "content/exercises/test.md:3:5: error: the sheet asks for 'https://assets.invalid/secret.png', which was not declared. Take the address out of the text or the figure. [paper-fetch]",
}


@pytest.mark.parametrize("route", WHOLE)
def test_whole_message(route: str, jail: Path) -> None:
    """Word for word, also where the writer itself swallows the refusal: inside an inline SVG."""
    laid = render_pdf(ROUTES[route].replace("{{", "{").replace("}}", "}").replace("{jail}", jail.as_uri()), {}, PLACE)
    assert show_problem(laid.problems[0]) == WHOLE[route].replace("{jail}", jail.as_uri())


def test_second_lock_for_links(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the first look at the HTML let through is seen in the pages that were laid out."""
    monkeypatch.setattr(contained_writer, "find_bad_links", lambda html: ())
    monkeypatch.setattr(contained_writer, "bad_links_in", lambda roots: ())
    for link in ('<a href="javascript:x">x</a>', '<a href="file:///x">x</a>', '<a href="http://clinic.example/">x</a>'):
        laid = render_pdf(page(link), {}, PLACE)
        assert laid.pdf == b""
        assert [problem.rule for problem in laid.problems] == ["paper-link"], link
    assert render_pdf(page('<a href="https://clinic.example/">x</a> <a href="#x">y</a><p id="x">z</p>'), {}, PLACE).problems == ()


def test_whatever_the_writer_gives_up_with(monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault inside the writer of a kind that nobody thought of is a problem of that sheet."""
    monkeypatch.setattr(contained_writer, "_find_anchors", lambda pages: None.x)  # type: ignore[attr-defined]
    laid = render_pdf(page("<p>x</p>"), {}, PLACE)
    assert laid.pdf == b""
    assert show_problem(laid.problems[0]) == (
        "content/exercises/test.md:3:5: error: the PDF writer says: it gave up with AttributeError 'NoneType' object has no attribute 'x'. "
        "Change the text or the figure that it names. [paper-log]"
    )


def test_faulty_styles_are_our_own_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """A print style that the writer does not know is a mistake of the program, not of an author."""
    paper_assets = replace(contained_writer.load_paper_assets(), style="h1 { colour: red }")
    with pytest.raises(ValueError, match="the print styles are faulty: Ignored `colour: red `"):
        render_pdf(page("<p>x</p>"), {}, PLACE, paper_assets)


def test_silent_at_the_end() -> None:
    """A process in which a PDF was made ends without a word: neither the watch nor the writer's fonts complain."""
    program = "import tests.paper.test_contained_writer as room; room.WATCHING[0] = True; room.render_pdf(room.page('x'), {}, room.PLACE)"
    done = subprocess.run([sys.executable, "-c", program], cwd=Path(__file__).parents[2], capture_output=True, text=True, check=True)
    assert done.stderr == ""


@pytest.mark.parametrize("route", INERT)
def test_inert_route_opens_nothing(route: str, jail: Path) -> None:
    """Nothing of the jail is opened or shown."""
    laid = render_pdf(INERT[route].replace("{jail}", jail.as_uri()), {}, PLACE)
    assert [what for what in SEEN if str(jail) in what[1] or what[0] != "open"] == []
    assert b"SECRET" not in laid.pdf


def test_external_entity_in_a_declared_picture_is_not_read(jail: Path) -> None:
    """A declared SVG with an entity that names a file: refused, with a problem, nothing opened."""
    svg = f'<!DOCTYPE svg [<!ENTITY e SYSTEM "{jail.as_uri()}/secret.txt">]><svg xmlns="http://www.w3.org/2000/svg"><text>&e;</text></svg>'
    laid = render_pdf(page('<img alt="x" src="a.svg">'), {"a.svg": svg.encode()}, PLACE)
    assert laid.pdf == b"" and laid.problems
    assert [what for what in SEEN if str(jail) in what[1]] == []


def test_declared_asset_is_served() -> None:
    """A declared picture stands in the PDF."""
    laid = render_pdf(page('<img alt="A red dot" src="dot.png">'), {"dot.png": PNG}, PLACE)
    assert laid.problems == ()
    with pikepdf.open(io.BytesIO(laid.pdf)) as pdf:
        assert len(pdf.pages[0].get_images()) == 1


def test_missing_glyph_is_a_problem() -> None:
    """A character that no font of the sheets has is named."""
    laid = render_pdf(page("<p>Lift → hold</p>"), {}, PLACE)
    assert laid.pdf == b""
    assert [problem.what for problem in laid.problems] == ['no font of the sheets has the character "→" (U+2192)']


def test_style_fault_is_a_problem() -> None:
    """What the writer logs is not lost."""
    laid = render_pdf(page("", "<style>h1 { colour: red }</style>"), {}, PLACE)
    assert [problem.rule for problem in laid.problems] == ["paper-log"]


def test_log_of_others_is_left_alone() -> None:
    """After a document the writer's log is as it was."""
    import logging

    logger = logging.getLogger("weasyprint")
    before = (list(logger.handlers), logger.propagate)
    render_pdf(page("<p>x</p>"), {}, PLACE)
    assert (list(logger.handlers), logger.propagate) == before


def test_text_too_deep_is_a_problem() -> None:
    """A document on which the writer gives up is named, and the next one is made."""
    laid = render_pdf(page("<div>" * 400 + "x" + "</div>" * 400), {}, PLACE)
    assert laid.pdf == b"" and "gave up" in laid.problems[0].what
    assert render_pdf(page("<p>x</p>"), {}, PLACE).pdf


@pytest.mark.parametrize("address", ["https://clinic.example/", "tel:555-0100", "mailto:desk@clinic.example", "#part"])
def test_good_link(address: str) -> None:
    """Links to the web, a phone, a mailbox and into the document stand."""
    assert find_bad_links(f'<a href="{address}">x</a>') == ()


@pytest.mark.parametrize("address", ["JavaScript:x", " javascript:x", "java\tscript:x", "file:///x", "data:,x", "http://x", "//x", "x.html", "?q"])
def test_bad_link(address: str) -> None:
    """Anything else does not, however it is spelt."""
    assert find_bad_links(f'<a href="{address}">x</a>') == (address.strip(),)


def test_same_bytes_again() -> None:
    """Twice in one process, with another document between: the same bytes."""
    first = render_pdf(page("<p>Left &amp; right</p>"), {}, PLACE).pdf
    render_pdf(page("<p>مرحبا 膝盖 Привет</p>"), {}, PLACE)
    assert render_pdf(page("<p>Left &amp; right</p>"), {}, PLACE).pdf == first


@pytest.mark.parametrize(
    "text", ["Seán Žižek Łódź ñandú", "Nâng gót chân lên từ từ", "Поднимите пятку медленно", "慢慢抬起脚踵，屈膝", "ارفع كعبك ببطء"]
)
def test_text_of_each_script_comes_back(text: str) -> None:
    """Several families in one document do not garble one another: poppler reads what was written."""
    import unicodedata

    from tests.paper.making import text_of

    laid = render_pdf(page(f"<p>{text}</p><p>Latin beside it, <b>bold</b> too.</p>"), {}, PLACE)
    assert laid.problems == ()
    said = unicodedata.normalize("NFKC", text_of(laid.pdf)).translate(dict.fromkeys(range(8234, 8239)))
    assert unicodedata.normalize("NFKC", text) in said and "Latin beside it, bold too." in said


def test_missing_library_is_one_clear_message(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where Pango is missing the message says what to install."""
    import builtins

    real = builtins.__import__

    def without(name: str, *args: object, **values: object) -> object:
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'\nmore")
        return real(name, *args, **values)  # type: ignore[arg-type]

    contained_writer.load_writer.cache_clear()
    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(PaperUnavailableError, match="apt-get install libpango"):
        contained_writer.load_writer()
    monkeypatch.undo()
    contained_writer.load_writer.cache_clear()


def test_line_is_not_broken_after_its_first_word() -> None:
    """Where bold words follow a text that just fills its line, the line is whole: the text stands in an element of its own."""
    from tests.paper.making import text_of

    item = '<li style="width: {}mm"><span>La espalda se levanta de la colchoneta.</span> <strong>Doble las rodillas.</strong></li>'
    widths = [70 + step / 10 for step in range(60)]
    laid = render_pdf(page("<ul>" + "".join(item.format(width) for width in widths) + "</ul>"), {}, PLACE)
    assert laid.problems == ()
    assert [line for line in text_of(laid.pdf, "-raw").splitlines() if line.strip() == "La"] == []


def test_collector_is_as_it_was() -> None:
    """Off while a page is laid out; afterwards on or off as before, also where the writer gives up."""
    for was in (True, False):
        (gc.enable if was else gc.disable)()
        try:
            for body in ("<p>x</p>", '<img alt="x" src="https://other.example/x.png">'):
                render_pdf(page(body), {}, PLACE)
                assert gc.isenabled() is was
        finally:
            gc.enable()


def test_a_drawing_that_is_no_xml_stays_where_it_is() -> None:
    """It is laid out by the writer itself; what it asks for is refused there too."""
    plain = '<svg viewBox="0 0 9 9" width="9" height="9"><path d="M0 0h9v9z"/><desc>a<br>b</desc></svg>'
    assert render_pdf(page(plain), {}, PLACE).pdf
    laid = render_pdf(page(plain.replace("<path", '<image href="https://other.example/x.png"/><path')), {}, PLACE)
    assert laid.pdf == b"" and laid.problems[0].rule == "paper-fetch"
