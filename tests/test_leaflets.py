"""Advice sheets from file to page, sheet and ledger; and those of the demo against the clinic's own rules."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present
from handouts.model import CautionKind, Library
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import plan_documents, plan_paths
from handouts.rules.lapsed import sort_by_review
from handouts.site.context import Edition
from handouts.words.translate import translate_library
from tests.kept import kept
from tests.paper.making import a_setting, pages_of, text_of
from tests.site.making import make_site
from tests.small_library import FUNCTION_TEST, LEAFLET, LESSON, TEXTS, messages, small_library, texts_with
from tests.words.demo import libraries
from tests.words.sample import change_one, translated

FILE = "leaflets/rest-well.md"
PAGE = "en/leaflets/rest-well/index.html"
LAST_SHEETS = ("after-steady-on-stairs", "after-the-hill-path", "after-reach-again", "after-run-the-hill-path")
"""The demo's sheets for the end of a programme, one for each."""
SHOW = ("grace days: 90}", "grace days: 90, unreviewed translations: show}")


def advised(*edits: tuple[str, str]) -> Library:
    """The small library with an advice sheet."""
    return small_library(texts_with(FILE, *edits, **{FILE: LEAFLET}))


def test_no_problem() -> None:
    """The advice sheet that others break is whole."""
    assert messages(texts_with(FILE, **{FILE: LEAFLET})) == []


def test_it_has_no_dose() -> None:
    """A dose is no key of an advice sheet."""
    dosed = LEAFLET.replace("code: L222", "code: L222\ndose: {sets: 2}")
    assert messages(texts_with(FILE, **{FILE: dosed})) == [
        "content/leaflets/rest-well.md:3:1: error: unknown key 'dose' in an advice sheet. Use one of: cautions, code, come back when, for, keep, points, programme, review, sources, title, why. [unknown-key]"
    ]


def test_reading_level() -> None:
    """Its text keeps to the clinic's reading level as an exercise's does."""
    hard = LEAFLET.replace("- Set a timer.", "- Perioperative physiological deconditioning necessitates individualised multidisciplinary rehabilitation.")
    assert any("[reading-level]" in message and "rest-well" in message for message in messages(texts_with(FILE, **{FILE: hard})))


@pytest.mark.parametrize(("edit", "part"), [(("Rest before you hurt", "Rest often"), "tips"), (("Set a timer", "Set a clock"), "steps"), (("in time", "soon"), "why")])
def test_each_change_is_a_version_with_a_name(edit: tuple[str, str], part: str) -> None:
    """What a reader sees of it changes its stamp, and the ledger says which part; exercises keep theirs."""
    before, after = (stamps_of(advised()), stamps_of(advised(edit)))
    (old,), (new,) = ([each for each in find_present(library, stamps_of(library)) if each.kind == "leaflet"] for library in (advised(), advised(edit)))
    assert {name for name in old.parts if old.parts[name] != new.parts[name]} == {part}
    assert {item for item in before if before[item] != after[item]} == {"leaflets/rest-well", ""}
    assert {item: stamp for item, stamp in stamps_of(small_library()).items() if item} == {
        item: stamp for item, stamp in before.items() if item and item != "leaflets/rest-well"
    }


def test_what_is_not_whole_in_a_language_is_not_published_there() -> None:
    """One missing text keeps the sheet back, and only it."""
    library = small_library({**texts_with("clinic.yaml", SHOW), FILE: LEAFLET})
    made = translate_library(library, change_one(translated(library), "leaflet/L222/point", ""))
    assert made.library is not None and made.library.leaflets == () and len(made.library.exercises) == 2
    whole = translate_library(library, translated(library)).library
    assert whole is not None and [each.slug for each in whole.leaflets] == ["rest-well"]


