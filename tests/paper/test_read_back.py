"""What a PDF says, read back in the order of its tags, against the texts that it was made from, in each language.

Poppler (``pdfinfo -struct-text``) gives the tagged text line by line.  Latin, Vietnamese and Chinese come out as
they were put in.  Arabic lines come in the order in which they are drawn, from the left, and the letters of a
ligature stay in their own order; so each line is turned round and each word compared by its letters without their
order, the words in order.  Numbers and Latin words inside Arabic lines are compared by count.
"""

from __future__ import annotations

import re
import subprocess
import unicodedata
from collections import Counter
from html.parser import HTMLParser
from itertools import zip_longest
from pathlib import Path

import pytest

from handouts.paper.articles import Document
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import sheet_document
from handouts.paper.two_languages import beside_sheet
from handouts.problems import Grade
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.kept import kept
from tests.paper.test_stack import as_set
from tests.site.making import Drawings
from tests.words.demo import LANGUAGES, libraries

SLUG = "step-up"
"""``tests/long/read_back.py`` reads every sheet of the demo."""
RTL = re.compile("[\u0590-\u08ff\ufb50-\ufdff\ufe70-\ufeff]")
UNTAGGED = ("running-head", "running-head apart", "running-rules", "running-foot")
"""What stands on every page is no part of the text."""


class Said(HTMLParser):
    """The words of a document, in order, without head and foot, style and figure, and without parts named."""

    def __init__(self, without: tuple[str, ...]) -> None:
        super().__init__()
        self.without = (*UNTAGGED, *without)
        self.text: list[str] = []
        self.skipped: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if self.skipped or tag in ("head", "svg") or dict(attrs).get("class") in self.without:
            self.skipped += [tag] if tag not in ("meta", "link", "path", "br") else []

    def handle_endtag(self, tag: str) -> None:
        if self.skipped and self.skipped[-1] == tag:
            self.skipped.pop()

    def handle_data(self, data: str) -> None:
        if not self.skipped:
            self.text.append(data)


def words_of(text: str) -> list[str]:
    """The words of a text: composed, without marks of direction; a Chinese letter is a word."""
    plain = re.sub("[\u200e\u200f\u2066-\u2069]", "", unicodedata.normalize("NFKC", text))
    return re.findall(r"[\u3000-\u9fff\uff00-\uffef]|[^\s\u3000-\u9fff\uff00-\uffef]+", plain)


def source_words(document: Document) -> list[str]:
    """The words that the document was made from, without what its sheet leaves out, in the order of its columns."""
    said = Said(())
    said.feed(as_set(document))
    for standing in document.standing:
        said.feed(standing.strip)  # it is read after the article at whose foot it stands
    return words_of(" ".join(said.text))


def read_words(pdf: Path) -> list[str]:
    """The words of a PDF, in the order of its tags."""
    told = subprocess.run(["pdfinfo", "-struct-text", str(pdf)], capture_output=True, check=True).stdout.decode()
    lines = re.findall(r'^ *"(.*)"$', told, re.MULTILINE)
    found: list[str] = []
    for word in words_of(" ".join(line[::-1] if RTL.search(line) else line for line in lines)):
        # a line may end after the hyphen of a word: "mesurez-" and "la"
        if found and len(found[-1]) > 1 and found[-1].endswith("-"):
            found[-1] += word
        else:
            found.append(word)
    return found


def letters_of(word: str) -> str:
    """The letters of an Arabic word with its vowel signs, without punctuation, sorted."""
    return "".join(sorted(letter for letter in word if RTL.match(letter) and unicodedata.category(letter) in ("Lo", "Mn")))


MARKED = re.compile(r"[^,;:]+[,;:]*|[,;:]+")
"""A part of a word up to a mark behind which a line of Chinese may end."""


def arabic(words: list[str]) -> list[str]:
    """The Arabic words, each by its letters."""
    return [letters for word in words if (letters := letters_of(word))]


def others(words: list[str]) -> Counter[str]:
    """How often each other word occurs, by its letters and digits: an Arabic line is turned round, numbers too."""
    plain = ("".join(sorted(re.sub(r"[\W_]", "", word))) for word in words if not RTL.search(word))
    return Counter(word for word in plain if word)


def a_setting(language: str) -> PaperSetting:
    """The demo on the clinic's first paper and size."""
    edition = Edition(version="K7QX2M", unreviewed={each: frozenset({"everything"}) for each in LANGUAGES})
    return make_setting(libraries()[language], Wording(language), Drawings(), edition)


def read_back(document: Document, folder: Path) -> list[str]:
    """The words of the PDF of a document."""
    laid = kept(lay_out_document, document)
    assert [problem.what for problem in laid.problems if problem.grade is not Grade.NOTICE] == []
    path = folder / "sheet.pdf"
    path.write_bytes(laid.pdf)
    return read_words(path)


def difference(wanted: list[str], found: list[str], language: str) -> list[object]:
    """What differs; the numbers of steps are drawn by the style sheet and may be read or not."""
    if language == "ar":
        differing: list[object] = [pair for pair in zip_longest(arabic(wanted), arabic(found)) if pair[0] != pair[1]]
        differing += (others(wanted) - others(found)).elements()
        return [*differing, *(word for word in (others(found) - others(wanted)).elements() if not word.isdigit())]
    wanted, found = ([part for word in words for part in MARKED.findall(word)] for words in (wanted, found))
    at, differing = 0, []
    for word in wanted:
        while at < len(found) and found[at] != word and found[at].isdigit():
            at += 1
        if at == len(found) or found[at] != word:
            return [word, found[at : at + 3]]
        at += 1
    return [word for word in found[at:] if not word.isdigit()]


def compare(document: Document, folder: Path, language: str) -> None:
    """Lays a document out, reads it back and compares."""
    found = read_back(document, folder)
    assert len(found) > 200
    assert difference(source_words(document), found, language) == []


@pytest.mark.parametrize("language", ["en", *LANGUAGES])
def test_sheet(language: str, tmp_path: Path) -> None:
    """The sheet of one exercise says what it was made from, word by word."""
    own = a_setting(language)
    compare(sheet_document(own, own.library.exercise[SLUG]), tmp_path, language)


@pytest.mark.parametrize("language", ["ar", "zh-Hans"])
def test_sheet_with_the_source_beside_it(language: str, tmp_path: Path) -> None:
    """Paragraph by paragraph, first the patient's language, then the clinic's."""
    own = a_setting(language)
    compare(beside_sheet(own, a_setting("en"), own.library.exercise[SLUG]), tmp_path, language)


def test_the_comparison_sees_a_difference() -> None:
    """Another word, another order and a word too many are found, in Arabic too."""
    assert difference(["a", "b"], ["1", "a", "b"], "en") == []
    assert difference(["a", "b"], ["b", "a"], "en") == ["a", ["b", "a"]]
    assert difference(["a"], ["a", "b"], "en") == ["b"]
    assert difference(["قدم", "بيت"], ["بيت", "قدم"], "ar") != []
    assert difference(["قدم", "911"], ["119", "قدم"], "ar") == []
    assert difference(["قدم", "911"], ["قدم"], "ar") == ["119"]
