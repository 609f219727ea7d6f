"""What is published now, as far as a look at the folder tells: its report, and whether every file still stands there.

Reads only; ``handouts.publishing.publish`` writes.  A file counts as standing where its size is that of the manifest
and nothing touched it since: contents are not read (``handouts.publishing.manifest.find_damage`` reads them).
"""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from handouts.publishing.manifest import FILE_MODE, MANIFEST, read_manifest, site_digest, walk_files
from handouts.publishing.publish import REPORT, SITE

INPUTS, SITE_DIGEST = "made from", "site"
"""Entries of a report: the fingerprint of the inputs, the digest of the site's manifest."""
TOUCHED = -1
"""In place of the size of a file that was written after the manifest."""


def read_report(out: Path, fingerprint: str) -> Mapping[str, Any] | None:
    """The report of the published site, where it was made from inputs with this fingerprint."""
    try:
        report = json.loads((out / REPORT).read_bytes())
    except (OSError, ValueError):
        return None
    made = isinstance(report, dict) and fingerprint and report.get(INPUTS) == fingerprint
    return report if made and report.get(SITE_DIGEST) == site_digest(out / SITE) else None


def stands_whole(out: Path) -> bool:
    """Whether exactly the files of its manifest stand in the published site, each of its size, none touched since."""
    site, expected = out / SITE, read_manifest(out / SITE)
    try:
        written = (site / MANIFEST).stat().st_mtime_ns
        found = {path: _size(entry, written) for path, entry in walk_files(str(site))}
    except OSError:
        return False
    found.pop(MANIFEST, None)
    return expected is not None and found == {path: size for path, (size, _) in expected.items()}


def _size(entry: os.DirEntry[str], written: int) -> int:
    """The size of a file in bytes, where it was not touched after a time in nanoseconds and a web server reads it."""
    status = entry.stat(follow_symlinks=False)
    sound = status.st_mtime_ns <= written and stat.S_IMODE(status.st_mode) == FILE_MODE
    return status.st_size if sound else TOUCHED
