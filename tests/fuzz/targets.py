"""What must hold for any bytes: one function a target, shared by the bounded tests and the long runs.

A target takes bytes and returns nothing; it fails an assertion where a reader raised, gave both nothing
and no reason, let through what it must refuse, or said a thing that cannot be printed on one line.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from html.parser import HTMLParser
from io import BytesIO
from zipfile import ZipFile
from zlib import crc32

from handouts.bundle.catalogue import DIGITS, write_number
from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.values import OpenedBundle
from handouts.figure import read_figure
from handouts.importers.draft import take_in_document
from handouts.importers.lines import DocumentError, SourceLine, tidy
from handouts.importers.office import ODT, WORD, read_odt, read_word
from handouts.importers.plain import read_html, read_pdf
from handouts.importers.plain import read_text as read_text_document
from handouts.importers.safety_words import reads_like
from handouts.importers.sheet import read_csv
from handouts.importers.table import ImportedFiles, take_in_table
from handouts.library.prose import read_sections
from handouts.library.read import read_exercise, read_library
from handouts.library.texts import walk_words
from handouts.problems import Place, Problem, show_problem, sort_problems
from handouts.rules import check_library
from handouts.source.nodes import compose, read_text
from handouts.text.markup import ALLOWED_SCHEMES, find_markup_problems, plain_text, render_inline
from handouts.words.catalogue import Catalogue, CatalogueMessage, read_catalogue, write_catalogue
from handouts.words.checks import find_faults
from handouts.words.glossary import Glossary, read_glossary
from handouts.words.reviews import read_reviews, write_reviews
from handouts.words.xliff import read_xliff
from tests.bundle.sample import SAMPLE
from tests.bundle.test_code import assert_within, head
from tests.small_library import TEXTS, TODAY

MOST_MESSAGE = 1_000
"""Longest line that is printed for a problem, in characters."""


def assert_sayable(problems: Iterable[Problem]) -> None:
    """Each problem has a place and a mend, and is one line of visible characters."""
    for problem in problems:
        assert problem.place.line >= 1 and problem.place.column >= 1, problem
        line = show_problem(problem)
        assert len(line) <= MOST_MESSAGE, line
        assert line.isprintable(), repr(line)


def assert_clean(text: str) -> None:
    """No control, surrogate or bidirectional character."""
    for sign in text:
        bad = unicodedata.category(sign) in ("Cc", "Cs") or unicodedata.bidirectional(sign) in ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
        assert not bad, f"U+{ord(sign):04X}"


def front_matter(data: bytes) -> None:
    """One exercise file: an exercise whose every text is clean, or reasons why there is none."""
    exercise, problems = read_exercise(data, "content/exercises/x.md", "x")
    assert_sayable(problems)
    assert exercise is not None or problems
    for words in walk_words(exercise):
        assert_clean(words.text)
        assert words.text == words.text.strip()


def library(data: bytes) -> None:
    """A whole library with one file replaced, read and checked by every rule; the first byte chooses the file."""
    paths = sorted(TEXTS)
    path = paths[data[0] % len(paths)] if data else paths[0]
    files = {name: text.encode() for name, text in TEXTS.items()} | {path: data[1:]}
    found, problems = read_library(files)
    assert_sayable(problems)
    assert found is not None or problems
    if found is not None:
        assert_sayable(sort_problems(check_library(found, TODAY)))


class _Shown(HTMLParser):
    """What a reader sees of rendered text; fails on anything but bold, italic and safe links."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.text = ""
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in ("strong", "em", "a"), tag
        given = dict(attrs)
        assert set(given) <= ({"href", "rel"} if tag == "a" else set()), given
        href = given.get("href")
        assert href is None or (href.partition(":")[0].lower() in ALLOWED_SCHEMES and ":" in href), href
        self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data

    def handle_comment(self, data: str) -> None:
        raise AssertionError(data)

    handle_decl = handle_pi = unknown_decl = handle_comment


def assert_inert(html: str) -> str:
    """The text that readers see of HTML that holds bold, italic and safe links only."""
    shown = _Shown()
    shown.feed(html)
    shown.close()
    assert not shown.open
    return shown.text


def markdown(data: bytes) -> None:
    """A body: sections or reasons; every item as inert HTML that loses no letter where nothing was refused."""
    text, problems = read_text(data, "content/exercises/x.md")
    sections, more = read_sections(text, "content/exercises/x.md", 9)
    assert_sayable([*problems, *more])
    for words in walk_words(sections):
        found = find_markup_problems(words.text, words.place)
        assert_sayable(found)
        shown = assert_inert(str(render_inline(words.text)))
        plain = plain_text(words.text)
        if not found and not problems:
            assert "".join(shown.split()) == "".join(plain.split()), (shown, plain)
            assert letters(shown) == letters(_link_words(words.text)), (shown, words.text)


def letters(text: str) -> str:
    """The letters and digits of a text."""
    return re.sub(r"[\W_]+", "", text)


def _link_words(text: str) -> str:
    return re.sub(r"\[([^\]\[]*)\]\([^()\s]*\)", r"\1", text)


