"""The translator's pages: every text with its state, for languages that are not published too."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from handouts.model import Library
from handouts.templating.assets import read_templates
from handouts.translator.pages import lay_out_review
from handouts.words.catalogue import Catalogue
from handouts.words.messages import collect_messages
from handouts.words.reviews import Reviews, add_review
from handouts.words.state import find_state
from tests.site.making import Drawings
from tests.small_library import small_library
from tests.words.sample import change_one, reviewed, translated, turn, untranslated

FOOT, OTHER, INDEX = (f"ar/review/{name}index.html" for name in ("exercises/foot-lift/", "other/", ""))
FIGURE = "Picture 1 shows the start. Sitting."


def made(catalogue: Catalogue | None = None, reviews: Reviews | None = None, library: Library | None = None) -> dict[str, str]:
    """The pages of the small library in Arabic."""
    source = library or small_library()
    messages = collect_messages(source, {"foot-lift": FIGURE})
    state = find_state(messages, catalogue or translated(source, "ar"), reviews)
    files = lay_out_review(source, [state], Drawings().figure_svg, read_templates())
    return {path: data.decode() for path, data in files.items() if path.endswith(".html")}


def item_with(page: str, text: str) -> str:
    """The list item in which a text stands."""
    (found,) = [item for item in page.split('<li class="text ')[1:] if f">{text}</p>" in item]
    return found


def test_which_pages() -> None:
    """An index, a page for each exercise, one for all else; not for search engines, and nothing leads a patient there."""
    pages = made()
    assert set(pages) == {INDEX, OTHER, FOOT, "ar/review/exercises/leg-lift/index.html"}
    for page in pages.values():
        assert '<meta name="robots" content="noindex, nofollow">' in page
        assert "<nav" not in page
        assert "Not for patients." in page


def test_source_translation_note_and_figure_side_by_side() -> None:
    """Both texts in their language and direction, the note, the place, and the figure once with its description."""
    page = made()[FOOT]
    item = item_with(page, "Sit tall.")
    assert '<p lang="en" dir="ltr">Sit tall.</p>' in item
    assert f'<p lang="ar" dir="rtl">{turn("Sit tall.", "ar")}</p>' in item
    assert "A thought to keep in mind while moving: one short sentence." in item
    assert "exercises/foot-lift.md:" in item
    assert page.count('<svg class="fig"') == 1
    assert page.count(FIGURE) == 1


@pytest.mark.parametrize(
    ("changes", "look", "said"),
    [
        ({"text": ""}, "missing", "No translation yet."),
        ({"fuzzy": True, "previous": "Sit up."}, "stale", 'Translated from: <del lang="en">Sit up.</del>'),
        ({"fuzzy": True}, "fuzzy", "not finished"),
        ({"text": "sIT TALL 3 TIMES."}, "faulty", "[translation-number]"),
    ],
)
def test_what_needs_work_is_marked(changes: dict[str, object], look: str, said: str) -> None:
    """With a word, on its own page and on the index, which puts it first."""
    catalogue = change_one(translated(small_library(), "ar"), "exercise/A222/cue", **changes)
    pages = made(catalogue)
    item = item_with(pages[FOOT], "Sit tall.")
    assert item.startswith(look)
    assert said in item
    index = pages[INDEX]
    assert f'<strong class="work">1 {look}</strong>' in index
    assert "1 to be worked on" in index
    assert 'class="work"' not in made()[INDEX]


def test_who_has_read_it() -> None:
    """Not reviewed, reviewed by role and day, reopened by a later change."""
    library = small_library()
    catalogue = translated(library, "ar")
    reviews = reviewed(library, catalogue)
    assert "<p class=\"read\">not reviewed</p>" in made(catalogue)[FOOT]
    assert "reviewed by medical translator on 2026-10-01" in made(catalogue, reviews)[FOOT]
    assert "review reopened: last read by medical translator" in made(change_one(catalogue, "exercise/A222/cue", "غير ذلك."), reviews)[FOOT]
    index = made(catalogue, reviews)[INDEX]
    assert index.count('<li class="done">') > 5
    assert '<li class="open">' not in index
    stale = add_review({}, {"clinic": "0" * 12}, "medical translator", date(2026, 10, 1))
    assert "review reopened" in made(catalogue, stale)[OTHER]


def test_a_language_that_is_not_published() -> None:
    """A fresh catalogue has all its pages, each text marked as missing."""
    pages = made(untranslated(small_library(), "ar"))
    assert len(pages) == 4
    assert pages[FOOT].count('<li class="text missing">') == pages[FOOT].count('<li class="text ')


def test_markup_in_texts_is_shown_as_it_is_written() -> None:
    """A translator sees the signs that must be kept; nothing in a text becomes an element."""
    library = small_library()
    exercise = library.exercise["foot-lift"]
    text = replace(exercise.why, text="You **use** this <b>often</b>.")
    changed = replace(library, exercises=(replace(exercise, why=text), *library.exercises[1:]))
    assert "You **use** this &lt;b&gt;often&lt;/b&gt;." in made(library=changed)[FOOT]
