"""One gettext catalogue as frozen entries with their places; read strictly, written in one way.

polib keeps the file format; every fault becomes a problem with file and line.  Never falls back to
the source text and never decides what a gap means: that is for the reader of the catalogue.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import cached_property

import polib

from handouts.problems import Place, Problem
from handouts.source.nodes import MOST_NAMED, find_forbidden, read_text
from handouts.words import locales

MAX_BYTES = 16 * 1024 * 1024
"""Largest catalogue read, in bytes; a library of 1,000 exercises needs about 5 MiB."""


_LINE = re.compile(
    r"\s*(?:#(?!~).*|#~\s*#.*|(?:#[~|]{1,2}\s*)?(?:(?:msgctxt|msgid|msgid_plural|msgstr(?:\[\d\])?)\s*)?"
    r'"(?:[^"\\]|\\.)*"\s*)?'
)
"""A line of a catalogue: nothing, a comment, or a keyword with a closed string (polib passes open ones in silence)."""


_FIELDS = (
    "Project-Id-Version", "Report-Msgid-Bugs-To", "POT-Creation-Date", "PO-Revision-Date", "Last-Translator", "Language-Team",
    "Language", "MIME-Version", "Content-Type", "Content-Transfer-Encoding", "Plural-Forms",
)  # fmt: skip
"""Fields of a header in the order of gettext's own (GNU gettext manual, "Filling in the Header Entry")."""


@dataclass(frozen=True, slots=True)
class CatalogueMessage:
    """One message: its context and source text, and its forms in the language (empty text: not translated)."""

    context: str
    source: str
    forms: tuple[str, ...]
    source_plural: str = ""
    fuzzy: bool = False
    obsolete: bool = False
    previous: str = ""
    """The source text that the translation was made from, where the source has changed since."""
    note: str = ""
    """For the translator, written by the tool."""
    comment: str = ""
    """By the translator."""
    source_file: str = ""
    """The file of the library that the source stands in, without the library's name; empty where none is known.  No line:
    a catalogue would change with every line that is added above."""
    flags: tuple[str, ...] = ()
    place: Place = field(default=Place(""), compare=False, repr=False)

    @property
    def key(self) -> tuple[str, str]:
        """What identifies a message: its context and its source text."""
        return (self.context, self.source)

    @property
    def translated(self) -> bool:
        """Whether every form has a text."""
        return bool(self.forms) and all(self.forms)

    @property
    def text(self) -> str:
        """The translation of a message without a count; empty where there is none."""
        return self.forms[0] if self.forms else ""

    @property
    def usable(self) -> bool:
        """Whether readers may see it: translated, and made from the source as it stands."""
        return self.translated and not self.fuzzy and not self.obsolete


@dataclass(frozen=True)
class Catalogue:
    """All messages of one language, in the order of the file."""

    language: str
    file: str
    entries: tuple[CatalogueMessage, ...] = ()
    header: tuple[tuple[str, str], ...] = ()

    @cached_property
    def by_key(self) -> dict[tuple[str, str], CatalogueMessage]:
        """Entries that are in use, by context and source text."""
        return {entry.key: entry for entry in self.entries if not entry.obsolete}

    @cached_property
    def by_context(self) -> dict[str, CatalogueMessage]:
        """Entries that are in use, by context."""
        return {entry.context: entry for entry in self.entries if not entry.obsolete}


def read_catalogue(data: bytes, file: str, language: str) -> tuple[Catalogue | None, list[Problem]]:
    """The catalogue in a PO file; None and problems where the file cannot be read as one."""
    start = Place(file)
    if len(data) > MAX_BYTES:
        limit = MAX_BYTES // (1024 * 1024)
        return None, [Problem(start, "too-long", f"this catalogue is larger than {limit} MiB", "Split the library.")]
    text, problems = read_text(data, file)
    lines = text.split("\n")
    if problems and not _only_in_translations(lines, problems):
        return None, problems
    problems = [_syntax_problem(file, number) for number, line in enumerate(lines, 1) if not _LINE.fullmatch(line)]
    if problems:
        return None, problems
    try:
        parsed = polib.pofile(text + "\n", wrapwidth=0)
    except (OSError, ValueError, IndexError, UnicodeDecodeError) as error:
        line = re.search(r"line (\d+)", str(error))
        return None, [_syntax_problem(file, int(line[1]) if line else 1)]
    problems = _check_header(parsed, file, language)
    entries = _read_entries(parsed, file, problems)
    header = tuple((str(key), str(value)) for key, value in parsed.metadata.items())
    return Catalogue(language, file, entries, header), problems


def _only_in_translations(lines: list[str], problems: list[Problem]) -> bool:
    """Whether characters that no text may have stand in translations only: those hold back their own texts (``words.checks``)."""
    if any(each.rule != "forbidden-character" for each in problems) or len(problems) >= MOST_NAMED:
        return False
    for problem in problems:
        at = problem.place.line - 1
        while at > 0 and lines[at].lstrip().startswith('"'):
            at -= 1
        if not lines[at].lstrip().startswith("msgstr") or len(lines[problem.place.line - 1].splitlines()) > 1:
            return False
    return True


