"""The pages as files: their order, their links, their policy, their languages, and hostile texts in them."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from posixpath import dirname, join, normpath

import pytest
from markupsafe import Markup

from handouts.model import Substitute
from handouts.site.assets import build_assets
from handouts.site.context import Edition
from handouts.site.page_frame import POLICY, WORKER_POLICY, phone_link, with_call
from handouts.words.wording import Wording
from tests.builders import PLACE, a_caution, a_clinic, a_library, an_exercise, refs, words
from tests.site.making import MIRRORED, Drawings, asset_sources, lay_out_site, make_site, pdfs_of, two_languages

STEP_UP = "en/exercises/step-up/index.html"


@cache
def site() -> dict[str, bytes]:
    """The small site in two languages."""
    return make_site(two_languages())


@cache
def pages() -> dict[str, str]:
    """Its pages."""
    return {path: data.decode() for path, data in site().items() if path.endswith(".html")}


class Tags(HTMLParser):
    """Every start tag of a page, with its attributes."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {name: value or "" for name, value in attrs}))


def tags(page: str, tag: str = "") -> list[dict[str, str]]:
    """The attributes of each element of a kind."""
    return [attributes for name, attributes in Tags(page).found if not tag or name == tag]


def headings(page: str) -> list[str]:
    """The texts of all headings in order."""
    return [" ".join(re.sub(r"<[^>]+>", " ", text).split()) for text in re.findall(r"<h[1-6][^>]*>(.*?)</h", page, re.DOTALL)]


def test_an_exercise_page_has_its_parts_in_the_order_of_use() -> None:
    """Figure, title, dose, minutes, steps, cues, mistakes, stop, ready, neighbours, print, version."""
    page = pages()[STEP_UP]
    marks = ['class="fig"', "<h1>", '<p class="dose"><b class="numeral">2</b> sets of <b class="numeral">10</b>, each side</p>',
             "About 7 minutes", "3 days a week", "How to do it", "Think of this", "What you should feel", "What goes wrong",
             'id="stop"', "You are ready", "Easier and harder", 'id="print"', "Last reviewed on September 14, 2026",
             "Version 2026-11-25.0a1b", "Code "]
    places = [page.index(mark) for mark in marks]
    assert places == sorted(places)


def test_what_the_signs_of_a_figure_mean_stands_under_it() -> None:
    """In view beside the figure, before the title."""
    page = pages()[STEP_UP]
    assert page.index("</svg>") < page.index('<p class="figure-note">Stripes: muscles that work.</p>') < page.index("<h1>")


def test_minutes_are_those_of_the_arithmetic() -> None:
    """2 sets x 2 sides x 10 x 6 s, and 3 rests of 60 s: 420 s, 7 minutes (worked by hand)."""
    page = make_site((a_library(an_exercise("step-up")),))[STEP_UP].decode()
    assert "About 7 minutes" in page


def test_head_of_every_page() -> None:
    """Policy, referrer, language and direction stand in every page; in every page but the way in, the way to the root."""
    for path, page in sorted(pages().items()):
        language = path.partition("/")[0] if "/" in path else "en"
        root = {} if path == "index.html" else {"data-root": "../" * path.count("/") or "./"}
        assert tags(page, "html") == [{"lang": language, "dir": "rtl" if language == MIRRORED else "ltr"} | root], path
        metas = tags(page, "meta")
        policy = WORKER_POLICY if path.endswith("/exercises/index.html") else POLICY  # a search loads its slices
        assert {"name": "referrer", "content": "no-referrer"} in metas, path
        assert metas[1] == {"http-equiv": "Content-Security-Policy", "content": policy}, path


DATA = {"type": "application/ld+json"}
"""A script element that holds data and is never run."""


def test_no_inline_style_or_script_anywhere() -> None:
    """No style or event attribute, no style element, no script without a source, no address of another host."""
    for path, page in sorted(pages().items()):
        for tag, attributes in Tags(page).found:
            assert tag not in {"style", "iframe", "base", "object", "embed"}, path
            assert not [name for name in attributes if name == "style" or name.startswith("on")], path
            assert tag != "script" or attributes.keys() == {"src", "defer"} or attributes == DATA, path
            for name in ("src", "href", "action", "data-list"):
                assert not re.match(r"(?!tel:)[a-z]+:|//", attributes.get(name, "")), path


