"""The views of sheets and booklets: ticks, columns, what stands where, small figures with ids of their own."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from markupsafe import Markup

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import decode_bundle
from handouts.bundle.values import OpenedBundle, Origin
from handouts.ledger.entries import EXERCISE
from handouts.ledger.history import HeldBack
from handouts.model import Dose, DoseChange, DoseStage, Ref
from handouts.paper.booklet import small_figure, view_bundle, view_programme
from handouts.paper.compact import tick_row
from handouts.paper.geometry import (
    NARROWEST,
    WIDEST,
    bottom_margin,
    column_rules,
    figure_share,
    figure_width,
    top_margin,
)
from handouts.paper.plan import bundle_document, programme_document, tier_document
from handouts.paper.sheet import view_exercise
from handouts.paper.text_width import text_width
from handouts.paper.ticks import tick_exercises, tick_weeks
from handouts.site.context import missing_line
from handouts.words.wording import Wording
from tests.builders import PLACE
from tests.history_pages.making import LATER
from tests.paper.making import BUNDLE, EDITION, a_setting, documents
from tests.small_library import small_library, texts_with

SPEECH = Wording("en")


@pytest.mark.parametrize(("days", "weeks"), [(1, 4), (2, 4), (3, 4), (4, 4), (5, 4), (6, 3), (7, 3), (None, 3)])
def test_weeks_of_a_sheet(days: int | None, weeks: int) -> None:
    """As many weeks as fit beside the heading, at most four; a box for each day."""
    ticks = tick_weeks(Dose(place=PLACE, reps=10, days=days), SPEECH)
    assert len(ticks.heads) == weeks
    assert [len(cell.boxes) for cell in ticks.rows[0].cells] == [days or 7] * weeks


def test_twice_a_day_has_two_rows() -> None:
    """A row of boxes for each time of the day."""
    assert len(tick_weeks(Dose(place=PLACE, reps=10, days=3, times=2), SPEECH).rows) == 2


@pytest.mark.parametrize("fields", [{"times": 4}, {"every_minutes": 30}, {"occasion": Ref("breathless", PLACE)}])
def test_many_times_a_day_are_marks_in_the_day_s_box(fields: dict[str, Any]) -> None:
    """One wide box a day, and the heading says what to do in it; in a list, boxes of other exercises stay as they are."""
    dose = Dose(place=PLACE, reps=10, days=7, **fields)
    ticks = tick_weeks(dose, SPEECH)
    assert len(ticks.heads) == 2
    assert (ticks.heading, [row.cells[0].boxes for row in ticks.rows]) == ("Each time, a mark in the day's box", [("box tally",) * 7])
    (table, *_) = tick_exercises([("Bridge", Dose(place=PLACE, reps=10, days=3)), ("Ankles", dose)], 2, SPEECH)
    assert table.heading == "Tick a box each time you do it. In a wide box, make a mark each time that day"
    assert [row.cells[0].boxes for row in table.rows] == [("box",) * 3, ("box tally",) * 7]


def test_boxes_follow_the_stages() -> None:
    """Two days a week, three from week 3: each week has as many boxes as its stage asks for days, in tables and in rows."""
    dose = Dose(place=PLACE, reps=10, days=2)
    stages = (DoseStage(place=PLACE, week=3, change=DoseChange(place=PLACE, days=3)),)
    (table, *_) = tick_exercises([("Bridge", dose)], 4, SPEECH, stages=[stages])
    assert [len(cell.boxes) for cell in table.rows[0].cells] == [2, 2, 3, 3]
    assert [len(week.boxes) for week in tick_row(dose, 4, SPEECH, stages)] == [2, 2, 3, 3]


def test_many_weeks_are_split() -> None:
    """Twelve weeks of three days: seven fit beside one another, five follow; the weeks count on."""
    first, second = tick_exercises([("Bridge", Dose(place=PLACE, reps=10, days=3))], 12, SPEECH)
    assert (first.heads[0], first.heads[-1], second.heads[0], second.heads[-1]) == ("Week 1", "Week 7", "Week 8", "Week 12")


def test_columns_fill_the_page() -> None:
    """The column of a figure is as wide as its aim needs, neither column is too narrow, and both with their gap of 7 mm fill the page."""
    width = 210.0 - 2 * 10.5
    assert figure_share(1.0, width, 60.0) == round(max(NARROWEST, 60 / (width - 7)), 3)
    assert (figure_share(0.5, width, 60.0), figure_share(3.0, width, 60.0)) == (NARROWEST, WIDEST)
    widths = [float(each) for each in re.findall(r"width: ([\d.]+)mm", column_rules("article", width, 0.4))]
    assert widths[0] + widths[1] + 7 == pytest.approx(width) and widths[0] == round(figure_width(width, 0.4), 2)
    assert 2 * widths[2] + 7 == pytest.approx(width)


def test_margins_grow_with_their_lines() -> None:
    """One line of head or foot needs the usual margin, a second one line more."""
    assert top_margin("standard", 92, "letter") + 5.1 == pytest.approx(top_margin("standard", 93, "letter"))
    assert bottom_margin("large", [20, 25], 12, "a4") + 6.8 == pytest.approx(bottom_margin("large", [20, 29], 12, "a4"))
    assert bottom_margin("large", [21, 48, 34], 13, "letter") == pytest.approx(bottom_margin("large", [21], 13, "letter") + 2 * 6.8)


def test_a_sheet_alone_promises_no_step() -> None:
    """Alone an exercise leads to the next one where there is one; the goal is a programme's."""
    setting, library = a_setting(), small_library()
    assert view_exercise(setting, library.exercise["foot-lift"]).labels.ready == "You are ready for the next exercise when"
    assert view_exercise(setting, library.exercise["leg-lift"]).labels.ready == "You do this exercise well when"