def test_page_and_sheet() -> None:
    """Points and stop rules stand on the page and on the one page of the sheet; home and foot lead to the page."""
    library = advised()
    files = make_site([library], Edition(version="K7QX2M", pdfs=frozenset(plan_paths(library))))
    page = " ".join(files[PAGE].decode().split())
    for said in ("Keep in mind", "Rest before you hurt.", "Set a timer.", 'id="stop"', "You have sharp pain.", "rest-well-letter-standard.pdf"):
        assert said in page, said
    assert 'href="leaflets/rest-well/index.html"' in files["en/index.html"].decode()
    assert 'href="../../leaflets/index.html"' in files["en/exercises/foot-lift/index.html"].decode()
    makers = plan_documents(a_setting(library))
    laid = kept(lay_out_document, makers["en/leaflets/rest-well/rest-well-letter-standard.pdf"]())
    assert laid.problems == ()
    (front,) = pages_of(text_of(laid.pdf))
    for said in ("Rest well", "Rest before you hurt.", "Set a timer.", "You have sharp pain. Stop and call us.", "L222"):
        assert said in " ".join(front.split()), said


LAST = ("cautions: [stop-pain]", "cautions: [stop-pain]\nprogramme: stand-up\nkeep: [foot-lift, B222]\ncome back when: [You fall.]")
"""An edit that makes the advice sheet one for the end of a programme."""


def test_the_sheet_at_the_end_of_a_programme() -> None:
    """It shows what to keep up with its dose, and when to come back; the programme's page leads to it."""
    library = advised(LAST)
    files = make_site([library], Edition(version="K7QX2M"))
    page = " ".join(files[PAGE].decode().split())
    for said in ("Keep these up", "Leg lift", "Come back when", "You fall.", 'href="../../programmes/stand-up/index.html"'):
        assert said in page, said
    assert 'href="../../leaflets/rest-well/index.html"' in files["en/programmes/stand-up/index.html"].decode()
    makers = plan_documents(a_setting(library))
    laid = kept(lay_out_document, makers["en/leaflets/rest-well/rest-well-letter-standard.pdf"]())
    (front,) = pages_of(text_of(laid.pdf))
    shown = " ".join(front.split())
    assert "2 sets of 10" in shown and "Come back when" in shown and "You fall." in shown


def test_it_follows_its_exercises() -> None:
    """A new dose of what is to be kept up is a new version of the sheet; what is held back is on no sheet."""
    dosed = texts_with("exercises/foot-lift.md", ("{sets: 2, reps: 10, tempo", "{sets: 3, reps: 10, tempo"), **{FILE: LEAFLET.replace(*LAST)})
    before, after = stamps_of(advised(LAST)), stamps_of(small_library(dosed))
    assert before["leaflets/rest-well"] != after["leaflets/rest-well"]
    lapsed = texts_with("exercises/foot-lift.md", ("on: 2026-09-14", "on: 2024-01-01"), **{FILE: LEAFLET.replace(*LAST)})
    standing = sort_by_review(small_library(lapsed), date(2026, 11, 25))
    assert standing.library.leaflets == () and [each.slug for each in standing.held_back] == ["foot-lift", "rest-well"]
    library = small_library({**texts_with("clinic.yaml", SHOW), FILE: LEAFLET.replace(*LAST)})
    made = translate_library(library, change_one(translated(library), "exercise/A222/feel", ""))
    assert made.library is not None and made.library.leaflets == ()
    assert ("leaflet", "rest-well", ("exercise foot-lift is not published",)) in [(gap.kind, gap.slug, gap.because) for gap in made.gaps]