def test_every_link_leads_to_a_file_of_the_site() -> None:
    """Links are relative, name a file, and the file and its part exist; a PDF is one that the build makes."""
    pdfs = frozenset().union(*map(pdfs_of, two_languages()))
    for path in sorted(set(pages()) - {"404.html"}):
        for attributes in tags(pages()[path]):
            for name in ("href", "src", "data-list"):
                address = attributes.get(name, "")
                if not address or address.startswith("tel:"):
                    continue
                target, _, part = address.partition("#")
                full = normpath(join(dirname(path), target)) if target else path
                assert not address.startswith("/"), path
                assert full in site() or full in pdfs, f"{path} leads to {full}"
                if part:
                    assert f'id="{part}"' in pages()[full], f"{path} leads to {address}"


def test_links_of_the_page_for_a_wrong_address_begin_at_the_root() -> None:
    """A host shows it at any depth, below the path of the clinic's address."""
    library = a_library(clinic=a_clinic(site="https://host.example/handouts/"))
    files = make_site((library,))
    page = files["404.html"].decode()
    addresses = [attributes["href"] for attributes in tags(page) if "href" in attributes]
    addresses += [attributes["src"] for attributes in tags(page) if "src" in attributes]
    assert sum(each.endswith(".js") for each in addresses) == 2
    assert [each for each in addresses if not each.startswith(("/handouts/", "#", "tel:"))] == []
    assert all(each.removeprefix("/handouts/").partition("#")[0] in files for each in addresses if each.startswith("/"))


def test_safety_stands_on_every_page() -> None:
    """Stop rules, emergency number, every phone, and what comes before this sheet; the page for a wrong address has no strip."""
    for path, page in sorted(pages().items()):
        if path == "index.html":
            continue  # the choice of language holds only links
        for href in ("tel:911", "tel:5550141", "tel:5550142"):
            assert f'href="{href}"' in page, path
        strip = page[page.index('class="bottom"' if path == "404.html" else 'class="strip"') :]
        assert path == "404.html" or re.search(r'class="strip-stop" href="[^"]*#stop"', strip), path
        if not path.startswith(MIRRORED):
            assert "Your surgeon&#39;s plan comes first." in page or "Your surgeon's plan comes first." in page, path
            assert "This sheet does not replace your physiotherapist." in strip, path


def test_marks() -> None:
    """Every page says that the clinic is invented; each page of an unreviewed language says so too."""
    for path, page in pages().items():
        assert 'class="mark"' in page
        assert page.count('class="mark"') == (2 if path.startswith(MIRRORED) or path == "index.html" else 1), path


def test_a_single_unreviewed_item_marks_its_page_and_the_lists() -> None:
    """The mark stands where the text is shown, and nowhere else."""
    library = a_library(clinic=a_clinic(invented=False))
    files = make_site((library,), Edition(version="v", unreviewed={"en": frozenset({"exercises/bridge"})}))
    marked = {path for path, data in files.items() if b'class="mark"' in data}
    assert "en/exercises/bridge/index.html" in marked
    assert "en/exercises/index.html" in marked
    assert STEP_UP not in marked


def test_language_switch_and_alternates() -> None:
    """The switch leads to the same page in the other language, and the head names every language."""
    page = pages()[STEP_UP]
    links = [each for each in tags(page, "link") if each["rel"] == "alternate"]
    assert links == [
        {"rel": "alternate", "hreflang": "en", "href": "index.html"},
        {"rel": "alternate", "hreflang": MIRRORED, "href": f"../../../{MIRRORED}/exercises/step-up/index.html"},
        {"rel": "alternate", "hreflang": "x-default", "href": "../../../index.html"},
    ]
    switch = [each for each in tags(page, "a") if each.get("hreflang") == MIRRORED]
    assert [each["href"] for each in switch] == [f"../../../{MIRRORED}/exercises/step-up/index.html"]


def test_switch_leads_home_where_a_page_is_missing_in_the_other_language() -> None:
    """An exercise that is not translated is no dead end and names no alternate."""
    source, mirrored = two_languages()
    fewer = replace(mirrored, exercises=tuple(each for each in mirrored.exercises if each.slug != "step-down"), programmes=())
    page = make_site((source, fewer))["en/exercises/step-down/index.html"].decode()
    assert [each for each in tags(page, "link") if each["rel"] == "alternate"] == []
    assert f"../../../{MIRRORED}/index.html" in [each.get("href") for each in tags(page, "a")]