def test_emergency_rules_come_first() -> None:
    """Of the stop rules those that call the emergency number stand at the head, then the clinic's."""
    texts = texts_with(
        "cautions.yaml",
        ("cautions:\n", "cautions:\n  - {slug: chest, kind: stop, when: Your chest hurts., do: Call 911., call: emergency, source: x}\n"),
        **{"exercises/foot-lift.md": small_texts("cautions: [stop-pain]", "cautions: [go-slow, stop-pain, chest]")},
    )
    library = small_library(texts)
    safety = view_exercise(a_setting(library), library.exercise["foot-lift"]).safety
    assert [group.kind for group in safety.groups] == ["stop", "care"]
    assert [row.see for row in safety.groups[0].rows] == ["Your chest hurts.", "You have sharp pain."]
    assert safety.groups[0].calls == ("Emergency: 911",) and safety.groups[1].calls == ()


def test_what_to_ask_first_has_its_answer_once() -> None:
    """Conditions with one answer stand in one row before it; other answers, and stop rules, keep theirs."""
    asks = "".join(
        f"  - {{slug: {slug}, kind: {kind}, when: {when}, do: {do}, source: x{', call: none' if kind == 'stop' else ''}}}\n"
        for slug, kind, when, do in (
            ("hip", "ask", "Your hip is new.", "Ask us first."),
            ("bone", "ask", "Your bones are thin.", "Ask us which moves suit you."),
            ("knee", "ask", "Your knee is new.", "Ask us first."),
            ("one", "stop", "It hurts.", "Stop."),
            ("two", "stop", "It swells.", "Stop."),
        )
    )
    texts = texts_with("cautions.yaml", ("cautions:\n", "cautions:\n" + asks),
                       **{"exercises/foot-lift.md": small_texts("cautions: [stop-pain]", "cautions: [one, two, hip, bone, knee]")})
    library = small_library(texts)
    stop, ask = view_exercise(a_setting(library), library.exercise["foot-lift"]).safety.groups
    assert [(row.see, row.do) for row in ask.rows] == [
        ("Your hip is new. Your knee is new.", "Ask us first."), ("Your bones are thin.", "Ask us which moves suit you."),
    ]  # fmt: skip
    assert [row.do for row in stop.rows] == ["Stop.", "Stop."]


def small_texts(old: str, new: str) -> str:
    """The first exercise of the small library with one change."""
    return texts_with("exercises/foot-lift.md", (old, new))["exercises/foot-lift.md"]


def test_wide_letters_count_twice() -> None:
    """A Chinese letter is as wide as two Latin ones; markup has no width."""
    assert (text_width(Markup("<b>knee</b>")), text_width("膝" * 4), text_width("a膝")) == (4, 8, 3)


