"""How an exercise is taught: from file to page and card; it follows its exercise and holds none back."""

from __future__ import annotations

from datetime import date
from functools import partial

import pytest

from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present
from handouts.model import Library
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import plan_documents, plan_paths
from handouts.rules.lapsed import sort_by_review
from handouts.site.context import Edition
from handouts.words.translate import translate_library
from tests.kept import kept
from tests.paper.making import a_setting, pages_of, text_of
from tests.paper.test_printable import read_letters
from tests.site.making import make_site
from tests.small_library import LESSON, messages, small_library, texts_with
from tests.words.demo import libraries
from tests.words.sample import change_one, translated

FILE = "lessons/teach-foot-lift.md"
PAGE = "en/lessons/teach-foot-lift/index.html"
FOOT = "exercises/foot-lift.md"
SHOW = ("grace days: 90}", "grace days: 90, unreviewed translations: show}")


def taught(*edits: tuple[str, str]) -> Library:
    """The small library with a lesson."""
    return small_library(texts_with(FILE, *edits, **{FILE: LESSON}))


def test_no_problem() -> None:
    """The lesson that others break is whole: its stop rule is its exercise's."""
    assert messages(texts_with(FILE, **{FILE: LESSON})) == []


def test_page_and_card() -> None:
    """The card has all that is asked of it on one page, with the exercise's first mistake and stop rules, and a box for each question."""
    library = taught()
    files = make_site([library], Edition(version="K7QX2M", pdfs=frozenset(plan_paths(library))))
    page = " ".join(files[PAGE].decode().split())
    makers = plan_documents(a_setting(library))
    document = makers["en/lessons/teach-foot-lift/teach-foot-lift-letter-standard.pdf"]()
    laid = kept(lay_out_document, document)
    assert laid.problems == ()
    (front,) = pages_of(text_of(laid.pdf))
    card = " ".join(front.split())
    for said in (
        "Set the chair against a wall.", "The side", "The back stays tall.", "One hand on the knee.", "You lean back.", "Sit up tall.",
        "The back rounds.", "What makes you stop?", "You have sharp pain.", "Foot lift",
    ):  # fmt: skip
        assert said in page, said
        assert said in card, said
    assert "Lift half as high." in card  # what is easier comes from the exercise
    assert document.html.count('<span class="box"></span>') == 1
    assert 'href="../../lessons/teach-foot-lift/index.html"' in files["en/exercises/foot-lift/index.html"].decode()
    assert "lessons/teach" not in files["en/index.html"].decode()  # it is not for patients
    assert "lessons" not in make_site([small_library()])["en/exercises/foot-lift/index.html"].decode()


def test_it_follows_its_exercise_and_holds_none_back() -> None:
    """A new step of the exercise is a new version of the card; a lesson that is not translated leaves its exercise published."""
    changed = small_library(texts_with(FOOT, ("1. Sit on a chair.", "1. Sit tall on a chair."), **{FILE: LESSON}))
    assert stamps_of(taught())["lessons/teach-foot-lift"] != stamps_of(changed)["lessons/teach-foot-lift"]
    assert stamps_of(taught())["exercises/foot-lift"] == stamps_of(small_library())["exercises/foot-lift"]
    library = small_library({**texts_with("clinic.yaml", SHOW), FILE: LESSON})
    made = translate_library(library, change_one(translated(library), "lesson/Z222/set-up", "")).library
    assert made is not None and made.lessons == () and len(made.exercises) == 2
    lapsed = small_library(texts_with(FOOT, ("on: 2026-09-14", "on: 2024-01-01"), **{FILE: LESSON}))
    assert sort_by_review(lapsed, date(2026, 11, 25)).library.lessons == ()
    old = small_library(texts_with(FILE, ("on: 2026-09-14", "on: 2024-01-01"), **{FILE: LESSON}))
    standing = sort_by_review(old, date(2026, 11, 25)).library
    assert standing.lessons == () and len(standing.exercises) == 2


@pytest.mark.parametrize(
    ("edit", "part"),
    [(("against a wall", "near a wall"), "steps"), (("stays tall", "stays long"), "tips"), (("rounds", "bends"), "ready"), (("Clinicians.", "Assistants."), "why")],
)
def test_each_change_is_a_version_with_a_name(edit: tuple[str, str], part: str) -> None:
    """The ledger says which part of a lesson changed."""
    (old,), (new,) = ([each for each in find_present(library, stamps_of(library)) if each.kind == "lesson"] for library in (taught(), taught(edit)))
    assert {name for name in old.parts if old.parts[name] != new.parts[name]} == {part}


def test_lessons_of_the_demo() -> None:
    """The demo's lessons are there in English, Spanish and Arabic, each with questions that a patient can read."""
    for language in ("en", "es", "ar"):
        assert {each.exercise.slug for each in libraries()[language].lessons} == {"sit-to-stand", "bridge", "one-leg-stand", "band-row"}
    assert all(2 <= len(each.questions) <= 5 for each in libraries()["en"].lessons)


def test_sign_off_of_assistants() -> None:
    """Page and sheet have every point of each lesson with three boxes, and lines for names and days by hand; without lessons there is neither."""
    library = taught()
    files = make_site([library], Edition(version="K7QX2M", pdfs=frozenset(plan_paths(library))))
    page = " ".join(files["en/competence/index.html"].decode().split())
    setting = a_setting(library)
    makers = plan_documents(setting)
    assert all(isinstance(make, partial) and make.args[0] is setting for make in makers.values())  # else what it reads is not known
    document = makers["en/competence/competence-letter-standard.pdf"]()
    laid = kept(lay_out_document, document)
    assert laid.problems == ()
    assert read_letters(laid.pdf)[2] == []  # no column stands past the edge of the paper
    (front,) = pages_of(text_of(laid.pdf))
    sheet = " ".join(front.split())
    points = (
        "Set the chair against a wall.", "The side: The back stays tall.", "One hand on the knee.", "You lean back. Sit up tall.",
        "The back rounds.", "What makes you stop?", "Says the stop rules of this exercise, and whom to call.",
    )  # fmt: skip
    for said in ("Foot lift", *points):
        assert said in page, said
        assert said in sheet, said
    for said in ("Seen", "Supervised", "Alone", "Assistant:", "Signed off by", "Date"):
        assert said in sheet, said
    assert document.html.count('<span class="box"></span>') == 3 * len(points) == page.count('<span class="box"></span>')
    assert 'href="competence-letter-standard.pdf"' in page
    assert 'href="../lessons/teach-foot-lift/index.html"' in page
    for path in (PAGE, "en/lessons/index.html"):
        assert "competence/index.html" in files[path].decode(), path
    assert not any("input" in line or "<form" in line for line in page.split(">") if "search" not in line)
    none = small_library()
    assert "en/competence/index.html" not in make_site([none])
    assert not [path for path in (*plan_paths(none), *plan_documents(a_setting(none))) if "competence" in path]
    assert set(plan_paths(library)) == set(plan_documents(a_setting(library)))
