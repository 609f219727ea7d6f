"""Booklets: when to stop stands in full once, every other page names that page, and a step's name stands above its first exercise."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

import pytest

from handouts.model import CautionKind
from handouts.paper.articles import Document
from handouts.paper.booklet import view_bundle, view_programme, view_tier
from handouts.paper.context import make_setting, papers_of
from handouts.paper.document import sources_of
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import programme_document, tier_document
from handouts.paper.settle import settle
from handouts.paper.ticks import tick_program
from handouts.paper.views import SafetyView
from handouts.words.wording import Wording
from tests.kept import kept
from tests.paper.making import BOOKLET, BUNDLE, EDITION, TIER, Pictures, a_setting, documents, pages_of, pdf_of, text_of
from tests.small_library import small_library, texts_with
from tests.words.demo import LANGUAGES, libraries

pytestmark = pytest.mark.paper

BOOKLETS = [kind.format("letter", size) for kind in (BOOKLET, TIER, BUNDLE) for size in ("standard", "large")]


def pages(path: str) -> list[str]:
    """The text of each page of a booklet, as it is read from left to right and line by line."""
    return [" ".join(page.split()) for page in pages_of(text_of(pdf_of(path)))]


@pytest.mark.parametrize("path", BOOKLETS)
def test_when_to_stop_once(path: str) -> None:
    """The sign, what to do and the emergency number stand together on one page, before any exercise; the others name that page."""
    found = pages(path)
    (full,) = [number for number, text in enumerate(found, 1) if "You have sharp pain. Stop and call us." in text]
    assert all(f"When to stop: page {full}." in text for number, text in enumerate(found, 1) if number != full)
    assert "When to stop: page" not in found[full - 1]
    assert all("Emergency: 911" in text and "Not sure? Ask us." in text and "555-0100" in text for text in found)
    first = next(number for number, text in enumerate(found, 1) if "How to do it" in text)
    assert full < first
    assert "Pain up to 3 out of 10 is fine" in found[full - 1] and sum("Pain up to 3 out of 10" in text for text in found) == 1


@pytest.mark.parametrize("size", ["standard", "large"])
def test_own_cautions_stay(size: str) -> None:
    """What to take care of in one exercise stands on its own pages, and not beside the stop rules."""
    library = small_library(texts_with("exercises/foot-lift.md", ("cautions: [stop-pain]", "cautions: [stop-pain, go-slow]")))
    laid = kept(lay_out_document, tier_document(a_setting(library, size=size), library.programmes[0], 0))
    (own,) = [" ".join(text.split()) for text in pages_of(text_of(laid.pdf)) if "Go slower." in text]
    assert "Take care if You feel tired. Go slower." in own and "You have sharp pain." not in own


def rows_of(safety: SafetyView, kind: str) -> set[str]:
    """The signs of a kind of caution."""
    return {unescape(str(row.see.striptags())) for group in safety.groups if group.kind == kind for row in group.rows}


@pytest.mark.parametrize("language", ["en", *LANGUAGES])
def test_no_stop_rule_is_lost(language: str) -> None:
    """Every stop rule of every exercise of a booklet of the demo stands on its one page, and every other caution at its exercise."""
    library = libraries()[language]
    setting = make_setting(library, Wording.of(library), Pictures(), EDITION)
    views = [view_programme(setting, each) for each in library.programmes]
    views += [view_tier(setting, each, rank) for each in library.programmes for rank, tier in enumerate(each.tiers) if tier.exercises]
    views += [view_bundle(setting, each, ("https://clinic.example/",), "") for each in library.bundles]
    assert views
    for view in views:
        shown = [library.exercise[page.anchor] for group in view.groups for page in group.exercises]
        for page, exercise in zip((page for group in view.groups for page in group.exercises), shown, strict=True):
            own = [library.caution[ref.slug] for ref in exercise.cautions]
            stops = {unescape(each.when.text).replace("*", "") for each in own if each.kind is CautionKind.STOP}
            assert stops <= rows_of(view.safety, "stop")
            assert not rows_of(page.safety, "stop") and not page.safety.pain
            said = " ".join(str(row.see.striptags()) for group in page.safety.groups for row in group.rows)
            assert all(unescape(each.when.text).replace("*", "") in unescape(said) for each in own if each.kind is not CautionKind.STOP)


@pytest.mark.parametrize("size", ["standard", "large"])
def test_step_above_its_first_exercise(size: str) -> None:
    """The name of a step, its conditions and its first exercise share a page; the table of contents names the right pages."""
    found = pages(BOOKLET.format("letter", size))
    (step,) = [text for text in found if "Start this step when" in text and "How to do it" in text and "Step 1: Wake" in text]
    assert "Foot lift" in step and "Your exercises, in order" not in step
    lines = dict(re.findall(r"(Foot lift|Step 1: Wake|When to stop|Your weeks)[ .]{4,}(\d+)", " ".join(found)))
    assert len(lines) == 4
    for words, number in lines.items():
        assert words in found[int(number) - 1]
        assert words != "When to stop" or "Stop if" in found[int(number) - 1]


def a_long_booklet(size: str) -> Document:
    """A booklet whose first exercise has too many steps to stand below anything."""
    steps = "".join(f"{number}. Push through the whole foot, and stand up.\n" for number in range(3, 16 if size == "large" else 32))
    library = small_library(texts_with("exercises/foot-lift.md", ("2. Lift your foot.\n", f"2. Lift your foot.\n{steps}")))
    return programme_document(a_setting(library, size=size), library.programmes[0])


@pytest.mark.parametrize("size", ["standard", "large"])
def test_no_room_below_the_name(size: str) -> None:
    """Where the first exercise needs its page, the step has one to itself, with the list of its exercises."""
    laid = kept(lay_out_document, a_long_booklet(size))
    found = [" ".join(page.split()) for page in pages_of(text_of(laid.pdf))]
    (step,) = [text for text in found if "Start this step when" in text and "Your exercises, in order" in text]
    assert "How to do it" not in step and "Foot lift" in step


def test_table_of_weeks() -> None:
    """The last page of a programme has a row for each week, with a box for each day that has exercises and room for the step."""
    html = documents()[BOOKLET.format("letter", "standard")].html
    last = html[html.index('<article id="weeks"') :]
    weeks = small_library().programmes[0].weeks
    assert last.count("<tr>") == weeks + 1 and f"Week {weeks}<" in last
    (days,) = {each.dose.days or 7 for each in small_library().exercises}
    assert last.count('class="box"') == weeks * days
    assert "Your weeks" in pages(BOOKLET.format("letter", "standard"))[-1]


def test_no_box_for_a_day_too_many() -> None:
    """Where one exercise asks for more days than another, no week has boxes: who fills them all would train on more days than asked."""
    doses = [replace(each.dose, days=days) for each, days in zip(small_library().exercises, (3, 5), strict=False)]
    table = tick_program(doses, 2, Wording("en"))
    assert table.heads[0] == "Days done (each exercise says how many a week)"
    assert all(cell.boxes == () for row in table.rows for cell in row.cells)
    same = tick_program([doses[0]] * 2, 2, Wording("en"))
    assert same.heads[0] == "Tick a box each day you do your exercises" and [len(row.cells[0].boxes) for row in same.rows] == [3, 3]


@pytest.mark.parametrize("path", BOOKLETS)
def test_whose_plan_comes_first(path: str) -> None:
    """The sentences that defer stand once, with the stop rules or on the page after them; every page says in short whose plan comes first."""
    found = pages(path)
    (full,) = [number for number, text in enumerate(found) if "You have sharp pain. Stop and call us." in text]
    for words in ("Your surgeon's protocol comes first.", "This sheet does not replace your clinician's advice."):
        (at,) = [number for number, text in enumerate(found) if words in text]
        assert full <= at <= full + 1
    assert all("Surgeon's plan first." in text for text in found)


@pytest.mark.parametrize(("language", "size"), [("en", "standard"), ("es", "large"), ("ar", "large")])
def test_parts_stay_whole(language: str, size: str) -> None:
    """In the demo's booklets the map of the steps is one picture, the stop rules share a page,
    on half a sheet two at most, and the table of contents stands on one."""
    library = libraries()[language]
    setting = make_setting(library, Wording.of(library), Pictures(), EDITION).on(papers_of(library)[0], size)
    for each in (setting, setting.folded()) if size == "large" else (setting,):
        document = programme_document(each, library.programme["steady-on-stairs"])
        sources = [source for source in sources_of(document) if source.article.anchor in ("cover", "rules", "contents")]
        laid = {source.article.anchor: settle(source).layout for source in sources}
        assert laid["cover"].pages == 1
        assert laid["rules"].pages <= (2 if each.paper.endswith("folded") else 1)
        assert laid["contents"].pages <= 2
