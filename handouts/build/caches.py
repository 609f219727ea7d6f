"""Where results are kept between builds: one folder for each output, where the platform has such things, or where one is told.

Linux and the like: ``$XDG_CACHE_HOME/handouts`` or ``~/.cache/handouts`` (XDG Base Directory Specification 0.8); macOS:
``~/Library/Caches/handouts``; Windows: ``%LOCALAPPDATA%\\handouts``.  ``HANDOUTS_CACHE`` names one folder for all builds.
"""

from __future__ import annotations

import os
import shutil
import sys
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from handouts.store.whole_file import sweep

SHARED = "HANDOUTS_CACHE"
"""Variable of the environment: a folder that all builds share, from which none drops what another may want."""
RESULTS = "results"
"""Folder of the store in that of an output."""
OF = "of"
"""File in the folder of an output that says whose it is."""
FORMER_HERE = ("untouched",)
"""What a former version kept in the folder itself."""
FORMER = ("figures", "sheets", "texts", "words", "parts", "results", "untouched", "plan.json")
"""What former versions kept in ``.cache`` of an output."""


def find_cache(out: Path) -> Path | None:
    """The folder for an output; None where there is no place for it."""
    shared = os.environ.get(SHARED)
    if shared:
        return Path(shared)
    home, place = find_home(), out.resolve()
    key = sha256(os.fsencode(place)).hexdigest()[:12]
    return home / f"{place.parent.name}-{place.name}-{key}" if home else None


def find_home() -> Path | None:
    """The folder of all outputs; None where nobody is at home."""
    try:
        if sys.platform == "win32":
            base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData/Local")
        elif sys.platform == "darwin":
            base = Path.home() / "Library/Caches"
        else:
            base = Path(os.environ.get("XDG_CACHE_HOME") or "")
            base = base if base.is_absolute() else Path.home() / ".cache"
    except RuntimeError:
        return None
    return base / "handouts"


def tidy(out: Path, cache: Path | None) -> None:
    """Say whose the folder is; remove those of outputs that are gone, what killed builds left half-written, and what former versions kept."""
    if cache is not None:
        sweep(cache, cache / RESULTS)
        for name in FORMER_HERE:
            shutil.rmtree(cache / name, ignore_errors=True)
    if cache is None or out / ".cache" not in (cache, *cache.parents):
        for name in FORMER:
            shutil.rmtree(out / ".cache" / name, ignore_errors=True)
            with suppress(OSError):
                (out / ".cache" / name).unlink()
        with suppress(OSError):
            (out / ".cache").rmdir()
    if cache is not None and cache.parent == find_home():
        with suppress(OSError):
            cache.mkdir(parents=True, exist_ok=True)
            (cache / OF).write_bytes(os.fsencode(out.resolve()))
            for other in cache.parent.iterdir():
                if not Path(os.fsdecode((other / OF).read_bytes())).exists():
                    shutil.rmtree(other, ignore_errors=True)
