"""The glossary of a library: a term is translated one way everywhere, and some words are never translated.

``words/glossary.yaml`` holds both.  A term counts as used where it stands in the source as a word,
alone or with a plural ending; any of the forms given for a language will do, since words are inflected.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache, lru_cache

from handouts.problems import Place, Problem
from handouts.source import nodes
from handouts.words import locales


@lru_cache(maxsize=65_536)
def _find_terms(terms: tuple[str, ...], text: str) -> frozenset[str]:
    """The terms that are used in a source text, each also in the plural; kept, since every language asks."""
    return frozenset(term for term in terms if _pattern(term).search(text))


@cache
def _pattern(term: str) -> re.Pattern[str]:
    return re.compile(rf"\b{re.escape(term)}(?:s|es)?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class GlossaryTerm:
    """A term of the source language and, for each language, the forms that translate it."""

    term: str
    forms: Mapping[str, tuple[str, ...]]
    place: Place = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Glossary:
    """All terms, and the words that stay as they are in every language."""

    terms: tuple[GlossaryTerm, ...] = ()
    keep: tuple[str, ...] = ()

    def breaches(self, source: str, translation: str, language: str) -> tuple[tuple[str, str], ...]:
        """Terms and kept words that a translation does not honour, each with what should stand in it."""
        folded = translation.casefold()
        found = []
        standing = _find_terms(tuple(item.term for item in self.terms), source)
        for item in self.terms:
            forms = item.forms.get(language)
            if forms and item.term in standing and not any(form.casefold() in folded for form in forms):
                found.append((item.term, forms[0]))
        for word in self.keep:
            if re.search(rf"\b{re.escape(word)}\b", source) and word not in translation:
                found.append((word, word))
        return tuple(found)


def read_glossary(data: bytes, file: str) -> tuple[Glossary, list[Problem]]:
    """The glossary in a file: ``keep:`` a list of words, ``terms:`` a list of ``{term, LANG: form or [forms]}``."""
    text, problems = nodes.read_text(data, file)
    if problems:
        return Glossary(), problems
    root, problems = nodes.compose(text, file)
    if root is None:
        return Glossary(), problems
    for entry in root.entries:
        if entry.key not in ("keep", "terms"):
            problems.append(
                Problem(
                    entry.place, "unknown-key", f"unknown key '{entry.key}' in the glossary", "Use 'keep' or 'terms'."
                )
            )
    keep = _texts(root.get("keep"), problems)
    listed = root.get("terms")
    terms = []
    if listed is not None and not isinstance(listed, nodes.Sequence):
        mend = "Write each on a line of its own: - {term: ankle, es: tobillo}."
        problems.append(Problem(listed.place, "wrong-value", "a list of terms is wanted here", mend))
    for item in listed.items if isinstance(listed, nodes.Sequence) else ():
        term = _read_term(item, problems)
        if term is not None:
            terms.append(term)
    return Glossary(tuple(terms), keep), problems


def _read_term(node: nodes.Node, problems: list[Problem]) -> GlossaryTerm | None:
    term = node.get("term") if isinstance(node, nodes.Mapping) else None
    if not isinstance(node, nodes.Mapping) or not isinstance(term, nodes.Scalar):
        problems.append(
            Problem(node.place, "wrong-value", "a term is wanted here", "Write {term: ankle, es: tobillo}.")
        )
        return None
    forms = {}
    for entry in node.entries:
        if entry.key == "term":
            continue
        if not locales.is_known(entry.key):
            problems.append(
                Problem(
                    entry.place, "unknown-language", f"'{entry.key}' is not a language", "Write a tag such as 'es'."
                )
            )
            continue
        forms[entry.key] = _texts(entry.value, problems)
    return GlossaryTerm(term.text, forms, node.place)


def _texts(node: nodes.Node | None, problems: list[Problem]) -> tuple[str, ...]:
    """One text or a list of texts."""
    if node is None:
        return ()
    items = node.items if isinstance(node, nodes.Sequence) else (node,)
    found = []
    for item in items:
        if isinstance(item, nodes.Scalar) and item.text.strip():
            found.append(item.text.strip())
        else:
            problems.append(
                Problem(item.place, "wrong-value", "a word or a list of words is wanted here", "Write words.")
            )
    return tuple(found)
