"""Which files of the published site nobody touched since they were verified, told without reading them.

After each publication the marks of all its files are kept with the cache, for that site only.  A file whose mark is
the same counts as whole: whoever writes into it, replaces it or sets its times back leaves another mark.  What
changes on the disk without being written (rot) leaves none, so at each build one file in ``TURNS`` is read all the same.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from zlib import crc32

from handouts.publishing.manifest import Mark, Written, read_manifest, site_digest
from handouts.store.cache import NOTHING_KEPT, Cache, key_of

TURNS = 16
"""Within so many builds each file is read at least once."""
_ENTRY = key_of("marks of the published site")


@dataclass(frozen=True, slots=True)
class Standing:
    """The published site, before another one takes its place."""

    site: Path
    manifest: Written = field(default_factory=dict)
    """What should stand in it; empty where that is not known."""
    marks: Mapping[str, Mark] = field(default_factory=dict)
    """Of the files that are as they were verified, by path, as long as their marks are these."""
    turn: int = 0
    """Of this build: which files are read in any case."""

    def needs_reading(self, path: str) -> bool:
        """Whether it is a file's turn to be read."""
        return crc32(path.encode()) % TURNS == self.turn % TURNS


def read_standing(site: Path, kept: Cache = NOTHING_KEPT) -> Standing:
    """What stands published; without marks where none were kept for exactly this site."""
    try:
        record = json.loads(kept.get(_ENTRY) or b"{}")
        marks = {str(path): Mark(*map(int, mark)) for path, mark in record.get("marks", {}).items()}
        known, turn = record.get("site"), int(record.get("turn", 0))
    except (ValueError, TypeError, AttributeError):
        marks, known, turn = {}, None, 0
    return Standing(site, read_manifest(site) or {}, marks if known == site_digest(site) else {}, turn)


def keep_marks(kept: Cache, digest: str, marks: Mapping[str, Mark], turn: int) -> None:
    """Keep the marks of the site with this digest; where they cannot be kept, the next build reads every file."""
    record = {"site": digest, "turn": turn, "marks": marks}
    kept.put(_ENTRY, json.dumps(record, ensure_ascii=False, separators=(",", ":")).encode())
