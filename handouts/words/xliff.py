"""Catalogues for translation offices as XLIFF 2.0, and back.

The catalogue stays the master: coming back, only translations and their state are taken, and only
where the source text is still the same; nothing empty replaces a translation, and no answer replaces another
one that came since the export.  Inline Markdown travels as plain text.  Written with
ElementTree; a document type or an entity in a file that comes back is refused.
Source: XLIFF Version 2.0, OASIS Standard, 5 August 2014.
"""

from __future__ import annotations

import hashlib
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from handouts.problems import Grade, Place, Problem
from handouts.source.nodes import find_forbidden, read_text
from handouts.words.catalogue import Catalogue, CatalogueMessage

NAMESPACE = "urn:oasis:names:tc:xliff:document:2.0"
MAX_BYTES = 64 * 1024 * 1024
"""Largest file that is taken back, in bytes; XLIFF needs about four times the room of a catalogue."""
DONE = ("translated", "reviewed", "final")
"""States (XLIFF 2.0, 4.2.2.20) in which a translation counts as finished; ``initial`` is not."""
FORMER = "exported-translation"
"""Category of the note that holds a fingerprint of the translation as it was exported: it tells a newer one in the catalogue."""
_SPACE = "{http://www.w3.org/XML/1998/namespace}space"


def unit_id(entry: CatalogueMessage, form: int) -> str:
    """The name of a unit: a fingerprint of context and source, and the number of the plural form."""
    digest = hashlib.sha256(f"{entry.context}\x00{entry.source}".encode()).hexdigest()[:16]
    return f"u{digest}-{form}"


def write_xliff(catalogue: Catalogue, source_language: str) -> bytes:
    """The messages of a catalogue that are in use, one ``file`` for each owner."""
    root = ET.Element(
        "xliff", {"xmlns": NAMESPACE, "version": "2.0", "srcLang": source_language, "trgLang": catalogue.language}
    )
    owners: dict[str, ET.Element] = {}
    for entry in catalogue.entries:
        if entry.obsolete:
            continue
        owner = entry.context.rpartition("/")[0] or "interface"
        if owner not in owners:
            owners[owner] = ET.SubElement(root, "file", {"id": f"f{len(owners) + 1}", "original": owner})
        for form, text in enumerate(entry.forms):
            _add_unit(owners[owner], entry, form, text)
    ET.indent(root)
    text = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()


def _add_unit(file: ET.Element, entry: CatalogueMessage, form: int, text: str) -> None:
    unit = ET.SubElement(file, "unit", {"id": unit_id(entry, form), "name": entry.context})
    notes = [("instruction", entry.note), ("translator", entry.comment), ("previous-source", entry.previous)]
    if entry.source_plural:
        notes.append(("plural-form", f"{form}: {entry.source_plural}"))
    if entry.source_file:
        notes.append(("place", entry.source_file))
    notes.append((FORMER, _mark(text)))
    if any(note for _, note in notes):
        parent = ET.SubElement(unit, "notes")
        for category, note in notes:
            if note:
                ET.SubElement(parent, "note", {"category": category}).text = note
    done = bool(text) and not entry.fuzzy
    segment = ET.SubElement(unit, "segment", {"id": "s1", "state": "translated" if done else "initial"})
    ET.SubElement(segment, "source", {_SPACE: "preserve"}).text = entry.source
    if text:
        ET.SubElement(segment, "target", {_SPACE: "preserve"}).text = text


@dataclass(frozen=True, slots=True)
class _Unit:
    """What came back for one form of a message."""

    source: str
    target: str
    done: bool
    former: str | None
    """The fingerprint of the translation that was exported; None where the file does not say it."""
    name: str


@dataclass(frozen=True, slots=True)
class ImportCounts:
    """What became of the texts of a file."""

    taken: int = 0
    same: int = 0
    """They were as in the catalogue."""
    empty: int = 0
    changed: int = 0
    """Their source has changed since the export, or is not in the library any more."""
    refused: int = 0
    """They were translated in the catalogue since the export, or their source was changed in the file."""


@dataclass(slots=True)
class _Taking:
    """One import on its way: what was found, and what is wrong."""

    file: str
    units: Mapping[str, _Unit]
    found: Counter[str] = field(default_factory=Counter)
    problems: list[Problem] = field(default_factory=list)

    def take(self, entry: CatalogueMessage, names: list[str]) -> CatalogueMessage:
        """The entry with what the file has for it."""
        here = [self.units[name] for name in names if name in self.units]
        forms = tuple(
            self.units[name].target or old if name in self.units else old
            for name, old in zip(names, entry.forms, strict=True)
        )
        done = all(unit.done for unit in here) and all(forms)
        if any(unit.source != entry.source for unit in here):
            what = f"the source of '{entry.context}' was changed in the file"
            return self._refuse(entry, "xliff-source", what, "Leave <source> as it is; translate in <target>.")
        if not any(unit.target for unit in here):
            self.found["empty"] += 1
            return entry
        if forms == entry.forms and (not done or not entry.fuzzy):
            self.found["same"] += 1
            return entry
        if forms != entry.forms and any(entry.forms) and _is_newer(entry, names, self.units):
            what = f"'{entry.context}' was translated in the catalogue since the file was exported: '{entry.text[:60]}'"
            mend = f"Decide between the two by hand; the file has '{forms[0][:60]}'."
            return self._refuse(entry, "xliff-two-answers", what, mend)
        self.found["taken"] += 1
        return replace(entry, forms=forms, fuzzy=not done, previous="" if done else entry.previous)

    def _refuse(self, entry: CatalogueMessage, rule: str, what: str, mend: str) -> CatalogueMessage:
        self.problems.append(Problem(Place(self.file), rule, what, mend))
        self.found["refused"] += 1
        return entry


