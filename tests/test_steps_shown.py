"""Every output of a programme read back: each step's conditions, the cautions of every kind, cues, order, names of steps."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from html import unescape

import pytest

from handouts.bundle.chart import chart_text
from handouts.bundle.fhir import fhir_plan
from handouts.bundle.origins import begun_from, name_begun, origins_json
from handouts.bundle.values import Origin, PickedBundle
from handouts.clinician.document import picked_beside, picked_document
from handouts.dose.progression import build_progression
from handouts.model import Bundle, Library, Pick, ProgrammeTier, Ref, Words
from handouts.paper.articles import Document
from handouts.paper.context import PaperSetting
from handouts.paper.plan import bundle_document, programme_document, sheet_document, tier_document
from handouts.paper.sheet import part_of_bundle
from handouts.publication.steps import cautions_of_bundle, in_bundle, label_ready, name_step_alone
from handouts.words.messages import Message, rewrite_library
from handouts.words.wording import Wording
from tests.builders import PLACE, a_caution, a_library, a_programme, a_review, an_exercise, refs, words
from tests.paper.making import a_setting
from tests.scripts.node import ask_script
from tests.site.making import make_site

START = {"en": "Start this step when", "es": "Empiece este paso cuando"}
GO_ON = {"en": "Go on to step {} when", "es": "Siga con el paso {} cuando"}
GOAL = {"en": "The goal of this program", "es": "La meta de este programa"}
NEXT = {"en": "You are ready for the next exercise when", "es": "Puede pasar al siguiente ejercicio cuando"}
REACHED = {"en": "You have reached your goal when", "es": "Ha llegado a su meta cuando"}
DONE = {"en": "You do this exercise well when", "es": "Hace bien este ejercicio cuando"}
STEP = {"en": "Step", "es": "Paso"}
LANGUAGES = ("en", "es")
TIERS = {"wake": ("zip", "bend"), "build": ("rise", "arch"), "live": ("walk", "leap", "climb")}
"""The author's order, which is neither that of the alphabet nor that of what builds on what."""
ORIGINS = {
    Origin("programme", "stairs", 2): "", Origin("programme", "stairs"): "", Origin("bundle", "bound"): "", Origin("bundle", "free"): "",
    Origin("programme", "stairs", 9): "step", Origin("programme", "", 2, "ABCD"): "origin", Origin("bundle", "", 0, "ABCD"): "origin", Origin("programme", "none", 1): "origin",
}
"""Origins, and what of each is not in the library."""
RANKS = {slug: rank for rank, slugs in enumerate(TIERS.values()) for slug in slugs}
AFTER = {"rise": ("bend",), "arch": ("zip",), "walk": ("rise",), "climb": ("rise",), "leap": ("climb",)}


@cache
def the_library(language: str) -> Library:
    """A programme of three steps, two bundles begun from it and one of its own, in English or as if it were Spanish."""
    exercises = [
        an_exercise(slug, tier=tier, after=AFTER.get(slug, ()), code=f"A{number}2{slug[0].upper()}".replace("1", "B").replace("0", "D"))
        for number, (tier, slug) in enumerate((tier, slug) for tier, slugs in TIERS.items() for slug in slugs)
    ]
    tiers = tuple(
        ProgrammeTier(place=PLACE, tier=Ref(tier, PLACE), enter_when=words(f"Condition of {tier}."), exercises=refs(*slugs))
        for tier, slugs in TIERS.items()
    )
    programme = replace(
        a_programme("stairs", []), tiers=tiers, goal=words("The goal is reached."), cautions=refs("own-stop", "own-ask", "own-care"),
        cues=(words("Breathe out."),), through_the_day=(words("Also by the kettle."),),
    )  # fmt: skip
    kinds = {each.kind.value: each for each in a_library().cautions}
    own = tuple(replace(kinds[kind], slug=f"own-{kind}", when=words(f"Programme's {kind}.")) for kind in ("stop", "ask", "care"))
    one = a_caution("bundle-ask")
    bundles = tuple(
        Bundle(
            place=PLACE, slug=slug, title=words(slug), suits=words("People who begin."), weeks=2, review=a_review(),
            picks=tuple(Pick(place=PLACE, exercise=ref) for ref in refs("bend", "rise", "leap")),
            programme=Ref("stairs", PLACE) if slug != "free" else None, tier=Ref("build", PLACE) if slug == "bound" else None,
            cautions=refs("bundle-ask"),
        )
        for slug in ("bound", "loose", "free")
    )  # fmt: skip
    cautions = (*a_library().cautions, *own, replace(one, kind=kinds["ask"].kind, when=words("Bundle's ask.")))
    library = a_library(*exercises, programmes=(programme,), bundles=bundles, cautions=cautions)
    if language == "en":
        return library

    def translate(message: Message) -> Words:
        return Words(f"ES {message.text}", message.place)

    return replace(rewrite_library(library, translate), language=language)


