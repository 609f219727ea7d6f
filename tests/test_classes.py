"""A class: times by the clock, levels and what to watch, from file to page; what becomes of it when an exercise goes."""

from __future__ import annotations

import json
import re
from datetime import date
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from handouts.clinician.offline import WORKER, add_worker
from handouts.dose.class_time import class_parts, class_seconds, round_seconds
from handouts.ledger.entries import KINDS, STANDALONE, folder_of
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present
from handouts.library.names import FOLDERS
from handouts.model import Library
from handouts.paper.plan import plan_paths
from handouts.publication.class_plans import say_class_facts
from handouts.rules.lapsed import sort_by_review
from handouts.rules.withdrawn import without
from handouts.site.context import Edition
from handouts.words.translate import translate_library
from handouts.words.wording import Wording
from tests.site.axe import bring_axe, violations
from tests.site.making import ROOT, make_site, write_site
from tests.small_library import CLASS, messages, small_library, texts_with
from tests.words.demo import libraries
from tests.words.sample import change_one, translated

FILE = "classes/chair-circle.yaml"
PAGE = "en/classes/chair-circle/index.html"
FOOT, LEG = "exercises/foot-lift.md", "exercises/leg-lift.md"
SHOW = ("grace days: 90}", "grace days: 90, unreviewed translations: show}")


def grouped(*edits: tuple[str, str]) -> Library:
    """The small library with a class."""
    return small_library(texts_with(FILE, *edits, **{FILE: CLASS}))


def test_no_problem() -> None:
    """The class that others break is whole: its stop rules are those of its exercises."""
    assert messages(texts_with(FILE, **{FILE: CLASS})) == []


def test_times_by_the_clock() -> None:
    """Two stations of 40 s with 20 s before each, two rounds with 60 s between, 2 and 1 minutes around: counted by hand."""
    (plan,) = grouped().classes
    assert [(part.kind, part.seconds, part.station, part.round) for part in class_parts(plan)] == [
        ("warm-up", 120, -1, 0),
        ("change", 20, 0, 1), ("work", 40, 0, 1), ("change", 20, 1, 1), ("work", 40, 1, 1),
        ("change", 60, 0, 2), ("work", 40, 0, 2), ("change", 20, 1, 2), ("work", 40, 1, 2),
        ("cool-down", 60, -1, 0),
    ]  # fmt: skip
    assert (round_seconds(plan), class_seconds(plan)) == (120, 460)
    assert say_class_facts(Wording("en"), plan) == (
        "Work: 40 seconds", "Rest and change: 20 seconds", "2 rounds", "One round: 2 minutes", "Before a further round: 1 minute",
        "All together: 7 minutes 40 seconds", "At most 5 people, 2–3 at a station",
    )  # fmt: skip


def test_page_is_the_plan_and_names_what_the_timer_runs() -> None:
    """Levels, what to watch, faults with their mends, stop rules and the emergency number; the timer's parts are the plan's."""
    library = grouped()
    page = " ".join(make_site([library], Edition(version="K7QX2M"))[PAGE].decode().split())
    for said in (
        "Chair circle", "Station 2", "Level 1", "Foot lift", "Leg lift", "Walk on the spot.", "The chair stands against a wall.",
        "You lean back.", "Sit up tall.", "The back rounds.", "You have sharp pain.", 'href="tel:911"', "Warm-up: 2 minutes",
    ):  # fmt: skip
        assert said in page, said
    found = re.search('data-parts="([^"]*)"', page)
    assert found
    parts = json.loads(unescape(found[1]))
    assert [(part["kind"], part["seconds"]) for part in parts] == [(part.kind, part.seconds) for part in class_parts(library.classes[0])]
    assert [part["says"] for part in parts][:3] == ["Warm-up", "Change to station 1", "Station 1"]
    assert parts[-1]["next"] == "Next: The end" and parts[6]["round"] == "Round 2 of 2"
    assert all(f'id="{part["shows"]}"' in page for part in parts)
    assert not any(part["turn"] for part in parts)  # no exercise here has sides
    assert "classes/chair" not in make_site([library], Edition(version="K7QX2M"))["en/index.html"].decode()  # it is not for patients


