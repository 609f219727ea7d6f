"""Everything that a build depends on, each by its name and a digest: files, program, packages, day, options.

Names are what a person calls a thing (``content/exercises/step-up.md``), so that a difference can be told
in words.  Cheap: nothing here reads what is in a file, and no renderer is imported.
"""

from __future__ import annotations

import hashlib
import platform
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from handouts import __version__
from handouts.assets import read_templates
from handouts.cache import key_of
from handouts.files import read_folder
from handouts.settings import Settings

PROGRAM, PACKAGES, DAY, OPTIONS = "the program", "the installed packages", "the day", "the options of the build"
"""Inputs that are no files of the library and no templates."""
_PACKAGE = Path(__file__).parent


def read_inputs(settings: Settings) -> dict[str, str]:
    """Every input of a build by name; empty where the library cannot be read whole."""
    files, problems = read_folder(settings.library, settings.library.name)
    if problems:
        return {}
    return {
        **{f"{settings.library.name}/{path}": digest(data) for path, data in files.items()},
        **{f"templates/{path}": digest(data) for path, data in read_templates().items()},
        PROGRAM: program_digest(),
        PACKAGES: packages_digest(),
        DAY: settings.today.isoformat(),
        OPTIONS: f"sheets {settings.paper}, review {settings.review}",
    }


def digest(data: bytes) -> str:
    """SHA-256 in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def fingerprint(inputs: Mapping[str, str]) -> str:
    """One digest for all inputs."""
    return key_of(*(part for pair in sorted(inputs.items()) for part in pair))


@cache
def program_digest() -> str:
    """The digest of every source file and catalogue of the package."""
    parts: list[bytes | str] = [__version__]
    for path in sorted(_PACKAGE.rglob("*")):
        if path.suffix in (".py", ".po", ".json", ".yaml", ".txt") and "_templates" not in path.parts:
            parts += [path.relative_to(_PACKAGE).as_posix(), path.read_bytes()]
    return key_of(*parts)


@cache
def packages_digest() -> str:
    """The digest of Python, the machine's kind, and the name and version of every installed package."""
    folders = (Path(entry) for entry in sys.path if entry.endswith("-packages"))
    found = {item.name for folder in folders if folder.is_dir() for item in folder.glob("*.dist-info")}
    return key_of(sys.version, platform.machine(), sys.platform, *sorted(found))


def name_changes(before: Mapping[str, str], now: Mapping[str, str]) -> tuple[str, ...]:
    """What differs between two builds' inputs, each in words."""
    new = [f"{name} is new" for name in sorted(now.keys() - before.keys())]
    gone = [f"{name} is gone" for name in sorted(before.keys() - now.keys())]
    changed = [f"{name} changed" for name in sorted(now.keys() & before.keys()) if now[name] != before[name]]
    return (*changed, *new, *gone)