def flat(html: str) -> str:
    """The words that a reader sees, in reading order."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", re.sub(r"<(style|svg|script)\b.*?</\1>", " ", html, flags=re.DOTALL))).split())


@cache
def page_of(language: str, path: str) -> str:
    """A page of the site."""
    return make_site([the_library(each) for each in LANGUAGES])[f"{language}/{path}/index.html"].decode()


def said(language: str, rank: int) -> str:
    """The two conditions of a step with their labels, as every output has them."""
    mark = "" if language == "en" else "ES "
    tiers = list(TIERS)
    own = f"{START[language]} {mark}Condition of {tiers[rank]}."
    if rank + 1 == len(tiers):
        return f"{own} {GOAL[language]} {mark}The goal is reached."
    return f"{own} {GO_ON[language].format(rank + 2)} {mark}Condition of {tiers[rank + 1]}."


def name(language: str, rank: int) -> str:
    """The name of a step as readers meet it."""
    tier = list(TIERS)[rank].capitalize()
    return f"{STEP[language]} {rank + 1}: {tier if language == 'en' else 'ES ' + tier}"


def tier_of(language: str, slug: str) -> str:
    """The name of an exercise's tier."""
    return the_library(language).tier[list(TIERS)[RANKS[slug]]].name.text


def setting_of(language: str, size: str = "standard") -> PaperSetting:
    """The setting of paper in a language."""
    library = the_library(language)
    return replace(a_setting(library, size=size), wording=Wording(language))


def articles(document: Document) -> dict[str, str]:
    """The text of each article of a document."""
    found = re.split(r'<article id="([^"]+)"', document.html)
    return {found[at]: flat(f'<article id="{found[at]}"{found[at + 1]}') for at in range(1, len(found), 2)}


@pytest.mark.parametrize("language", LANGUAGES)
def test_programme_page(language: str) -> None:
    """Each step has its name, its own condition and the next one's, its exercises in the author's order; nothing is lost."""
    html = page_of(language, "programmes/stairs")
    steps = re.split(r'<li class="step" id="tier-(\w+)">', html)[1:]
    assert steps[::2] == list(TIERS)
    for rank, part in enumerate(steps[1::2]):
        text = flat(part)
        assert text.startswith(name(language, rank))
        assert said(language, rank) in text
        assert text.count("Condition of") == (1 if rank == 2 else 2)
        shown = re.findall(r'<a class="row-title" href="[^"]*?([a-z]+)/index.html"', part)
        assert shown == list(list(TIERS.values())[rank])
    text, mark = flat(html), "" if language == "en" else "ES "
    for expected in ("Breathe out.", "Also by the kettle.", "Programme's stop.", "Programme's ask.", "Programme's care."):
        assert f"{mark}{expected}" in text


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("size", ["standard", "large"])
def test_booklet(language: str, size: str) -> None:
    """On the cover each step with its conditions; each step's own page has them too; every exercise has the cue."""
    setting = setting_of(language, size)
    found = articles(programme_document(setting, setting.library.programmes[0]))
    cover = found["stair" if size == "large" else "cover"]
    for rank, tier in enumerate(TIERS):
        assert f"{name(language, rank)} {said(language, rank)}" in cover
        opening = found[f"tier-{tier}"]
        assert name(language, rank) in opening
        assert said(language, rank) in opening
        assert opening.count("Condition of") == (1 if rank == 2 else 2)
    assert [each for each in found if each in RANKS] == [slug for slugs in TIERS.values() for slug in slugs]
    for slug, rank in RANKS.items():
        assert found[slug].count("Breathe out.") == 1
        assert name(language, rank) in found[slug]
        assert found[slug].count(label_in_programme(language, slug)) == 1
    front = found["cover"] + found["contents"]
    for expected in ("Also by the kettle.", "Programme's stop.", "Programme's ask.", "Programme's care."):
        assert front.count(expected) == 1


