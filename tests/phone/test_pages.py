"""The patient's pages as files: the page itself, what the worker is told, the manifest, the scripts, the icons."""

from __future__ import annotations

import json
import re
from hashlib import sha256
from html import escape
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from handouts.phone.icon import IconError, icon_png
from handouts.phone.page_data import phrases_used
from handouts.phone.picture import NotAFigureError, description_of, picture_tree
from handouts.phone.view_tree import markup_trees
from handouts.site.assets import MADE_SCRIPTS
from handouts.site.worker import write_worker
from handouts.templating.assets import read_templates
from handouts.words.phrases import ROOMS
from handouts.words.wording import Wording
from tests.phone.making import MIRRORED, make_phone_site
from tests.site.making import write_site
from tests.site.validator import ask_validator

DATA_BLOCK = "Inline script violates Content Security Policy"
"""Said of ``type="application/json"`` too, which is no script (HTML, "prepare the script element"); browsers differ."""


def book_of(language: str) -> dict[str, Any]:
    """What the page of a language holds for its script."""
    page = make_phone_site()[f"{language}/my/index.html"].decode()
    found: dict[str, Any] = json.loads(re.findall(r'<script type="application/json" id="book">(.*?)</script>', page)[0])
    return found


def later_of(language: str) -> dict[str, Any]:
    """What comes with the rest of the page's script, by name."""
    [text] = [data.decode() for path, data in make_phone_site().items() if path.startswith(f"assets/phone-words.{language}.")]
    return {name: json.loads(value) for name, value in re.findall(r'^\(globalThis\.handoutsWords \?\?= \{\}\)\["(\w+)"\] = (.*);$', text, re.MULTILINE)}


def worker_lists(language: str) -> tuple[str, dict[str, str], list[str], dict[str, list[str]]]:
    """Version, hashes of pages, shell and media that a worker is filled with."""
    text = make_phone_site()[f"{language}/my/worker.js"].decode()
    version, pages, shell, media = (json.loads(re.findall(rf"^const {name} = (.*);$", text, re.MULTILINE)[0]) for name in ("VERSION", "PAGES", "SHELL", "MEDIA"))
    return version, pages, shell, media


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_the_worker_names_files_of_this_build_with_their_hashes(language: str) -> None:
    """Every file is there, its name begins with its own SHA-256, and the page's hash is that of the page."""
    files = make_phone_site()
    _, pages, (home, *shell), media = worker_lists(language)
    assert (home, pages) == ("index.html", {"index.html": sha256(files[f"{language}/my/index.html"]).hexdigest()[:16]})
    paths = [path.removeprefix("../../") for path in (*shell, *(path for each in media.values() for path in each))]
    assert len(paths) > 15
    for path in paths:
        assert sha256(files[path]).hexdigest().startswith(path.split(".")[-2]), path


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_the_worker_keeps_all_that_the_page_names(language: str) -> None:
    """Style sheets, scripts and the addresses in the book: nothing that a session needs is left out."""
    page = make_phone_site()[f"{language}/my/index.html"].decode()
    _, _, shell, media = worker_lists(language)
    named = set(re.findall(r'<(?:link rel="(?:stylesheet|icon)"|script)[^>]*(?:href|src)="([^"]+)"', page))
    assert named | {book_of(language)["more"], book_of(language)["later"], book_of(language)["style"]} <= set(shell)
    book, rest = book_of(language)["exercises"], later_of(language)["exercises"]
    assert set(book) == set(rest)
    assert any(other for entry in rest.values() for other, _ in entry["easier"])
    for code, entry in rest.items():
        both = (code, *(other for other, _ in entry["easier"] if other))
        assert set(media[code]) == {path for each in both for path in (book[each]["picture"], rest[each]["words"], rest[each]["figure"])}


def test_another_version_is_another_worker() -> None:
    """One changed cue changes the worker's bytes, so that browsers see it; the same content gives the same bytes."""
    one, two = make_phone_site()["en/my/worker.js"], make_phone_site("AAAAAA", " and calm")["en/my/worker.js"]
    assert one != two
    make_phone_site.cache_clear()
    assert make_phone_site()["en/my/worker.js"] == one


def test_a_worker_without_its_blanks_is_refused() -> None:
    """A template that lost a blank does not become a worker that keeps nothing."""
    template = read_templates()["scripts/worker.js"].decode()
    with pytest.raises(ValueError, match="one place for its pages"):
        write_worker(template.replace('{ "PAGES": "" }', "{}"), {}, [], {})


def as_html(tree: Any) -> str:
    """A tree as the page's script makes it."""
    if isinstance(tree, str):
        return escape(tree)
    name, attributes, *children = tree
    inside = "".join(as_html(child) for child in (children[0] if children else []))
    said = "".join(f' {key}="{escape(value)}"' for key, value in attributes.items())
    return f"<{name}{said}>" + ("" if name in ("input", "img", "br") else f"{inside}</{name}>")


@pytest.mark.parametrize("language", ["en", MIRRORED])
def test_what_waits_for_a_tap_comes_with_it(language: str) -> None:
    """The page that opens holds the list and what may stand in its place; session, its side views, its end and the log are made later, with all their words."""
    page = make_phone_site()[f"{language}/my/index.html"].decode()
    assert re.findall(r'<div id="(\w+)" class="view"', page) == ["empty", "refused", "offline", "list"]
    views = later_of(language)["views"]
    assert [view[1]["id"] for view in views] == ["session", "hurts", "hard", "ending", "after", "log"]
    whole = "".join(map(as_html, views))
    say = Wording(language).say
    for phrase in ("phone.prop", "phone.hurts", "phone.ending_now", "phone.ask_pain", "phone.log_where", "phone.erase_ask", "site.pain_heading"):
        assert escape(say(phrase)) in whole, phrase