def catalogue(data: bytes) -> None:
    """A PO file: a catalogue that survives being written and read, or reasons."""
    read, problems = read_catalogue(data, "content/words/es.po", "es")
    assert_sayable(problems)
    assert read is not None or problems
    if read is None:
        return
    for entry in read.entries:
        for text in (entry.context, entry.source, *entry.forms, entry.source_plural):
            assert_clean(text.replace("\n", " ").replace("\t", " ").replace("\r", " "))
        if entry.usable:
            assert_sayable(find_faults(entry.source, entry.text, "es", GLOSSARY, entry.place))
    if not problems:
        again, problems = read_catalogue(write_catalogue(read), "content/words/es.po", "es")
        assert again is not None and not problems, problems
        assert again.by_key == read.by_key


GLOSSARY = Glossary(keep=("PEMAT",))
_HOME = Catalogue("es", "es.po", (CatalogueMessage("exercise/a/title", "Sit tall.", ("",)), CatalogueMessage("exercise/b/title", "Stand up.", ("De pie.",))))


def xliff(data: bytes) -> None:
    """An XLIFF file that comes back: nothing is lost from the catalogue, and what is taken is clean."""
    back, problems, counts = read_xliff(data, "es.xlf", _HOME)
    assert (counts is not None) or (problems and back == _HOME)
    assert all(new.text or not old.text for new, old in zip(back.entries, _HOME.entries, strict=True))
    assert_sayable(problems)
    assert [entry.key for entry in back.entries] == [entry.key for entry in _HOME.entries]
    for entry in back.entries:
        assert_clean(entry.text.replace("\n", " ").replace("\t", " "))


def words_yaml(data: bytes) -> None:
    """The glossary and the reviews: read or refused."""
    _, problems = read_glossary(data, "content/words/glossary.yaml")
    assert_sayable(problems)
    reviews, problems = read_reviews(data, "content/words/es.reviews.yaml")
    assert_sayable(problems)
    if not problems:
        again, problems = read_reviews(write_reviews(reviews), "content/words/es.reviews.yaml")
        assert dict(again) == dict(reviews) and not problems


def bundle(data: bytes) -> None:
    """A bundle code, as typed and with a fitting check: refused, or doses within their ranges that are written alike."""
    text = data.decode("latin-1")
    body = "".join(DIGITS[byte % len(DIGITS)] for byte in data)
    whole = head() + body
    for code in (text, body, whole + write_number(crc32(whole.encode()), 7)):
        answer = decode_bundle(code, SAMPLE)
        if isinstance(answer, OpenedBundle):
            assert_within(answer)
            if not answer.former:
                again = encode_bundle(answer.bundle, SAMPLE)
                assert isinstance(again, str) and decode_bundle(again, SAMPLE) == answer


def figure(data: bytes) -> None:
    """A figure's pose: read, or a reason for each word that is not known."""
    text, problems = read_text(data, "content/exercises/x.md")
    node, more = compose(text, "content/exercises/x.md")
    assert_sayable([*problems, *more])
    if node is None or problems:
        return
    spec, problems = read_figure(node)
    assert_sayable(problems)
    assert (spec is None) == bool(problems)


def inline(data: bytes) -> None:
    """One text by itself, without the body around it: inert, whatever it is."""
    text = data.decode("utf-8", "replace")
    assert_sayable(find_markup_problems(text, Place("x.md")))
    assert_inert(str(render_inline(text)))


def _document(read: Callable[[bytes], list[SourceLine]], data: bytes) -> None:
    """A foreign document: drafts that can be read as files, without a warning among the steps, or a reason."""
    try:
        taken = take_in_document(tidy(read(data)), "leaflet")
    except DocumentError as reason:
        assert str(reason)
        return
    assert_drafts(taken)


def assert_drafts(taken: ImportedFiles) -> None:
    """What was made of a foreign file can be read as front matter and body, and holds no warning among its steps."""
    assert_sayable(taken.problems)
    for path, draft in taken.files.items():
        exercise, problems = read_exercise(draft, path, "leaflet")
        assert not {"yaml-syntax", "unknown-key", "front-matter", "repeated-key"} & {each.rule for each in problems}, draft
        steps = exercise.steps if exercise else ()
        assert not any(reads_like(step.text) for step in steps), draft


def _packed(member: str, data: bytes) -> bytes:
    """The text of a document in its archive; an archive stays what it is."""
    if data.startswith(b"PK"):
        return data
    out = BytesIO()
    with ZipFile(out, "w") as archive:
        archive.writestr(member, data)
    return out.getvalue()


def table(data: bytes) -> None:
    """A spreadsheet as CSV."""
    assert_drafts(take_in_table(read_csv(data, "sheet.csv"), "sheet.csv"))


TARGETS: Mapping[str, Callable[[bytes], None]] = {
    "front-matter": front_matter,
    "library": library,
    "markdown": markdown,
    "inline": inline,
    "catalogue": catalogue,
    "xliff": xliff,
    "words-yaml": words_yaml,
    "bundle": bundle,
    "figure": figure,
    "html": partial(_document, read_html),
    "text": partial(_document, read_text_document),
    "pdf": partial(_document, read_pdf),
    "word": lambda data: _document(read_word, _packed(WORD, data)),
    "odt": lambda data: _document(read_odt, _packed(ODT, data)),
    "table": table,
}
"""Every target by name."""