def label_in_programme(language: str, slug: str) -> str:
    """The label over an exercise's condition in the programme, written down by hand."""
    labels = {"zip": NEXT, "bend": NEXT, "rise": NEXT, "arch": DONE, "walk": REACHED, "climb": NEXT, "leap": REACHED}
    return labels[slug][language]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("rank", range(len(TIERS)))
def test_step_sheets(language: str, rank: int) -> None:
    """The sheets of one step: its conditions, every caution of the programme, its day and its cues."""
    setting = setting_of(language)
    found = articles(tier_document(setting, setting.library.programmes[0], rank))
    cover = found["cover"]
    assert name(language, rank) in cover
    assert said(language, rank) in cover
    assert cover.count("Condition of") == (1 if rank == 2 else 2)
    for expected in ("Also by the kettle.", "Programme's stop.", "Programme's ask.", "Programme's care."):
        assert cover.count(expected) == 1
    for slug in list(TIERS.values())[rank]:
        assert found[slug].count("Breathe out.") == 1
        assert label_in_programme(language, slug) in found[slug]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("slug", ["bound", "loose", "free"])
def test_bundles(language: str, slug: str) -> None:
    """A bundle has its own cautions and its programme's, on paper and on its page; for a step also the conditions."""
    setting = setting_of(language)
    bundle = next(each for each in setting.library.bundles if each.slug == slug)
    found = articles(bundle_document(setting, bundle))
    cover, page = found["cover"], flat(page_of(language, f"bundles/{slug}"))
    for text in (cover, page):
        assert text.count("Bundle's ask.") == 1
        for kind in ("stop", "ask", "care"):
            assert text.count(f"Programme's {kind}.") == (slug != "free")
        assert (said(language, 1) in text) == (slug == "bound")
        assert text.count("Condition of") == (2 if slug == "bound" else 0)
        assert ("Also by the kettle." in text) == (slug != "free")
    for each in ("bend", "rise", "leap"):
        assert found[each].count("Breathe out.") == (slug != "free")
    assert NEXT[language] in found["bend"]  # rise is after bend, and in the bundle
    assert (NEXT if slug != "free" else DONE)[language] in found["rise"]  # what is after rise is not in the bundle
    assert (REACHED if slug != "free" else DONE)[language] in found["leap"]


@pytest.mark.parametrize(
    ("origin", "conditions", "own"),
    [(Origin("bundle", "bound"), 2, 1), (Origin("bundle", "loose"), 0, 1), (Origin("programme", "stairs", 2), 2, 0), (Origin("programme", "stairs"), 0, 0)],
)
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_picked_bundle_keeps_what_it_was_begun_from(language: str, origin: Origin, conditions: int, own: int) -> None:
    """A clinician's own bundle has the cautions, the conditions and the cues of the programme or the bundle behind it."""
    setting = setting_of(language)
    picks = tuple(Pick(place=PLACE, exercise=ref) for ref in refs("bend", "rise"))
    picked = PickedBundle(language, "market-street", 2, picks, origin)
    compact, found = (articles(picked_document(setting, picked, "ABC", full=full)) for full in (False, True))
    for cover in (compact["cover"], found["cover"]):
        for kind in ("stop", "ask", "care"):
            assert cover.count(f"Programme's {kind}.") == 1
        assert cover.count("Condition of") == conditions
        assert cover.count("Bundle's ask.") == own
    assert [name for name in compact if name != "cover"] == ["row-bend", "row-rise"]
    assert found["bend"].count("Breathe out.") == found["rise"].count("Breathe out.") == compact["cover"].count("Breathe out.") == 1
    beside = articles(picked_beside(setting, setting_of("en"), picked))
    for text in beside.values():
        assert [text.count(f"Programme's {kind}.") for kind in ("stop", "ask", "care")] == [2, 2, 2]  # once in each language
    for full in (False, True):
        without = articles(picked_document(setting, replace(picked, origin=None), "ABC", full=full))
        assert "Programme's" not in without["cover"] and "Breathe out." not in " ".join(without.values())
        assert 'class="lost"' not in picked_document(setting, picked, "ABC", full=full).html


