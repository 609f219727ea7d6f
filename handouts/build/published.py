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

from handouts.publishing.manifest import FILE_MODE, MANIFEST, read_manifest, site_digest
from handouts.publishing.publish import REPORT, SITE

INPUTS, SITE_DIGEST = "made from", "site"
"""Entries of a report: the fingerprint of the inputs, the digest of the site's manifest."""
_PUBLIC = stat.S_IFREG | FILE_MODE
"""Kind and rights of a file that a web server reads."""


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
    if expected is None:
        return False
    try:
        written = (site / MANIFEST).stat().st_mtime_ns
        folders, seen = [("", str(site))], 0
        for prefix, folder in folders:
            with os.scandir(folder) as entries:
                for entry in entries:
                    path = prefix + entry.name
                    if entry.is_dir(follow_symlinks=False):
                        folders.append((f"{path}/", entry.path))
                    elif path != MANIFEST:
                        status = entry.stat(follow_symlinks=False)
                        row = expected.get(path)
                        if row is None or status.st_size != row[0] or status.st_mode != _PUBLIC or status.st_mtime_ns > written:
                            return False
                        seen += 1
    except OSError:
        return False
    return seen == len(expected)
