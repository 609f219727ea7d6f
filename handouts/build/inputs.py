"""Everything that a build depends on, each by its name and a digest: files, program, packages, day, options.

Names are what a person calls a thing (``content/exercises/step-up.md``), so that a difference can be told
in words.  Cheap: nothing here reads what is in a file, and no renderer is imported.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts.build.settings import Settings
from handouts.problems import has_errors
from handouts.publishing.manifest import digest_of
from handouts.source.bases import read_with_base
from handouts.store.code_digest import whole_digest
from handouts.store.digest import digest
from handouts.templating.assets import read_templates

PROGRAM, DAY, OPTIONS = "the program and the installed packages", "the day", "the options of the build"
"""Inputs that are no files of the library and no templates."""


def read_inputs(settings: Settings) -> dict[str, str]:
    """Every input of a build by name; empty where the library cannot be read whole."""
    files, problems = read_with_base(settings.library, settings.library.name, settings.base)
    if has_errors(problems):
        return {}
    return {
        **{path: digest_of(data) for path, data in files.named().items()},
        **{f"templates/{path}": digest_of(data) for path, data in read_templates().items()},
        PROGRAM: whole_digest(),
        DAY: settings.today.isoformat(),
        OPTIONS: f"sheets {settings.paper}, review {settings.review}{', draft' if settings.draft else ''}",
    }


def fingerprint(inputs: Mapping[str, str]) -> str:
    """One digest for all inputs."""
    return digest(inputs).hex()