LOST = {
    "en": ("is not in our library now, or not in this language", "is no longer in its program", "is not in this library now", "is no longer in its program"),
    "es": ("no está en nuestra biblioteca, o no en este idioma", "ya no está en su programa", "no está en esta biblioteca", "ya no está en su programa"),
}


@pytest.mark.parametrize(("origin", "lost"), ORIGINS.items(), ids=str)
@pytest.mark.parametrize("language", LANGUAGES)
def test_what_is_lost_of_an_origin_is_said(language: str, origin: Origin, lost: str) -> None:
    """Sheet, sheet in two languages, chart text and FHIR name the programme and its step, or say what is not there any more."""
    setting, wording = setting_of(language), Wording(language)
    library = setting.library
    picked = PickedBundle(language, "market-street", 2, tuple(Pick(place=PLACE, exercise=ref) for ref in refs("bend", "rise")), origin)
    whole, step, chart_whole, chart_step = LOST[language]
    cover = articles(picked_document(setting, picked, "ABC"))["cover"]
    assert ((whole in cover), (step in cover)) == (lost == "origin", lost == "step")
    for text in articles(picked_beside(setting, setting_of("en"), picked)).values():
        assert ((whole in text), (step in text)) == (lost == "origin", lost == "step")
    chart = chart_text(picked, "ABC", library, wording, stamps={})
    assert ((chart_whole in chart), (chart_step in chart)) == (lost == "origin", lost == "step")
    plan = fhir_plan(picked, "ABC", library, wording, stamps={})
    assert ((chart_whole in plan.get("description", "")), (chart_step in plan.get("description", ""))) == (lost == "origin", lost == "step")
    named = [each["display"] for each in plan["relatedArtifact"] if each["type"] == "derived-from"]
    title = library.programmes[0].title.text
    wanted = {2: [f"{title}, {'step' if language == 'en' else 'paso'} 2: {tier_of(language, 'rise')}"], 9: [title]}
    assert named == ([] if lost == "origin" or origin.slug == "free" else wanted.get(2 if origin.slug == "bound" else origin.step, [title]))
    assert all(f": {each}" in chart for each in named)


@pytest.mark.parametrize("language", LANGUAGES)
def test_sheets_and_pages_alone(language: str) -> None:
    """On its own an exercise promises no step; page and sheet say the same."""
    setting, library = setting_of(language), the_library(language)
    title = library.programmes[0].title.text
    for slug, label in (("bend", NEXT), ("rise", NEXT), ("arch", DONE), ("leap", DONE)):
        sheet, page = flat(sheet_document(setting, library.exercise[slug]).html), flat(page_of(language, f"exercises/{slug}"))
        for text in (sheet, page):
            assert [text.count(each[language]) for each in (NEXT, REACHED, DONE)] == [label is NEXT, False, label is DONE]
            assert "Breathe out." not in text
        assert name(language, RANKS[slug]) in sheet
        assert Wording(language).say("steps.in_programme", programme=title, n=str(RANKS[slug] + 1), tier=tier_of(language, slug)) in page


@pytest.mark.parametrize("language", LANGUAGES)
def test_data_of_the_phone(language: str) -> None:
    """The phone and the page of the clinician have the same lines, cautions by kind, cues and order."""
    library, mark = the_library(language), "" if language == "en" else "ES "
    known = origins_json(library, Wording(language))
    programme = known["programmes"]["stairs"]
    assert [step["name"] for step in programme["steps"]] == [name(language, rank) for rank in range(3)]
    for rank, step in enumerate(programme["steps"]):
        assert " ".join(f"{label} {text}" for label, text in step["lines"]) == said(language, rank)
        assert step["codes"] == [library.exercise[slug].code for slug in list(TIERS.values())[rank]]
    assert programme["cautions"] == {"care": ["own-care"], "ask": ["own-ask"], "stop": ["own-stop"]}
    assert (programme["cues"], programme["day"]) == ([f"{mark}Breathe out."], [f"{mark}Also by the kettle."])
    none: dict[str, list[str]] = {"care": [], "ask": [], "stop": []}
    assert known["bundles"] == {
        "bound": {"programme": "stairs", "step": 2, "cautions": none | {"ask": ["bundle-ask"]}},
        "loose": {"programme": "stairs", "step": 0, "cautions": none | {"ask": ["bundle-ask"]}},
        "free": {"programme": "", "step": 0, "cautions": none | {"ask": ["bundle-ask"]}},
    }


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_bare_name_of_a_step(language: str) -> None:
    """Wherever a step is named, its number stands before it: pages, filters, buttons to print, sheets."""
    names = [tier.capitalize() if language == "en" else f"ES {tier.capitalize()}" for tier in TIERS]
    setting = setting_of(language)
    shown: list[str] = [flat(page_of(language, path)) for path in ("programmes/stairs", "exercises", "exercises/rise", "about", "bundles/bound")]
    shown += [flat(programme_document(setting, setting.library.programmes[0]).html), flat(sheet_document(setting, setting.library.exercise["rise"]).html)]
    for text in shown:
        for number, each in enumerate(names, 1):
            found = re.findall(rf"(.{{0,12}})\b{each}\b", text)
            assert all(re.search(rf"\b(step|paso) {number}: $", before.lower()) for before in found), (each, found)
    listed = flat(page_of(language, "exercises"))
    assert all(name(language, rank) in listed for rank in range(3))  # in the filter