def test_a_tree_says_what_the_markup_says() -> None:
    """Attributes, texts, elements without an end; space that only breaks a line is gone.  An element that is not closed is told."""
    assert markup_trees('<p class="a" hidden>One &amp; <b>two</b> three\n<input type="checkbox"> <i></i>\n</p>\n') == [
        ["p", {"class": "a", "hidden": ""}, ["One & ", ["b", {}, ["two"]], " three ", ["input", {"type": "checkbox"}], " ", ["i", {}]]]
    ]
    for wrong, told in (("<p><b>x</p>", "</p> closes <b>"), ("<p>x", "<p> is not closed")):
        with pytest.raises(ValueError, match=told):
            markup_trees(wrong)


def test_the_page_is_valid_html(tmp_path: Path) -> None:
    """The outside validator finds nothing, with what a tap adds; the mirrored page is English in disguise, which it would point out."""
    page = make_phone_site()["en/my/index.html"].decode()
    write_site({"en/my/index.html": page.replace("</main>", "".join(map(as_html, later_of("en")["views"])) + "</main>").encode()}, tmp_path)
    assert [each["message"] for each in ask_validator(tmp_path) if not each["message"].startswith(DATA_BLOCK)] == []


def test_every_phrase_that_a_script_says_is_on_the_page() -> None:
    """No phrase of the scripts is missing in the book, and no phrase of the room is without use."""
    first, more, show = (set(re.findall(r'"((?:phone|site|dose|steps)\.[a-z0-9_]+)"', read_templates()[f"{MADE_SCRIPTS}{name}.js"].decode())) for name in ("phone", "phone-more", "phone-show"))
    known = set(book_of("en")["words"]["forms"])
    assert first <= known
    assert more | show <= known | set(later_of("en")["more"])
    said = first | more | show
    templates = "".join(data.decode() for path, data in read_templates().items() if path.startswith("pages/"))
    python = "".join(path.read_text() for path in (Path(__file__).parents[2] / "handouts").rglob("*.py") if "phrases" not in path.parts)
    assert {name for name in ROOMS["phone"] if name not in said and f'"{name}"' not in templates + python} == set()


def test_figures_as_lists() -> None:
    """Only elements and attributes of figures come through; words are found; anything else is refused."""
    tree = picture_tree('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" onload="x"><title>T</title><desc>Says &lt;it&gt;</desc><g transform="translate(1 2)"><path class="k" d="M0 0z" style="x"/></g></svg>')
    assert tree == ["svg", {"viewBox": "0 0 9 9"}, [["title", {}, ["T"]], ["desc", {}, ["Says <it>"]], ["g", {"transform": "translate(1 2)"}, [["path", {"class": "k", "d": "M0 0z"}]]]]]
    assert description_of(tree) == "Says <it>"
    with pytest.raises(NotAFigureError):
        picture_tree('<svg xmlns="http://www.w3.org/2000/svg"><script>x</script></svg>')


def test_a_page_holds_the_phrases_that_its_script_can_say() -> None:
    """Those it names, and those whose names it builds of what stands in the template; no other dose."""
    script = "say('x', \"phone.start\") + say(`dose.first_${what}_${limb}`) + say(`dose.minutes${each}`) + say(`dose.side_${side.replaceAll(\"-\",\"_\")}`)"
    found = phrases_used(script)
    assert {"phone.start", "dose.first_sets_leg", "dose.first_holds_arm", "dose.minutes", "dose.minutes_each", "dose.side_one_side_first"} <= set(found)
    assert not {"phone.to_session", "dose.once_leg", "dose.turn_sets_leg", "dose.seconds", "dose.tempo_go", "dose.range"} & set(found)
    held = book_of("en")["words"]["forms"]
    assert "dose.turn_sets_leg" in held and "dose.tempo_go" not in held


@pytest.mark.parametrize("side", [192, 512])
def test_icons(side: int) -> None:
    """Another reader decodes them; the ground is the clinic's colour to the corners, the steps are white in the middle of their stroke."""
    sign = read_templates()["icon.svg"].decode().replace("ACCENT", "#0f5e6b")
    data = icon_png(sign, side)
    assert data == icon_png(sign, side)
    image = Image.open(BytesIO(data)).convert("RGB")
    assert image.size == (side, side)
    scale = side / 32
    assert {image.getpixel(place) for place in ((0, 0), (side - 1, 0), (0, side - 1), (side - 1, side - 1))} == {(0x0F, 0x5E, 0x6B)}
    for x, y in ((8, 25), (11, 22), (14.5, 19), (18, 16), (21, 13), (25, 10)):  # on the line M5 25h6v-6h7v-6h7V7
        assert image.getpixel((int(x * scale), int(y * scale))) == (255, 255, 255)


def test_a_sign_that_cannot_be_painted_is_refused() -> None:
    """A drawing of another kind is a fault of the build, not a wrong icon."""
    with pytest.raises(IconError):
        icon_png('<svg viewBox="0 0 32 32"><circle r="5"/></svg>', 192)
