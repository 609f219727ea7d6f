"""An old sheet in the hands of a patient: after a change, a rename, a replacement, a withdrawal, a lapsed review."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import date
from html import unescape
from xml.etree import ElementTree

import pytest

from handouts.build.lost_addresses import LostAddresses, find_lost
from handouts.clinician.pages import read_clinician_pages
from handouts.ledger.entries import Ledger, Withdrawal
from handouts.ledger.history import History
from handouts.problems import Place
from handouts.rules.lapsed import sort_by_review
from handouts.site.context import Edition
from handouts.site.old_sheets import sheet_address
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.history_pages.making import LATER, MIRRORED, Site, publish, site_of
from tests.ledger.test_ledger import GONE, moved
from tests.site.making import Drawings, asset_sources, lay_out_site
from tests.small_library import TEXTS, TODAY, small_library, texts_with

FOOT = "exercises/foot-lift.md"
CHANGED = texts_with(FOOT, ("sets: 2, reps: 10", "sets: 3, reps: 12"), ("Lift your foot.", "Lift one foot."))
ATOM = "{http://www.w3.org/2005/Atom}"
MAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"


def text_of(site: Site, path: str) -> str:
    """What stands in the main part of a page, without marks and doubled spaces."""
    main = re.search(r"<main.*?</main>", site.page(path), re.DOTALL)
    assert main
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", main.group())).split())


def retire(ledger: Ledger, code: str, why: str = "", by: str | None = None) -> Ledger:
    """The ledger with a line of a person: withdrawn for a reason, or replaced."""
    gone = Withdrawal(place=Place("ledger.yaml"), on=LATER, why=why) if why else None
    entries = (replace(entry, withdrawn=gone, replaced_by=by) if entry.code == code else entry for entry in ledger.entries)
    return Ledger(tuple(entries), ledger.place)


def test_present_code_leads_on() -> None:
    """Every code has a page in every language, with a ledger or without."""
    site = site_of()
    assert 'href="../../exercises/foot-lift/index.html"' in site.page("en/code/A222/index.html")
    assert "Code A222 To the present page: Foot lift" in text_of(site, "en/code/A222/index.html")
    assert f"{MIRRORED}/code/P222/index.html" in site.files
    assert "en/new/index.html" not in site.files


def test_old_sheet_of_a_changed_exercise() -> None:
    """The code of an old sheet opens its page where its version says what changed; so does the page of its code."""
    ledger = publish()
    old = ledger.by_code["A222"].latest.version
    site = site_of(CHANGED, ledger)
    for page in ("en/exercises/foot-lift/index.html", "en/code/A222/index.html"):
        found = re.search(rf'<div class="old-sheet" id="{old}" role="note">(.*?)</div>', site.page(page), re.DOTALL)
        assert found, page
        assert " ".join(re.sub(r"<[^>]+>", " ", found[1]).split()) == (
            f"Your sheet says version {old}, of September 15, 2026. The present version is {site.stamps['exercises/foot-lift']}. "
            "Changed since then: the dose: your sheet says 2 sets of 10, 3 days a week; now it is 3 sets of 12, 3 days a week how to do it "
            "Follow the present version. If your clinician gave you another dose, ask before you change it."
        )
    assert f'href="#{old}"' in site.page("en/code/A222/index.html")
    assert "old-sheet" not in site.page("en/exercises/leg-lift/index.html").split("<main")[1]


def test_code_of_a_sheet_holds_its_version() -> None:
    """The address on a sheet names its version, a ready-made bundle's too."""
    edition = Edition(version="ALL", versions={"exercises/foot-lift": "ABC234", "bundles/first-days": "XYZ234"})
    assert sheet_address("https://c.example/", edition, "en/exercises/foot-lift/index.html") == "https://c.example/en/exercises/foot-lift/index.html#ABC234"
    assert sheet_address("https://c.example/", edition, "en/bundles/first-days/index.html") == "https://c.example/en/bundles/first-days/index.html#XYZ234"


def test_former_address_of_a_renamed_exercise() -> None:
    """The old address leads to the new one, knows old versions, and is no page of its own for search engines."""
    ledger = publish()
    old = ledger.by_code["A222"].latest.version
    renamed = moved(CHANGED, "foot-lift", "ankle-lift")
    site = site_of(renamed, ledger)
    page = site.page("en/exercises/foot-lift/index.html")
    assert "This page has a new address. To the present page: Foot lift" in text_of(site, "en/exercises/foot-lift/index.html")
    assert 'href="../ankle-lift/index.html"' in page
    assert '<link rel="canonical" href="https://clinic.example/en/exercises/ankle-lift/index.html">' in page
    assert f'id="{old}"' in page
    assert "exercises/foot-lift/" not in site.page("sitemap.xml")
    assert "exercises/ankle-lift/" in site.page("sitemap.xml")


