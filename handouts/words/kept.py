"""Catalogues kept between builds as they were read, so that only a changed one is taken apart again.

One entry of the cache for each language.  A catalogue with a problem is not kept: it is read anew and named again.
"""

from __future__ import annotations

import json

from handouts.cache import Cache, key_of
from handouts.problems import Place, Problem
from handouts.program import packages_digest, program_digest
from handouts.words.catalogue import Catalogue, Entry, read_catalogue


def read_kept_catalogue(data: bytes, file: str, language: str, cache: Cache) -> tuple[Catalogue | None, list[Problem]]:
    """The catalogue in a PO file as ``read_catalogue`` gives it."""
    if cache.folder is None:
        return read_catalogue(data, file, language)
    entry = key_of("catalogue", language)
    made_from = key_of(program_digest(), packages_digest(), file, language, data).encode()
    body = cache.get(entry)
    if body is not None and body.startswith(made_from):
        return _unpack(body[len(made_from) :], file, language), []
    catalogue, problems = read_catalogue(data, file, language)
    if catalogue is not None and not problems:
        cache.put(entry, made_from + _pack(catalogue))
    return catalogue, problems


def _pack(catalogue: Catalogue) -> bytes:
    rows = [
        (
            *(entry.context, entry.source, entry.forms, entry.source_plural, entry.fuzzy, entry.obsolete),
            *(entry.previous, entry.note, entry.comment, entry.source_place, entry.flags),
            *(entry.place.line, entry.place.column),
        )
        for entry in catalogue.entries
    ]
    return json.dumps([catalogue.header, rows], ensure_ascii=False, separators=(",", ":")).encode()


def _unpack(body: bytes, file: str, language: str) -> Catalogue:
    header, rows = json.loads(body)
    entries = tuple(
        Entry(
            *(context, source, tuple(forms), plural, fuzzy, obsolete, previous, note, comment),
            tuple(source_place) if source_place else None,
            tuple(flags),
            Place(file, line, column),
        )
        for context, source, forms, plural, fuzzy, obsolete, previous, note, comment, source_place, flags, line, column in rows
    )
    return Catalogue(language, file, entries, tuple((key, value) for key, value in header))