def test_each_button_says_what_it_prints() -> None:
    """At the head of the page stand two: for who leads, and the cards."""
    library = small_library(texts_with(FILE, **{FILE: CLASS}))
    page = make_site([library], Edition(version="K7QX2M", pdfs=frozenset(plan_paths(library))))[PAGE].decode()
    assert re.findall(r'<p class="print-early"><a[^>]*>([^<]*)<', page) == ["Print the page for who leads", "Print the station cards"]


def test_sides_change_halfway() -> None:
    """An exercise with sides says so on the plan, and the timer marks the half of its work."""
    one_sided = texts_with(LEG, ("reps: 10,", "reps: 10, side: both,"), **{FILE: CLASS})
    page = " ".join(make_site([small_library(one_sided)], Edition(version="K7QX2M"))[PAGE].decode().split())
    assert page.count("Change sides halfway.") == 2
    assert unescape(page).count('"turn":true') == 4


@pytest.mark.parametrize(
    ("edit", "part"),
    [
        (("work: 40 s", "work: 45 s"), "dose"), (("rounds: 2", "rounds: 3"), "dose"), (("on the spot", "around"), "steps"),
        (("against a wall", "by a wall"), "picks"), (("people: 5", "people: 6"), "needs"), (("back rounds", "back bends"), "ready"),
        (("Chair circle", "Chair round"), "title"), (("find it hard", "find it slow"), "why"),
    ],
)  # fmt: skip
def test_each_change_is_a_version_with_a_name(edit: tuple[str, str], part: str) -> None:
    """The ledger says which part of a class changed."""
    (old,), (new,) = ([each for each in find_present(library, stamps_of(library)) if each.kind == "class"] for library in (grouped(), grouped(edit)))
    assert old.item == "classes/chair-circle" and old.version != new.version
    assert {name for name in old.parts if old.parts[name] != new.parts[name]} == {part}


def test_another_level_is_a_change_of_the_stations() -> None:
    """Not only the exercises in it are others."""
    other = grouped(("  - levels: [foot-lift, leg-lift]\ncool", "  - levels: [foot-lift, foot-lift]\ncool"))
    (old,), (new,) = ([each for each in find_present(library, stamps_of(library)) if each.kind == "class"] for library in (grouped(), other))
    assert {name for name in old.parts if old.parts[name] != new.parts[name]} == {"picks", "exercises"}


def test_exactly_the_minutes_of_the_clinic_are_none_too_many() -> None:
    """30 minutes are within 30; one second more is told, and 'class minutes' is another bound."""
    found = [messages(texts_with(FILE, ("cool down: {time: 1 min", f"cool down: {{time: {seconds} s"), **{FILE: CLASS})) for seconds in (1400, 1401)]
    assert found[0] == [] and len(found[1]) == 1 and "the class takes 30.0 minutes, the clinic advises at most 30." in found[1][0]
    longer = {"clinic.yaml": texts_with("clinic.yaml", ("session: {minutes: 30,", "session: {minutes: 30, class minutes: 45,"))["clinic.yaml"], FILE: CLASS}
    assert messages(texts_with(FILE, ("cool down: {time: 1 min", "cool down: {time: 1401 s"), **longer)) == []