def test_replaced_exercise() -> None:
    """Printed code and old address name what replaced it, and never say that it may simply be used."""
    site = site_of(GONE, retire(publish(), "A222", by="B222"))
    for page in ("en/code/A222/index.html", "en/exercises/foot-lift/index.html"):
        assert "Foot lift This was replaced. Ask your clinician before you change over. What replaced it: Leg lift" in text_of(site, page)
    assert 'href="../../exercises/leg-lift/index.html"' in site.page("en/code/A222/index.html")


def test_withdrawn_exercise() -> None:
    """It says so, since when and why; the reason keeps its language."""
    site = site_of(GONE, retire(publish(), "A222", why="It strained the knee."))
    assert text_of(site, "en/code/A222/index.html") == (
        "Code A222 Foot lift This was withdrawn on November 25, 2026. Stop using the sheet, and ask your clinician what to do in its place. It strained the knee."
    )
    assert '<p lang="en">It strained the knee.</p>' in site.page(f"{MIRRORED}/exercises/foot-lift/index.html")


def test_not_in_this_language() -> None:
    """An address that a language does not publish leads to the source language."""
    site = site_of(TEXTS, publish(), lacking=("foot-lift",))
    page = site.page(f"{MIRRORED}/exercises/foot-lift/index.html")
    assert 'href="../../../en/exercises/foot-lift/index.html"' in page
    assert "Foot lift" in page


LAPSED = texts_with(FOOT, ("on: 2026-09-14", "on: 2025-01-10"))
OVERDUE = texts_with(FOOT, ("on: 2026-09-14", "on: 2025-11-10"))


@pytest.mark.parametrize(("picks", "held", "left_out"), [
    ("[foot-lift]", {"foot-lift", "first-days"}, {"programmes/stand-up": ("foot-lift",)}),
    ("[foot-lift, leg-lift]", {"foot-lift"}, {"programmes/stand-up": ("foot-lift",), "bundles/first-days": ("foot-lift",)}),
])
def test_a_bundle_that_has_nothing_left(picks: str, held: set[str], left_out: dict[str, tuple[str, ...]]) -> None:
    """It is held back with its exercises; one that keeps some is published without the others, which are named."""
    bundle = texts_with("bundles/first-days.yaml", ("[foot-lift, {exercise: leg-lift, dose: {sets: 1}}]", picks))
    whole = small_library({**bundle, FOOT: bundle[FOOT].replace("on: 2026-09-14", "on: 2025-01-10")})
    standing = sort_by_review(whole, TODAY)
    assert {item.slug for item in standing.held_back} == held
    assert standing.left_out == left_out
    assert [item.slug for item in standing.library.bundles] == (["first-days"] if len(held) == 1 else [])


def test_the_list_of_bundles_stays_where_the_last_one_lapsed() -> None:
    """Its address leads to what is there, and the desk says since when and by whose review the bundle is gone: a lapse stops no build."""
    bundle = texts_with("bundles/first-days.yaml", ("[foot-lift, {exercise: leg-lift, dose: {sets: 1}}]", "[foot-lift]"))
    lapsed = {**bundle, FOOT: bundle[FOOT].replace("on: 2026-09-14", "on: 2025-01-10")}
    before, site = site_of(bundle, publish(bundle)), site_of(lapsed, publish(bundle))
    assert find_lost(before.files, site.files) == LostAddresses((), ())
    assert text_of(site, "en/bundles/index.html") == "Ready-made bundles This is not shown at present: its review is not done. Ask your clinician."
    assert "First days Since January 10, 2026, by lead physiotherapist" in text_of(site, "en/desk/index.html")


def test_lapsed_exercise_is_held_back() -> None:
    """Past the days of grace it stands nowhere, its code says why, and the programme says that it lacks one."""
    site = site_of(LAPSED, publish())
    assert "This is not shown at present: its review is not done." in text_of(site, "en/code/A222/index.html")
    assert "This is not shown at present" in text_of(site, "en/exercises/foot-lift/index.html")
    assert "Foot lift" not in site.page("en/exercises/index.html")
    assert "foot-lift" not in site.page("en/programmes/stand-up/index.html")
    desk = text_of(site, "en/desk/index.html")
    assert desk == "Review desk As of November 25, 2026 Past the days of grace: not published Foot lift Since January 10, 2026, by lead physiotherapist"