def test_prints_name_only_pdfs_that_exist() -> None:
    """The first paper and size is the button; with no PDF there is no button."""
    library = a_library()
    only = f"{dirname(STEP_UP)}/step-up-a4-large.pdf"
    page = make_site((library,), Edition(version="v", pdfs=frozenset({only})))[STEP_UP].decode()
    assert [each["href"] for each in tags(page, "a") if each.get("href", "").endswith(".pdf")] == ["step-up-a4-large.pdf"] * 2
    assert ".pdf" not in make_site((library,), Edition(version="v"))[STEP_UP].decode()
    first = [each["href"] for each in tags(pages()[STEP_UP], "a") if each.get("class") == "button"]
    assert first == ["step-up-letter-standard.pdf"] * 2


def test_programme_page_reads_as_text() -> None:
    """Tiers in order with their conditions, and what builds on what in words beside the lines."""
    page = pages()["en/programmes/stairs/index.html"]
    assert headings(page)[:5] == ["Stairs", "Your steps", "Step 1: Wake", "Step 2: Build", "Step 3: Live"]
    assert page.count("You can stand.") == 5  # each step's own, and the next one's
    assert "Builds on: Step up and Heel raise" in page
    assert page.count("<svg class=\"lines\"") == 3
    assert 'href="stairs-live-letter-standard.pdf"' in page


def test_a_bundle_shows_the_dose_that_it_changes() -> None:
    """One set in the bundle, two in the library."""
    page = pages()["en/bundles/first-days/index.html"]
    assert '<b class="numeral">10</b> times, each side' in page
    assert "2 exercises" in page and "2 weeks" in page


def test_a_bundle_names_what_is_taken_and_not_what_is_missing() -> None:
    """A step stands in for the chair: at the exercise and among what is fetched."""
    library = a_library()
    chair, step = (library.term["equipment"][slug].name.text for slug in ("chair", "step"))
    taken = Substitute(place=PLACE, slug="high-step", thing=refs("chair")[0], take=refs("step")[0], change=words("Sit high."), source="test")
    bundle = library.bundles[0]
    picks = tuple(replace(pick, substitutes=refs("high-step")) if pick.exercise.slug == "sit-to-stand" else pick for pick in bundle.picks)
    swapped = replace(library, bundles=(replace(bundle, picks=picks),), vocabulary=replace(library.vocabulary, substitutes=(taken,)))
    page = re.sub("<[^>]*>", "", make_site((swapped,))[f"en/bundles/{bundle.slug}/index.html"].decode()).lower()
    assert (len(re.findall(rf"\b{step}\b", page)), page.count(chair)) == (3, 1), "the chair is named where it says what stands in for it"


def test_hostile_texts_are_shown_as_typed() -> None:
    """Texts that look like HTML stay texts on every page, in attributes too."""
    evil = "<script>alert(1)</script>\"'><img src=x onerror=alert(1)>"
    exercise = an_exercise("step-up", title=evil, why=evil, cues=(evil,), feel=evil, ready_when=evil, steps=(evil,),
                           mistakes=((evil, evil),), also_called=(evil,), sources=(evil,))
    clinic = replace(a_clinic(about=words(evil), pain_rule=words(evil)), name=evil)
    files = make_site((a_library(exercise, clinic=clinic, cautions=(replace(a_caution(), when=words(evil), do=words(evil)),)),))
    plain = {path: [tag for tag, given in Tags(data.decode()).found if given != DATA] for path, data in files.items() if path.endswith(".html")}
    for path, found in plain.items():
        assert found.count("script") == {"index.html": 0, "404.html": 2, "en/index.html": 2, "en/exercises/index.html": 3}.get(path, 1), path
        for tag, attributes in Tags(files[path].decode()).found:
            assert "onerror" not in attributes and (tag != "img" or attributes["src"].endswith(".svg"))


