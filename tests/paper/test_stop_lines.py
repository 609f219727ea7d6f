"""What a patient must not misread on paper: labels of a dose, the emergency number, and where the stop rules stand."""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import unescape

import pytest

from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import plan_documents
from handouts.paper.strips import rules_strip
from handouts.paper.two_languages import plan_beside
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.kept import kept
from tests.paper.making import BUNDLE, ROWS, SHEET, pages_of, pdf_of, text_of
from tests.site.making import Drawings
from tests.words.demo import libraries

pytestmark = pytest.mark.paper

PUMP = "{}/exercises/ankle-pump/ankle-pump-letter-{}.pdf"
WEEKS = "{}/bundles/ankle-first-two-weeks/ankle-first-two-weeks-letter-standard.pdf"
_WORD = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>')


@dataclass(frozen=True, slots=True)
class PlacedWord:
    """A word and its box in points, from the upper left of its page."""

    left: float
    top: float
    right: float
    bottom: float
    text: str

    def beside(self, other: PlacedWord) -> bool:
        """Whether it stands on the same line."""
        return self.top < other.bottom and self.bottom > other.top


def a_setting(language: str) -> PaperSetting:
    """The demo in a language."""
    return make_setting(libraries()[language], Wording(language), Drawings(), Edition(version="K7QX2M"))


FAR = 10_000.0
"""Points between two pages, as if they stood far below one another."""


def words_of(pdf: bytes) -> list[PlacedWord]:
    """The words of all pages, in order."""
    found = []
    for number, page in enumerate(text_of(pdf, "-bbox").split("<page ")):
        for left, top, right, bottom, text in _WORD.findall(page):
            found.append(PlacedWord(float(left), float(top) + number * FAR, float(right), float(bottom) + number * FAR, unescape(text)))
    return found


def pdf_at(language: str, path: str, *more: str) -> bytes:
    """A document of the demo by its path with the language and size filled in."""
    return kept(lay_out_document, plan_documents(a_setting(language))[path.format(language, *more)]()).pdf


@pytest.mark.parametrize(("language", "first", "next_line"), [("en", "times,", "agreed"), ("es", "veces,", "acordamos")])
def test_a_label_goes_on_below_itself(language: str, first: str, next_line: str) -> None:
    """In the list of large numerals the second line of a label stands below its first, not below the numeral."""
    words = words_of(pdf_at(language, PUMP, "large"))
    start = next(word for word in words if word.text == first)
    below = next(word for word in words if word.text == next_line)
    assert below.top > start.top and abs(below.left - start.left) < 1


@pytest.mark.parametrize("language", ["en", "es", "ar", "fr", "vi"])
def test_a_ten_never_stands_alone(language: str) -> None:
    """The label of the effort never breaks before its number."""
    assert re.search("\u00a010$", Wording(language).say("dose.word_effort"))


@pytest.mark.parametrize(("language", "wanted"), [("en", "Stop if Emergency: 911"), ("es", "Pare si Emergencia: 911")])
def test_the_emergency_number_stands_apart(language: str, wanted: str) -> None:
    """Beside the emergency number stands the heading alone: no stop rule runs on into it."""
    words = words_of(pdf_at(language, PUMP, "standard"))
    number = next(word for word in words if word.text == "911")
    line = sorted((word for word in words if word.beside(number) and word.bottom - number.top > 3 and number.bottom - word.top > 3), key=lambda word: word.left)
    assert " ".join(word.text for word in line) == wanted


@pytest.mark.parametrize("slug", ["band-ankle-turn-out", "band-row", "sit-to-stand"])
def test_text_keeps_away_from_a_codes_letters(slug: str) -> None:
    """No word stands so near the letters of a code that both read as one."""
    words = words_of(pdf_at("es", f"{{}}/exercises/{slug}/{slug}-letter-large.pdf"))
    letters = next(word for word in words if word.text == libraries()["es"].exercise[slug].code)
    assert all(word.right < letters.left - 6 for word in words if word is not letters and word.beside(letters))


def told(pdf: bytes, where: str, heading: str) -> list[str]:
    """Of each page what it says of the stop rules; each that names a page names one that has them."""
    pages = pages_of(text_of(pdf))
    found = []
    for page in pages:
        named = re.search(where, " ".join(page.split()))
        assert named is None or heading in pages[int(named[1]) - 1]
        found.append("named" if named else "full" if heading in page else "")
    return found


@pytest.mark.parametrize("path", [SHEET, ROWS, BUNDLE])
def test_every_page_of_a_large_sheet_leads_to_its_stop_rules(path: str) -> None:
    """A page has the stop rules or names their page, and each has the emergency number."""
    pdf = pdf_of(path.format("letter", "large"))
    found = told(pdf, r"When to stop: page (\d+)\.", "Stop if")
    assert len(found) > 1 and "full" in found and "" not in found
    assert all("Emergency: 911" in page for page in pages_of(text_of(pdf)))


def test_every_page_of_other_long_sheets_leads_to_its_stop_rules() -> None:
    """Rows in standard type on two pages, and a sheet in two languages."""
    assert told(pdf_at("en", WEEKS), r"When to stop: page (\d+)\.", "Stop if") == ["full", "named"]
    spanish, english = a_setting("es").on("letter", "standard"), a_setting("en").on("letter", "standard")
    beside = next(make for path, make in plan_beside(spanish, english).items() if "ankle-pump" in path)()
    assert "" not in told(kept(lay_out_document, beside).pdf, r"Cuándo parar: pág\. (\d+)\.", "Pare si")


def test_a_page_names_the_next_stop_rules() -> None:
    """Where several exercises have their own, a page names those that follow, else the last."""
    assert [rules_strip(page, (2, 4)) for page in range(6)] == [1, 1, 0, 2, 0, 2]
    assert rules_strip(3, ()) == 0


def test_stop_rules_begin_a_line_each_where_there_is_room() -> None:
    """On the front of rows, whose page is not full, each stop rule begins at the edge of its list."""
    words = words_of(pdf_at("en", WEEKS))
    texts = " ".join(word.text for word in words)
    starts = []
    for rule in ("An arm, a leg or one side", "You are suddenly short of breath,", "One calf swells, hurts"):
        starts.append(words[texts[: texts.index(rule)].count(" ")].left)
    assert max(starts) - min(starts) < 1