def test_it_follows_its_exercises_and_holds_none_back() -> None:
    """A new step of an exercise is a new version of the class; where one is not translated or not reviewed, the class is not there."""
    changed = small_library(texts_with(FOOT, ("1. Sit on a chair.", "1. Sit tall on a chair."), **{FILE: CLASS}))
    assert stamps_of(grouped())["classes/chair-circle"] != stamps_of(changed)["classes/chair-circle"]
    assert stamps_of(grouped())["exercises/foot-lift"] == stamps_of(small_library())["exercises/foot-lift"]
    library = small_library({**texts_with("clinic.yaml", SHOW), FILE: CLASS})
    made = translate_library(library, change_one(translated(library), "class/V222/watch", "")).library
    assert made is not None and made.classes == () and len(made.exercises) == 2
    lapsed = small_library(texts_with(FOOT, ("on: 2026-09-14", "on: 2024-01-01"), **{FILE: CLASS}))
    assert sort_by_review(lapsed, date(2026, 11, 25)).library.classes == ()
    old = small_library(texts_with(FILE, ("on: 2026-09-14", "on: 2024-01-01"), **{FILE: CLASS}))
    standing = sort_by_review(old, date(2026, 11, 25))
    assert standing.library.classes == () and len(standing.library.exercises) == 2
    assert [(each.kind, folder_of(each.kind)) for each in standing.held_back] == [("class", "classes")]


def test_without_an_exercise_it_goes_on_with_the_other_levels() -> None:
    """What is withdrawn is no level any more; without a station the class goes too."""
    left = without(grouped(), {"exercises/leg-lift": ""})
    assert [[ref.slug for ref in station.levels] for station in left.library.classes[0].stations] == [["foot-lift"], ["foot-lift"]]
    assert ("Chair circle", "goes on without Leg lift") in [(fall.title, fall.says) for fall in left.falls]
    gone = without(grouped(), {"exercises/leg-lift": "", "exercises/foot-lift": ""})
    assert gone.library.classes == ()
    assert "classes/chair-circle" in [fall.item for fall in gone.falls]


def test_every_kind_has_its_folder() -> None:
    """The folder of a kind is that of the library and of the site, whatever its plural."""
    assert {folder_of(kind) for kind in KINDS} == set(FOLDERS)
    assert all(folder_of(kind) == folder for folder, kind in STANDALONE.items())


def test_classes_of_the_demo() -> None:
    """The demo's class is there in English, Spanish and Arabic: six stations of two or three levels, within the clinic's minutes."""
    for language in ("en", "es", "ar"):
        (plan,) = libraries()[language].classes
        assert len(plan.stations) == 6 and {len(station.levels) for station in plan.stations} == {2, 3}
    assert round_seconds(plan) == 6 * 60 and class_seconds(plan) == 28 * 60 + 20


SILENT = """window.tones = 0;
window.AudioContext = class { constructor() { window.tones += 1; this.state = 'running'; this.currentTime = 0; this.destination = {}; }
  createOscillator() { return { frequency: {}, connect: next => next, start() { window.tones += 100; }, stop() {} }; }
  createGain() { return { gain: { setValueAtTime() {}, linearRampToValueAtTime() {} }, connect: next => next }; }
  resume() { return Promise.resolve(); } };
window.locks = [];
Object.defineProperty(navigator, 'wakeLock', { value: { request: async () => { window.locks.push('on'); return { released: false, release: async () => { window.locks.push('off'); } }; } } });
"""
"""Counts tones and remembers whether the screen is to stay on."""


