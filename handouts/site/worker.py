"""The service worker of some pages: filled with the exact files of one build and their hashes.

It takes all of them or none.  Pure; reads no files.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Any

from handouts.publication.font_faces import own_family, read_font_faces
from handouts.site.assets import FAMILIES

LARGEST_FONT = 260_000
"""Bytes of the largest font that is kept for use without a connection; above it the phone's own font serves."""
HASH_CHARACTERS = 16
"""Of the SHA-256 of a page, in hexadecimal digits."""
_BLANKS = {"version": '"VERSION"', "pages": '{ "PAGES": "" }', "shell": '["SHELL"]', "media": '{ "MEDIA": [""] }'}
"""Blanks in ``templates/scripts/worker.js``."""


def fonts_of(style: str, language: str, files: Mapping[str, bytes]) -> tuple[str, ...]:
    """The fonts of a joined style sheet that a language needs and that are small enough to keep."""
    primary = language.partition("-")[0]
    found = []
    for face in read_font_faces(style):
        served = FAMILIES.get(face.family, ("none",))  # a family of names only is not worth keeping
        if not face.address:
            continue
        path = f"assets/{face.address}"
        if (not served or primary in served or face.family == own_family(language)) and len(files[path]) <= LARGEST_FONT:
            found.append(path)
    return tuple(found)


def page_hash(data: bytes) -> str:
    """By what a worker knows that a page is the one of its build."""
    return sha256(data).hexdigest()[:HASH_CHARACTERS]


def write_worker(
    template: str, hashes: Mapping[str, str], shell: Sequence[str], media: Mapping[str, Sequence[str]]
) -> str:
    """The worker of some pages.

    ``hashes`` holds the ``page_hash`` of each, ``shell`` the files that are always kept (pages among them), and ``media`` by
    exercise code or language the files that are kept when it is wanted; all as addresses from the worker.
    """
    version = sha256(json.dumps([hashes, list(shell), media], default=list, sort_keys=True).encode()).hexdigest()[:16]
    values: dict[str, Any] = {"version": version, "pages": hashes, "shell": list(shell), "media": media}
    text = template
    for name, blank in _BLANKS.items():
        if text.count(blank) != 1:
            raise ValueError(f"the worker has not one place for its {name}")
        text = text.replace(blank, json.dumps(values[name], separators=(",", ":"), default=list))
    return text