def test_overdue_exercise_is_marked_and_on_the_desk() -> None:
    """Overdue within the days of grace it stays, with a mark for clinicians; the desk is in the source language only."""
    site = site_of(OVERDUE)
    assert "The review of this has been due since November 10, 2026." in text_of(site, "en/exercises/foot-lift/index.html")
    assert "has been due" not in text_of(site, "en/exercises/leg-lift/index.html")
    assert "Overdue Foot lift Since November 10, 2026, by lead physiotherapist" in text_of(site, "en/desk/index.html")
    assert f"{MIRRORED}/desk/index.html" not in site.files
    assert 'href="../../desk/index.html"' in site.page("en/exercises/leg-lift/index.html")


def test_due_soon_is_on_the_desk_and_nowhere_else() -> None:
    """A review that ends within the clinic's days of notice is planned, not marked."""
    site = site_of(texts_with(FOOT, ("on: 2026-09-14", "on: 2025-12-20")))
    assert "Due soon Foot lift By December 20, 2026, by lead physiotherapist" in text_of(site, "en/desk/index.html")
    assert "has been due" not in text_of(site, "en/exercises/foot-lift/index.html")
    assert "Nothing is due." in text_of(site_of(), "en/desk/index.html")


def test_news() -> None:
    """The latest first, with what changed and why something went."""
    ledger = retire(publish(CHANGED, LATER, publish()), "B222", why="It was doubled.")
    texts = {path: text.replace(", exercises: [leg-lift]", ", exercises: [foot-lift]").replace(", {exercise: leg-lift, dose: {sets: 1}}", "")
             for path, text in CHANGED.items() if path != "exercises/leg-lift.md"}  # fmt: skip
    site = site_of(texts, ledger)
    text = text_of(site, "en/new/index.html")
    assert text.index("November 25, 2026") < text.index("Foot lift: changed the dose how to do it") < text.index("September 15, 2026")
    assert "Leg lift: withdrawn It was doubled." in text
    feed = ElementTree.fromstring(site.files["en/new/feed.xml"])
    titles = [entry.findtext(f"{ATOM}title") for entry in feed.findall(f"{ATOM}entry")]
    assert titles[:3] == ["Foot lift: changed", "Leg lift: withdrawn", "Stand up well: changed"]  # and First days
    assert feed.findtext(f"{ATOM}updated") == "2026-11-25T00:00:00Z"
    ids = [entry.findtext(f"{ATOM}id") for entry in feed.findall(f"{ATOM}entry")]
    assert len(set(ids)) == len(ids) == 7
    assert f"{MIRRORED}/new/feed.xml" in site.files


def test_sitemap_names_each_language() -> None:
    """Each page once in each language, each with all its counterparts; no tools and no pages of codes."""
    site = site_of(TEXTS, publish())
    root = ElementTree.fromstring(site.files["sitemap.xml"])
    places = [url.findtext(f"{MAP}loc") or "" for url in root]
    assert len(set(places)) == len(places)
    assert "https://clinic.example/en/exercises/foot-lift/index.html" in places
    links = [link.get("hreflang") for link in next(url for url in root if (url.findtext(f"{MAP}loc") or "").endswith("/en/exercises/foot-lift/index.html")) if link.get("hreflang")]
    assert links == ["en", MIRRORED]
    assert not any("/code/" in place or "/desk/" in place for place in places)
    assert all(place.removeprefix("https://clinic.example/") in site.files for place in places)


def test_only_the_named_version_is_shown() -> None:
    """The style sheet shows a former version only where the address names it."""
    style = next(data.decode() for path, data in site_of().files.items() if path.startswith("assets/screen."))
    assert re.search(r"\.old-sheet\s*\{\s*display:\s*none[;}]", style)
    assert re.search(r"\.old-sheet:target\s*\{\s*display:\s*block[;}]", style)


def test_first_publication_has_no_old_sheet() -> None:
    """A sheet of the present version is told nothing."""
    site = site_of(TEXTS, publish())
    assert "old-sheet" not in site.page("en/exercises/foot-lift/index.html").split("<main")[1]


def test_clinician_who_picks_an_overdue_exercise_is_told() -> None:
    """The book of the bundle page has the line for the overdue exercise, and none for another."""
    library = small_library(OVERDUE)
    history = History(overdue={"exercises/foot-lift": date(2026, 11, 10)})
    clinician = read_clinician_pages(read_templates())
    wordings = {"en": Wording("en")}
    files = lay_out_site([library], wordings, Drawings(), asset_sources(), Edition(version="V", history=history), site_parts=(clinician,))
    book = next(data.decode() for path, data in files.items() if path.startswith("assets/book.en."))
    entries = json.loads(book[book.index("{") : book.rindex("}") + 1])["exercises"]
    assert {code: entry["overdue"] for code, entry in entries.items()} == {"A222": "The review of this has been due since November 10, 2026.", "B222": ""}
