"""Tests of function from file to page, card and ledger; and the numbers of the demo against their sources."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from playwright.sync_api import Browser

from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present
from handouts.model import FunctionTest, Library
from handouts.paper.card import view_card
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import plan_documents, plan_paths
from handouts.rules.lapsed import sort_by_review
from handouts.site.context import Edition
from handouts.words.translate import translate_library
from tests.kept import kept
from tests.paper.making import a_setting, pages_of, text_of
from tests.site.axe import violations
from tests.site.making import make_site, write_site
from tests.small_library import FUNCTION_TEST, TEXTS, messages, small_library, texts_with
from tests.words.demo import libraries
from tests.words.sample import change_one, translated

FILE = "tests/chair-stand.md"
PAGE = "en/tests/chair-stand/index.html"
SHOW = ("grace days: 90}", "grace days: 90, unreviewed translations: show}")


def texts(*edits: tuple[str, str]) -> dict[str, str]:
    """The small library with a test of function."""
    return texts_with(FILE, *edits, **{FILE: FUNCTION_TEST})


def with_a_test(*edits: tuple[str, str]) -> Library:
    """The same as a library."""
    return small_library(texts(*edits))


def test_no_problem() -> None:
    """The test that others break is whole."""
    assert messages(texts()) == []


def test_a_library_without_tests_keeps_its_stamps() -> None:
    """What came with tests of function changes no version of a library that has none."""
    before, after = stamps_of(small_library()), stamps_of(with_a_test())
    assert {item: stamp for item, stamp in after.items() if item and not item.startswith("tests/")} == {
        item: stamp for item, stamp in before.items() if item
    }
    # as they stood before there were tests of function, from the commit before
    assert before["exercises/foot-lift"] == STAMPS["exercises/foot-lift"]
    assert before[""] == STAMPS[""]


STAMPS = {"exercises/foot-lift": "YKRPV3", "": "Q87HE9"}


@pytest.mark.parametrize(
    ("edit", "part"),
    [
        (("value: 12}", "value: 13}"), "measure"), (("change: 2.5", "change: 3"), "measure"), (("percent: 90", "percent: 85"), "measure"),
        (("status: confirmed", "status: from memory"), "measure"), (("equipment: [chair]\n", ""), "needs"),
        (("how strong your legs are", "how strong you are"), "why"), (("2. Stand up", "2. Rise"), "steps"), (("title: Chair stand", "title: Chair rise"), "title"),
    ],
)  # fmt: skip
def test_each_change_is_a_version_with_a_name(edit: tuple[str, str], part: str) -> None:
    """What a reader sees of a test changes its stamp, and the ledger says which part."""
    (old,), (new,) = (
        [each for each in find_present(library, stamps_of(library)) if each.kind == "test"] for library in (with_a_test(), with_a_test(edit))
    )
    assert old.version != new.version
    assert {name for name in old.parts.keys() | new.parts.keys() if old.parts.get(name) != new.parts.get(name)} == {part}


def test_a_review_says_nothing_new() -> None:
    """Another day of review is no other version."""
    assert stamps_of(with_a_test())["tests/chair-stand"] == stamps_of(with_a_test(("on: 2026-09-14", "on: 2026-10-01")))["tests/chair-stand"]


def test_lapsed() -> None:
    """A test whose review ended longer ago than the days of grace is held back, and only that."""
    library = with_a_test(("{on: 2026-09-14, by", "{on: 2025-01-01, by"))
    standing = sort_by_review(library, date(2026, 11, 25))
    assert standing.library.tests == () and standing.library.exercises == library.exercises
    assert [(each.kind, each.slug) for each in standing.held_back] == [("test", "chair-stand")]


def test_what_is_not_whole_in_a_language_is_not_published_there() -> None:
    """One missing text of a test, or of what it names, keeps the test back and nothing else."""
    library = small_library({**texts_with("clinic.yaml", SHOW), FILE: FUNCTION_TEST})
    whole = translate_library(library, translated(library))
    assert whole.library is not None and [each.slug for each in whole.library.tests] == ["chair-stand"]
    assert "tests/chair-stand" in whole.unreviewed
    made = translate_library(library, change_one(translated(library), "test/T222/error-who", ""))
    assert made.library is not None and made.library.tests == ()
    assert len(made.library.exercises) == 2
    assert [(gap.kind, gap.slug, gap.because) for gap in made.gaps] == [("test", "chair-stand", ("test/T222: 1 missing",))]


def site(library: Library) -> dict[str, str]:
    """The pages of a library in English by path."""
    files = make_site([library], Edition(version="K7QX2M", pdfs=frozenset(plan_paths(library))))
    return {path: data.decode() for path, data in files.items() if path.endswith(".html")}


def test_pages() -> None:
    """The page says what a result means, with source and status; home, list and foot lead to it; without tests none of it is there."""
    pages = site(with_a_test())
    page = " ".join(pages[PAGE].split())
    for said in (
        "A change of up to 2.5 times may be chance: the test is no more exact than that. Found in: People in a made-up study.",
        "Of 100 people who did not change, 90 stay within it.",
        "The side with the problem is to reach at least 90 % of the other side.",
        'Read in the source: <bdi lang="en">A study made up for tests</bdi>',
        "From memory: look it up before you rely on it: <bdi",
        '<th scope="col">60–64</th><th scope="col">60+</th>',
        '<th scope="row">Women</th><td>12</td><td></td>',
        'id="stop"', "chair-stand-letter-standard.pdf",
    ):  # fmt: skip
        assert said in page, said
    assert "safe" not in page.lower().replace("safety", "")
    assert 'href="tests/chair-stand/index.html"' in pages["en/index.html"]
    assert 'href="chair-stand/index.html"' in pages["en/tests/index.html"]
    assert 'href="../../tests/index.html"' in pages["en/exercises/foot-lift/index.html"]
    without = site(small_library())
    assert not any("/tests/" in path for path in without)
    assert "tests/index.html" not in without["en/index.html"]


def test_what_has_no_source_says_so() -> None:
    """Without a source for its error a test says that nobody can tell change from chance."""
    cut = FUNCTION_TEST[FUNCTION_TEST.index("error:") : FUNCTION_TEST.index("symmetry:")]
    page = site(with_a_test((cut, "")))[PAGE]
    assert "We know no source for this test&#39;s own error." in page or "We know no source for this test's own error." in page
    assert "may be chance: the test is no more exact" not in page


@pytest.mark.parametrize(("size", "columns"), [("standard", 6), ("large", 4)])
def test_card(size: str, columns: int) -> None:
    """The card has an empty column for each visit, and a row each for date, left and right."""
    library = with_a_test()
    view = view_card(a_setting(library, size=size), library.test["chair-stand"])
    assert view.results.rows == ("Date", "Left · times", "Right · times")
    assert len(view.results.visits) == columns
    one = view_card(a_setting(library, size=size), replace(library.test["chair-stand"], each_side=False))
    assert one.results.rows == ("Date", "Result · times")


def test_card_on_paper() -> None:
    """Stop rules and results stand on the front, what a result means on the back."""
    library = with_a_test()
    makers = plan_documents(a_setting(library))
    laid = kept(lay_out_document, makers["en/tests/chair-stand/chair-stand-letter-standard.pdf"]())
    assert laid.problems == ()
    front, back = pages_of(text_of(laid.pdf))
    assert "You have sharp pain. Stop and call us." in " ".join(front.split())
    assert "Results at each visit" in front and "Values to compare with" not in front
    assert "60–64" in back and "A study made up for tests" in back


@pytest.mark.browser
def test_compare(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> None:
    """A clinician compares two visits by keys alone; nothing is kept, nothing stands in the address."""
    folder = tmp_path_factory.mktemp("tests")
    write_site(make_site([with_a_test()]), folder)
    context = browser.new_context(viewport={"width": 360, "height": 740}, bypass_csp=True)
    page = context.new_page()
    page.goto((folder / PAGE).as_uri())
    address = page.url
    page.get_by_role("spinbutton", name="Left").first.focus()
    for value in ("9", "20", "12", "18"):
        page.keyboard.type(value)
        page.keyboard.press("Tab")
    page.get_by_label("Side with the problem").select_option("left")
    assert page.locator("#compared li").all_inner_texts() == [
        "Left: better (change: 3 times). This is more than the test's own error (2.5 times).",
        "Right: worse (change: 2 times). This is no more than the test's own error (2.5 times), so it may be chance.",
        "The side with the problem reaches 66 % of the other side. At least 90 % is the aim: not reached.",
    ]
    assert page.url == address
    assert page.evaluate("[localStorage.length, sessionStorage.length, document.cookie]") == [0, 0, ""]
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert violations(page, ("light", "dark")) == []
    page.reload()
    assert page.get_by_role("spinbutton").first.input_value() == ""
    context.close()


BELOW_AVERAGE = {
    # 30-second chair stand, below average: CDC STEADI 2017, as several pages pass it on (age: women, men)
    60: (12, 14), 65: (11, 12), 70: (10, 12), 75: (10, 11), 80: (9, 10), 85: (8, 8), 90: (4, 7),
}  # fmt: skip
ERRORS = {
    # smallest change beyond the test's own error, with its source
    "chair-stand": (2.5, None),  # Thirty second chair stand test, early knee osteoarthritis, 2022, abstract: MDC about 2.5 stands
    "one-leg-stand": (24.1, 95),  # single-leg-stance time in older adults, Gait Posture 33:737-739, 2011: MDC95 24.1 s
    "heel-raise-count": (6.5, 95),  # standing heel-rise test, Physiotherapy 103:446-452, 2017: limits of agreement -6.2 to 6.5
    "knee-to-wall": (1.9, None),  # weight-bearing lunge test, a systematic review, 2015: MDC 1.9 cm, one clinician
    "my-activity": (3, 90),  # Patient-specific rating of one activity, 1995, as passed on: MDC90 3 points
    "one-leg-hop": None,  # no source read
}


def demo_test(slug: str) -> FunctionTest:
    """A test of the demo."""
    return libraries()["en"].test[slug]


def test_norms_of_the_demo() -> None:
    """The demo's norms are those of their sources."""
    norms = demo_test("chair-stand").norms
    assert norms is not None
    found = {(row.sex, row.from_age, row.to_age): row.value for row in norms.rows}
    assert found == {
        (sex, age, age + 4): value for age, pair in BELOW_AVERAGE.items() for sex, value in zip(("women", "men"), pair, strict=True)
    }
    stand = demo_test("one-leg-stand").norms
    assert stand is not None
    # Single limb stance times, a descriptive meta-analysis, 2006: 27.0, 17.2 and 8.5 seconds
    assert [(row.from_age, row.to_age, row.value) for row in stand.rows] == [(60, 69, 27), (70, 79, 17.2), (80, 99, 8.5)]


@pytest.mark.parametrize("slug", ERRORS)
def test_errors_of_the_demo(slug: str) -> None:
    """The demo's errors of measurement are those of their sources; where none was read there is none."""
    error = demo_test(slug).error
    assert (error and (error.change, error.confidence)) == ERRORS[slug]


def test_every_test_of_the_demo_is_held_here() -> None:
    """A new test of the demo comes with its source."""
    assert set(libraries()["en"].test) == set(ERRORS)
    for language in ("es", "ar"):
        assert set(libraries()[language].test) == set(ERRORS), language


assert FILE not in TEXTS