def test_phone_links() -> None:
    """Only digits, and a plus in front."""
    assert [phone_link(each) for each in ("555-0141", "+1 (555) 01 41", " 0800/1+2 ")] == ["tel:5550141", "tel:+15550141", "tel:080012"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Call 911 now.", 'Call <a class="phone" href="tel:911">911</a> now.'),
        ("Call 9110 or 1-911.", "Call 9110 or 1-911."),
        ('See <a href="https://a.example/911">911</a>', 'See <a href="https://a.example/911">911</a>'),
        ("请拨打911。", '请拨打<a class="phone" href="tel:911">911</a>。'),
        ("911, then 911", '<a class="phone" href="tel:911">911</a>, then 911'),
    ],
)
def test_a_number_in_a_text_dials_itself(text: str, expected: str) -> None:
    """The first whole mention becomes a link; a text with links of its own stays as it is."""
    assert with_call(Markup(text), "911") == expected


def test_cautions_stand_by_what_they_ask() -> None:
    """Stop rules first, the emergency before the clinic; then what to ask, then what to take care of."""
    page = pages()["en/exercises/step-down/index.html"]
    heads = headings(page)
    assert heads.index("Stop if") < heads.index("Ask us first if") < heads.index("Take care if")
    assert page.index("Call 911</a>") < page.index('class="call-lines"')


@pytest.mark.parametrize(
    ("languages", "named", "families"),
    [
        (("en", "es"), (), ["atkinson", "atkinson-more"]),
        (("en",), ("en", "vi", "ar", "zh-Hans"), ["atkinson-plain", "atkinson-rest", "atkinson-more", "noto-names-wide", "noto-names-arabic", "noto-mark-sc", "noto-names-sc"]),
        (("zh-Hans",), ("en", "zh-Hans"), ["atkinson", "atkinson-more", "noto-sans-latin", "noto-sans-cyrillic", "noto-sans-sc", "noto-sans-sc-first"]),
        (("ar",), ("en", "ar", "es"), ["atkinson", "atkinson-more", "noto-sans-arabic-first", "noto-sans-arabic-rest"]),
        (("ar", "fa"), (), ["atkinson", "atkinson-more", "noto-sans-arabic"]),
    ],
)
def test_only_the_fonts_of_the_languages_are_shipped(languages: tuple[str, ...], named: tuple[str, ...], families: list[str]) -> None:
    """A page without Chinese names 1 kB of it, not 2 MB, and only English pages have the file of plain letters; each font that the style sheet names is there."""
    assets = build_assets(asset_sources(), "#0f5e6b", languages, named)
    fonts = {path.removeprefix("assets/").partition(".")[0].rpartition("-")[0] for path in assets.files if path.endswith(".woff2")}
    assert fonts == set(families)
    css = assets.files[assets.style].decode()
    assert {f"assets/{name}" for name in re.findall(r'url\("([^"]+)"\)', css)} == {p for p in assets.files if p.endswith("woff2")}


@pytest.mark.parametrize(("language", "family", "weights"), [
    *((language, "Atkinson Hyperlegible Next", ("400", "700")) for language in ("en", "es", "fr", "vi", "ar")), ("ar", "Noto Sans Arabic", ("400 700",)),
])  # fmt: skip
def test_no_letter_is_in_two_files(language: str, family: str, weights: tuple[str, ...]) -> None:
    """A browser that is asked for the font of a page would load both; it takes all letters of a family from rules that name the same weights."""
    css = (assets := build_assets(asset_sources(), "#0f5e6b", (language,), ())).files[assets.style].decode()
    rules = re.findall(rf'@font-face [^}}]*font-family: "{family}";[^}}]*', css)
    assert {weight for rule in rules for weight in re.findall(r"font-weight: ([^;]+);", rule)} == set(weights)
    for weight in weights:
        reached: list[int] = []
        for rule in rules:
            if f"font-weight: {weight}" in rule:
                ends = [each.split("-") for each in re.findall(r"U\+([0-9a-f-]+)", rule)]
                reached += [point for one in ends for point in range(int(one[0], 16), int(one[-1], 16) + 1)]
        assert len(reached) == len(set(reached)) > 250


def test_same_input_same_bytes() -> None:
    """Two builds of the same libraries are equal to the byte."""
    assert make_site(two_languages()) == site()


def test_only_wanted_pages_are_made() -> None:
    """A preview may ask for one page; the assets come with it."""
    files = lay_out_site((a_library(),), {"en": Wording("en")}, Drawings(), asset_sources(), Edition(version="v"), wanted=lambda path: path == STEP_UP)
    assert [path for path in files if path.endswith(".html")] == [STEP_UP]