@pytest.fixture(scope="module")
def class_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with a class whose harder exercise has sides, on disk."""
    folder = tmp_path_factory.mktemp("class")
    texts = texts_with(LEG, ("reps: 10,", "reps: 10, side: both,"), **{FILE: CLASS})
    write_site(make_site([small_library(texts)], Edition(version="K7QX2M")), folder)
    return folder


@pytest.mark.browser
@pytest.mark.parametrize("width", [360, 1280])
def test_timer(width: int, browser: Browser, class_folder: Path) -> None:
    """From a folder, without a connection: the clock runs through the class, keys and buttons move it, tones wait to be asked for."""
    context = browser.new_context(viewport={"width": width, "height": 720})
    context.add_init_script(SILENT)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.clock.install(time="2026-11-25T09:00:00")
    page.goto((class_folder / PAGE).as_uri())
    page.clock.pause_at("2026-11-25T09:00:01")
    clock, says, pause = page.locator("#timer-clock"), page.locator("#timer-says"), page.locator("#timer-pause")
    page.get_by_role("button", name="Run the timer").click()
    expect(pause).to_be_focused()
    assert (says.inner_text(), clock.inner_text(), pause.inner_text()) == ("Warm-up", "2:00", "Start")
    assert "Walk on the spot." in page.locator("#timer-now").inner_text()
    assert page.evaluate("document.querySelector('#timer').scrollWidth <= innerWidth")
    page.clock.run_for(5000)
    assert clock.inner_text() == "2:00"  # nothing runs before it is begun
    page.keyboard.press("Space")
    page.clock.run_for(119_000)
    assert clock.inner_text() == "0:01" and page.evaluate("locks") == ["on"] and page.evaluate("tones") == 0
    page.clock.run_for(1000)
    assert says.inner_text() == "Change to station 1" and page.locator("#timer-round").inner_text() == "Round 1 of 2"
    assert page.locator("#timer-next").inner_text() == "Next: Station 1"
    page.get_by_role("button", name="Sound").click()
    page.clock.run_for(20_000)
    assert says.inner_text() == "Station 1" and page.evaluate("tones") == 1 + 4 * 100  # three seconds are counted, then work begins
    assert page.locator("#timer-now .levels > li").count() == 2 and page.locator("#timer-now a").count() == 0
    assert "Leg lift" in page.locator("#timer-now").inner_text()
    page.clock.run_for(20_000)
    assert page.evaluate("tones") == 1 + 5 * 100  # sides change
    pause.focus()
    page.keyboard.press("Space")
    assert pause.inner_text() == "Carry on" and page.evaluate("locks") == ["on", "off"]
    page.clock.run_for(60_000)
    assert clock.inner_text() == "0:20"
    page.keyboard.press("ArrowRight")
    assert (says.inner_text(), clock.inner_text()) == ("Change to station 2", "0:20")
    page.keyboard.press("ArrowLeft")
    assert says.inner_text() == "Station 1"
    page.get_by_role("button", name="Skip").click()
    expect(pause).to_be_focused()
    pause.click()
    page.clock.run_for(600_000)
    assert (says.inner_text(), clock.inner_text()) == ("The end", "0:00") and pause.is_disabled()
    assert page.evaluate("locks").count("off") == 2
    page.locator("#timer-stop").click()
    assert page.locator("#timer").is_hidden() and page.url.endswith("#stop")
    assert all(url.startswith("file:") for url in asked)
    assert page.evaluate("[localStorage.length, sessionStorage.length, document.cookie]") == [0, 0, ""]
    context.close()


@pytest.mark.browser
def test_plan_and_timer_are_accessible(browser: Browser, class_folder: Path) -> None:
    """axe-core finds nothing on the plan, and nothing on the timer in either scheme."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, bypass_csp=True)
    bring_axe(context)
    page = context.new_page()
    page.goto((class_folder / PAGE).as_uri())
    assert violations(page) == []
    page.get_by_role("button", name="Run the timer").click()
    page.locator("#timer-skip").click(click_count=2)
    assert violations(page, ("light", "dark")) == []
    context.close()


@pytest.mark.browser
def test_plan_without_a_script(browser: Browser, class_folder: Path) -> None:
    """Without scripts the page is the plan, and offers no timer."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((class_folder / PAGE).as_uri())
    assert page.get_by_role("heading", name="Station 2").is_visible() and page.get_by_text("You lean back.").first.is_visible()
    assert page.locator("#run").is_hidden() and page.locator("#timer").is_hidden()
    context.close()


def test_worker_keeps_the_page_with_its_script_and_style() -> None:
    """Without a connection the page of a class comes from the site's worker, with all that the timer needs."""
    files = {**make_site([grouped()], Edition(version="K7QX2M")), "en/bundle/index.html": b"<p>a bundle</p>"}
    worker = add_worker(files, ["en"], (ROOT / "templates/scripts/worker.js").read_text("utf-8"))[WORKER].decode()
    assert PAGE in worker
    assert re.search(r"assets/class\.\w+\.css", worker) and re.search(r"assets/class_timer\.\w+\.js", worker)