def test_a_missing_step_keeps_the_numbers() -> None:
    """Where no exercise of a step is published, the others keep their numbers and conditions, and nothing prints it."""
    library = the_library("en")
    programme = library.programmes[0]
    tiers = (programme.tiers[0], replace(programme.tiers[1], exercises=()), programme.tiers[2])
    kept = tuple(replace(each, after=()) for each in library.exercises if each.tier.slug != "build")
    lacking = replace(library, programmes=(replace(programme, tiers=tiers),), exercises=kept, bundles=())
    page = make_site([lacking])["en/programmes/stairs/index.html"].decode()
    steps = [flat(part) for part in re.split(r'<li class="step" id="tier-\w+">', page)[1:]]
    assert [each.startswith(name("en", rank)) for rank, each in enumerate(steps)] == [True] * 3
    assert [said("en", rank) in each for rank, each in enumerate(steps)] == [True] * 3
    assert "stairs-build-" not in page
    booklet = articles(programme_document(replace(setting_of("en"), library=lacking), lacking.programmes[0]))
    assert name("en", 1) in booklet["cover"]
    assert "tier-build" not in booklet




@pytest.mark.parametrize("language", LANGUAGES)
def test_the_browser_finds_the_same(language: str) -> None:
    """Where each exercise stands, which words stand over its condition and which cautions hold: in the script as here."""
    library, wording = the_library(language), Wording(language)
    code_of = {slug: each.code for slug, each in library.exercise.items()}
    needs = build_progression(library).needs
    book = {
        "origins": origins_json(library, wording),
        "exercises": {each.code: {"after": [code_of[ref.slug] for ref in each.after], "step": name_step_alone(wording, library, each)} for each in library.exercises},
    }
    for origin, some in ORIGINS.items():
        [got] = ask_script("origins", {"book": book, "bundles": [{"origin": {"kind": origin.kind, "slug": origin.slug, "step": origin.step}, "codes": []}]})
        begun = begun_from(origin, library)
        assert (got["name"], got["lost"]) == (name_begun(begun, library, wording), begun.lost)
        assert begun.lost == some
    bundles = list(library.bundles)
    codes = [[code_of[pick.exercise.slug] for pick in each.picks] for each in bundles]
    given = [{"origin": {"kind": "bundle", "slug": each.slug, "step": 0}, "codes": some} for each, some in zip(bundles, codes, strict=True)]
    for bundle, got in zip(bundles, ask_script("origins", {"book": book, "bundles": given}), strict=True):
        exercises = [library.exercise[pick.exercise.slug] for pick in bundle.picks]
        assert [wording.say(name) for name in got["ready"]] == [label_ready(wording, each, in_bundle(library, bundle), needs) for each in exercises]
        parts = [part_of_bundle(setting_of(language), bundle, each) for each in exercises]
        assert got["steps"] == [part.step for part in parts]
        named = [ref.slug for ref in cautions_of_bundle(library, bundle)]
        assert {slug for kind in got["cautions"].values() for slug in kind} == set(named)
        assert (" ".join(f"{label} {text}" for label, text in got["lines"]) == said(language, 1)) == (bundle.slug == "bound")