def test_stair_is_numbered_and_says_what_builds_on_what() -> None:
    """The exercises of a programme are numbered through; each names those it builds on."""
    library = small_library()
    booklet = view_programme(a_setting(), library.programmes[0])
    assert [[(entry.number, str(entry.title), entry.line) for entry in step.entries] for step in booklet.stair] == [
        [("1", "Foot lift", "")], [("2", "Leg lift", "after 1")],
    ]
    assert [step.look.split()[:2] for step in booklet.stair] == [["step-0", "row-2"], ["step-1", "row-1"]]


def test_bundle_shows_its_session() -> None:
    """Minutes and equipment of one session stand on the cover."""
    library = small_library()
    booklet = view_bundle(a_setting(), library.bundles[0], ("https://clinic.example/",), "")
    assert booklet.notes[-1] == "Have ready: Chair." and booklet.notes[0].startswith("One session: about ")


def test_small_figure_has_ids_of_its_own() -> None:
    """No id stands twice in one document."""
    library = small_library()
    svg = str(small_figure(a_setting(), library.exercise["foot-lift"], "list"))
    assert 'id="figure-foot-liftt-list"' in svg and 'id="figure-foot-liftt"' not in svg


def test_a_ready_made_bundle_has_its_code_in_letters() -> None:
    """The booklet's own code, in groups of four, opens the bundle on its page of the clinician, with what it was begun from."""
    label, _, after = documents()[BUNDLE.format("letter", "standard")].html.partition('<p class="typed">')[2].partition("</p>")[0].partition(" <span")
    typed = after.partition(">")[2].partition("<")[0]
    assert label == "Code of this sheet:"
    assert {len(group) for group in typed.split()[:-1]} == {4}
    opened = decode_bundle(typed, make_catalogue(small_library()))
    assert isinstance(opened, OpenedBundle)
    (bundle,) = [each for each in small_library().bundles if each.slug == "first-days"]
    assert (opened.bundle.weeks, opened.bundle.origin, opened.bundle.language) == (bundle.weeks, Origin("bundle", "first-days"), "en")
    assert [pick.exercise for pick in opened.bundle.picks] == [pick.exercise for pick in bundle.picks]


@pytest.mark.parametrize("kind", ["programmes", "bundles"])
def test_paper_says_what_a_language_lacks_as_the_page_does(kind: str) -> None:
    """A programme, its steps and a bundle that lack an exercise say so on their cover, with the reason."""
    library = small_library()
    programme, bundle = library.programmes[0], library.bundles[0]
    item = f"programmes/{programme.slug}" if kind == "programmes" else f"bundles/{bundle.slug}"
    held = HeldBack(EXERCISE, "gone", "G2G2", "Gone", LATER, "physiotherapist")
    for history, said in ((EDITION.history, "not translated"), (replace(EDITION.history, held_back=(held,)), "review")):
        setting = replace(a_setting(library), edition=replace(EDITION, left_out={"en": {item: ("gone",)}}, history=history))
        made = [programme_document(setting, programme), tier_document(setting, programme, 0)] if kind == "programmes" else [bundle_document(setting, bundle)]
        for document in made:
            assert missing_line(setting.edition, setting.wording, "en", item) in document.html
            assert said in missing_line(setting.edition, setting.wording, "en", item)
        whole = programme_document(a_setting(library), programme) if kind == "programmes" else bundle_document(a_setting(library), bundle)
        assert missing_line(setting.edition, setting.wording, "en", item) not in whole.html


def test_a_step_says_what_it_lacks_itself() -> None:
    """Its booklet is whole where another step of the programme lacks an exercise; one whose step nobody knows is said in each."""
    library = small_library()
    programme = library.programmes[0]
    item, own = f"programmes/{programme.slug}", programme.tiers[0].tier.slug
    for steps, said in (({"gone": ("other",)}, False), ({"gone": ("other", own)}, True), ({}, True)):
        setting = replace(a_setting(library), edition=replace(EDITION, left_out={"en": {item: ("gone",)}}, steps={item: steps}))
        line = missing_line(setting.edition, setting.wording, "en", item)
        assert (line in tier_document(setting, programme, 0).html) is said
        assert line in programme_document(setting, programme).html