def _read_entries(parsed: polib.POFile, file: str, problems: list[Problem]) -> tuple[CatalogueMessage, ...]:
    entries: list[CatalogueMessage] = []
    first: dict[tuple[str, str], int] = {}
    for item in parsed:
        entry = _entry_of(item, file)
        found = _refuse_escapes(entry)
        if found:
            problems += found
            continue
        if entry.key == ("", "") and not entry.obsolete:
            mend = "Delete it with its lines; where two files were joined, keep the first header only."
            problems.append(Problem(entry.place, "repeated-message", "this catalogue has a second header", mend))
            continue
        if entry.key in first and not entry.obsolete:
            what = f"this message is in the catalogue twice (first on line {first[entry.key]})"
            problems.append(Problem(entry.place, "repeated-message", what, "Delete one of the two."))
            continue
        if not entry.obsolete:
            first[entry.key] = entry.place.line
        entries.append(entry)
    return tuple(entries)


def _refuse_escapes(entry: CatalogueMessage) -> list[Problem]:
    """Characters that the escapes of the format made, such as ``\\v``: no source text has them; a translation with one is not published."""
    texts = (entry.context, entry.source, entry.source_plural, entry.previous, *(each for each in entry.forms if _breaks_lines(each)))
    return [
        replace(problem, place=entry.place, mend="Delete the escape that makes it.")
        for text in texts
        for problem in find_forbidden(text, entry.place.file)
    ]


def _breaks_lines(text: str) -> bool:
    """Whether a character ends a line that is not the sign for it."""
    return any(len(line.splitlines()) > 1 for line in text.split("\n"))


def _syntax_problem(file: str, line: int) -> Problem:
    return Problem(
        Place(file, line),
        "catalogue-syntax",
        "this is not a valid gettext catalogue",
        "Check the quotes and the keywords of this line and the one above.",
    )


def _check_header(parsed: polib.POFile, file: str, language: str) -> list[Problem]:
    """The language and the plural rule must be ours, or plural forms would be taken for the wrong numbers."""
    problems = []
    named = parsed.metadata.get("Language", "")
    if named.replace("_", "-") != language:
        problems.append(
            Problem(
                Place(file),
                "catalogue-language",
                f"the header names the language '{named}', the file '{language}'",
                f"Write 'Language: {language}' in the header.",
            )
        )
    has_plurals = any(item.msgid_plural and not item.obsolete for item in parsed)
    wanted = f"nplurals={len(locales.categories(language))};"
    if has_plurals and not parsed.metadata.get("Plural-Forms", "").replace(" ", "").startswith(wanted):
        header = locales.plural_forms_header(language)
        problems.append(
            Problem(
                Place(file),
                "catalogue-plurals",
                "the header has another number of plural forms than the language",
                f"Write 'Plural-Forms: {header}' in the header.",
            )
        )
    return problems


def _entry_of(item: polib.POEntry, file: str) -> CatalogueMessage:
    forms = (
        tuple(str(item.msgstr_plural[index]) for index in sorted(item.msgstr_plural))
        if item.msgid_plural
        else (str(item.msgstr),)
    )
    return CatalogueMessage(
        context=item.msgctxt or "",
        source=item.msgid,
        forms=forms,
        source_plural=item.msgid_plural or "",
        fuzzy="fuzzy" in item.flags,
        obsolete=bool(item.obsolete),
        previous=item.previous_msgid or "",
        note=item.comment or "",
        comment=item.tcomment or "",
        source_file=next((str(path) for path, _ in item.occurrences), ""),
        flags=tuple(flag for flag in item.flags if flag != "fuzzy"),
        place=Place(file, max(1, int(item.linenum or 1))),
    )


class _CatalogueFile(polib.POFile):
    """A PO file whose header may have fields of any name: polib's own order fails at digits of other scripts."""

    def ordered_metadata(self) -> list[tuple[str, str]]:
        """The fields that polib puts first, then the others by name."""
        others, whole = set(self.metadata) - set(_FIELDS), self.metadata
        return [(name, whole[name]) for name in (*_FIELDS, *sorted(others, key=lambda name: (name.lower(), name))) if name in whole]


def write_catalogue(catalogue: Catalogue) -> bytes:
    """The PO file of a catalogue: the same entries always give the same bytes."""
    made = _CatalogueFile(wrapwidth=0)
    made.metadata = {**dict(catalogue.header), **_header(catalogue.language)}
    for entry in sorted(catalogue.entries, key=lambda entry: entry.obsolete):
        made.append(_item_of(entry))
    return (str(made).rstrip("\n") + "\n").encode()


def _header(language: str) -> dict[str, str]:
    return {
        "Language": language,
        "MIME-Version": "1.0",
        "Content-Type": "text/plain; charset=UTF-8",
        "Content-Transfer-Encoding": "8bit",
        "Plural-Forms": locales.plural_forms_header(language),
    }


def _item_of(entry: CatalogueMessage) -> polib.POEntry:
    item = polib.POEntry(
        msgctxt=entry.context or None,
        msgid=entry.source,
        comment=entry.note,
        tcomment=entry.comment,
        flags=[*(["fuzzy"] if entry.fuzzy else []), *entry.flags],
        occurrences=[(entry.source_file, "")] if entry.source_file else [],
        obsolete=entry.obsolete,
        previous_msgid=entry.previous or None,
    )
    if entry.source_plural:
        item.msgid_plural = entry.source_plural
        item.msgstr_plural = dict(enumerate(entry.forms))
    else:
        item.msgstr = entry.text
    return item


def blank(entry: CatalogueMessage, language: str) -> CatalogueMessage:
    """An entry without its translation, with as many empty forms as the language has."""
    count = len(locales.categories(language)) if entry.source_plural else 1
    return replace(entry, forms=("",) * count, fuzzy=False, previous="", comment="")