def _is_newer(entry: CatalogueMessage, names: list[str], units: Mapping[str, _Unit]) -> bool:
    """Whether the catalogue has another translation than the one that was exported, or may have."""
    pairs = [(units[name].former, old) for name, old in zip(names, entry.forms, strict=True) if name in units]
    return any(former != _mark(old) if former else entry.usable for former, old in pairs)


def _mark(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def read_xliff(data: bytes, file: str, catalogue: Catalogue) -> tuple[Catalogue, list[Problem], ImportCounts | None]:
    """The catalogue with the translations of a file, what could not be taken from it, and how many of each.

    No counts where the file as a whole cannot be taken.
    """
    units, problems = _read_units(data, file, catalogue.language)
    if problems:
        return catalogue, problems, None
    taking = _Taking(file, units)
    entries = []
    used: set[str] = set()
    for entry in catalogue.entries:
        names = [unit_id(entry, form) for form in range(len(entry.forms))]
        present = [name for name in names if name in units and not entry.obsolete]
        used.update(present)
        entries.append(taking.take(entry, names) if present else entry)
    gone = [unit for name, unit in units.items() if name not in used]
    problems = taking.problems + [
        Problem(
            Place(file),
            "xliff-unknown",
            f"the text '{unit.source[:60]}' is not in the catalogue (any more)",
            "Its source has changed since the export: translate the new text.",
            Grade.NOTICE,
        )
        for unit in gone
    ]
    counts = ImportCounts(**taking.found, changed=len(gone))
    return replace(catalogue, entries=tuple(entries)), problems, counts


def _read_units(data: bytes, file: str, language: str) -> tuple[dict[str, _Unit], list[Problem]]:
    place = Place(file)
    if len(data) > MAX_BYTES:
        limit = MAX_BYTES // (1024 * 1024)
        return {}, [Problem(place, "too-long", f"this file is larger than {limit} MiB", "Send a language in parts.")]
    text, problems = read_text(data, file)  # UTF-8 only: in UTF-16 a document type would be overlooked
    if problems:
        return {}, problems
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        what = "the file declares a document type"
        return {}, [Problem(place, "xliff-refused", what, "Use the XLIFF file as it was exported.")]
    try:
        root = ET.fromstring(text)
    except ET.ParseError as error:
        line, column = error.position
        return {}, [
            Problem(
                Place(file, line, column + 1),
                "xliff-syntax",
                "this is not well-formed XML",
                "Export it again from the translation tool.",
            )
        ]
    if root.tag != f"{{{NAMESPACE}}}xliff" or root.get("version") != "2.0":
        return {}, [Problem(place, "xliff-version", "this is not XLIFF 2.0", "Export it as XLIFF 2.0.")]
    if root.get("trgLang") != language:
        what = f"the file is in '{root.get('trgLang')}', the catalogue in '{language}'"
        return {}, [Problem(place, "xliff-language", what, "Import it into the catalogue of its language.")]
    units, problems = {}, list[Problem]()
    for unit in root.iter(f"{{{NAMESPACE}}}unit"):
        parts = [part for part in unit if part.tag in (f"{{{NAMESPACE}}}segment", f"{{{NAMESPACE}}}ignorable")]
        states = [part.get("state") in DONE for part in parts if part.tag.endswith("segment")]
        source = "".join(_text(part, "source") for part in parts)
        target = "".join(_text(part, "target") for part in parts)
        target = target if target.strip() else ""
        problems += find_forbidden(target, file)
        name, shown = unit.get("id", ""), unit.get("name") or source[:60]
        if name in units:
            what = f"the text '{shown}' is in the file twice"
            problems.append(Problem(place, "xliff-repeated", what, "Delete one of the two units."))
        if any(len(part.findall(f"{{{NAMESPACE}}}target")) > 1 for part in parts):
            what = f"the text '{shown}' has two translations in the file"
            problems.append(Problem(place, "xliff-repeated", what, "Delete one of the two <target>."))
        marks = [note.text or "" for note in unit.iter(f"{{{NAMESPACE}}}note") if note.get("category") == FORMER]
        former = marks[0] if len(marks) == 1 else None
        units[name] = _Unit(source, target, bool(target) and all(states), former, shown)
    return ({}, _without_lines(problems, file)) if problems else (units, [])


def _without_lines(problems: list[Problem], file: str) -> list[Problem]:
    """Faults that an entity made: the parser keeps no lines, so the file alone is named."""
    return list(dict.fromkeys(replace(problem, place=Place(file)) for problem in problems))


def _text(part: ET.Element, name: str) -> str:
    """The text of a segment's source or target, without marks that a tool put into it; spaces between segments stay."""
    element = part.find(f"{{{NAMESPACE}}}{name}")
    if element is None and part.tag.endswith("ignorable"):
        element = part.find(f"{{{NAMESPACE}}}source")
    return "" if element is None else "".join(element.itertext())
