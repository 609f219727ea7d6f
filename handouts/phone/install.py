"""What lets the patient's page stand on the home screen and work without a connection: manifest and worker.

The worker is filled with the exact files of one build and their hashes; it takes all of them or none.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Any

from handouts.site.kit import FAMILIES

LARGEST_FONT = 250_000
"""Bytes of the largest font that is kept for use without a connection; above it the phone's own font serves."""
_FACE = re.compile(r'@font-face\s*\{[^}]*font-family:\s*"([^"]+)"[^}]*url\("([^"]+)"\)')
_BLANKS = {"version": '"VERSION"', "page": '"PAGE"', "shell": '["SHELL"]', "media": '{ "MEDIA": [""] }'}
"""Blanks in ``templates/scripts/worker.js``."""


def fonts_of(style: str, language: str, files: Mapping[str, bytes]) -> tuple[str, ...]:
    """The fonts of a joined style sheet that a language needs and that are small enough to keep."""
    primary = language.partition("-")[0]
    found = []
    for family, address in _FACE.findall(style):
        served = FAMILIES.get(family, ("none",))  # a family of names only is not worth keeping
        path = f"assets/{address}"
        if (not served or primary in served) and len(files[path]) <= LARGEST_FONT:
            found.append(path)
    return tuple(found)


def write_worker(template: str, page: bytes, shell: Sequence[str], media: Mapping[str, Sequence[str]]) -> str:
    """The worker of one page: its files as addresses from the worker, and the hash of the page itself.

    ``media`` holds by exercise code the files to keep when that exercise is on the patient's list.
    """
    digest = sha256(page).hexdigest()
    version = sha256(json.dumps([digest, list(shell), media], default=list, sort_keys=True).encode()).hexdigest()[:16]
    values: dict[str, Any] = {"version": version, "page": digest, "shell": list(shell), "media": media}
    text = template
    for name, blank in _BLANKS.items():
        if text.count(blank) != 1:
            raise ValueError(f"the worker has not one place for its {name}")
        text = text.replace(blank, json.dumps(values[name], separators=(",", ":"), default=list))
    return text


def write_manifest(
    *, name: str, short_name: str, language: str, direction: str, colour: str, icons: Mapping[int, str]
) -> str:
    """The web app manifest of a language, all addresses relative to it; ``icons`` by side in pixels."""
    manifest = {
        "name": name,
        "short_name": short_name,
        "lang": language,
        "dir": direction,
        "id": "./index.html",
        "start_url": "./index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": colour,
        "theme_color": colour,
        "icons": [
            {"src": path, "sizes": f"{side}x{side}", "type": "image/png", "purpose": purpose}
            for side, path in icons.items()
            for purpose in ("any", "maskable")
        ],
    }
    return json.dumps(manifest, ensure_ascii=False, indent=1) + "\n"