@pytest.mark.parametrize("language", ["en", "es", "ar"])
def test_the_flare_sheet_says_what_the_clinic_says(language: str) -> None:
    """The demo's sheet for a flare is no gentler and no harder than the clinic's flare plan: half, 2 days, above 5."""
    library = libraries()[language]
    leaflet = library.leaflet["when-it-flares-up"]
    text = " ".join(words.text for section in leaflet.sections for block in section.blocks for words in block.items)
    halves = {"en": "half", "es": "mitad", "ar": "نصف"}[language]
    assert text.count(halves) >= 3
    days = {"en": "rest from your exercises for 2 days", "es": "descanse de sus ejercicios 2 días", "ar": "استرح من تمارينك يومين (2)"}[language]
    assert days in text
    above = {"en": "above 5 out of 10: stop. Call us today.", "es": "más de 5 de 10: pare. Llámenos hoy.", "ar": "فوق 5 من 10: توقف. اتصل بنا اليوم."}[language]
    assert above in text


def test_every_advice_sheet_of_the_demo_has_a_stop_rule_in_each_language() -> None:
    """Stop rules stand on each sheet; es and ar have all sheets."""
    for language in ("en", "es", "ar"):
        library = libraries()[language]
        assert set(library.leaflet) == {"pace-yourself", "when-it-flares-up", "sleep-with-a-sore-shoulder", *LAST_SHEETS}
        for leaflet in library.leaflets:
            assert any(library.caution[ref.slug].kind is CautionKind.STOP for ref in leaflet.cautions), leaflet.slug


def test_every_programme_of_the_demo_ends_with_a_sheet() -> None:
    """Two or three exercises to keep, and when to come back, for each programme."""
    library = libraries()["en"]
    sheets = {sheet.programme.slug: sheet for sheet in library.leaflets if sheet.programme}
    assert set(sheets) == set(library.programme)
    assert all(2 <= len(sheet.keep) <= 3 and sheet.come_back for sheet in sheets.values())


def test_handed_over_with_a_bundle(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By name in the command, or in the bundle's file: in chart and record; what is for clinicians is not handed over."""
    bundle = TEXTS["bundles/first-days.yaml"].replace("weeks: 2", "weeks: 2\ntests: [chair-stand]")
    texts = texts_with(FILE, **{FILE: LEAFLET, "tests/chair-stand.md": FUNCTION_TEST, "lessons/teach-foot-lift.md": LESSON, "bundles/first-days.yaml": bundle})
    for path, text in texts.items():
        (tmp_path / "lib" / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "lib" / path).write_text(text, encoding="utf-8")

    def ask(*words: str) -> tuple[int, str]:
        capsys.readouterr()
        done = main(["bundle", "first-days", "--library", str(tmp_path / "lib"), "--to", str(tmp_path / "x"), *words])
        said = capsys.readouterr()
        return done, said.out + said.err

    assert "\nHanded over with it: Chair stand (T222)\n" in ask("--chart")[1]
    assert "\nHanded over with it: Chair stand (T222) and Rest well (L222)\n" in ask("--chart", "--with", "rest-well", "--with", "T222")[1]
    documents = json.loads(ask("--fhir", "--with", "rest-well")[1])["relatedArtifact"][-2:]
    assert [(each["type"], each["display"], each["document"]["url"].partition("/en/")[2]) for each in documents] == [
        ("documentation", "Chair stand", "tests/chair-stand/"), ("documentation", "Rest well", "leaflets/rest-well/"),
    ]
    assert ask("--chart", "--with", "teach-foot-lift") == (2, "handouts: 'teach-foot-lift' is for clinicians: lessons and classes are not handed over.\n")
    assert "Did you mean 'rest-well'?" in ask("--chart", "--with", "rest-wel")[1]


def test_on_the_page_of_a_bundle() -> None:
    """What goes with a ready-made bundle stands there as links."""
    bundle = TEXTS["bundles/first-days.yaml"].replace("weeks: 2", "weeks: 2\nleaflets: [rest-well]")
    library = small_library(texts_with(FILE, **{FILE: LEAFLET, "bundles/first-days.yaml": bundle}))
    page = make_site([library], Edition(version="K7QX2M"))["en/bundles/first-days/index.html"].decode()
    assert '<a href="../../leaflets/rest-well/index.html">Rest well</a>' in page.partition("Goes with it")[2]
