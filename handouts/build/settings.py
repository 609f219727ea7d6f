"""What a command was asked to do: one small frozen value that is passed down; unknown options are refused by the parser."""

from __future__ import annotations

import argparse
import os
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path

from handouts.build.caches import RESULTS, SHARED, find_cache
from handouts.problems import Place, Problem
from handouts.publishing.disk import PublishError
from handouts.store.digest import digest
from handouts.tasks.progress import SILENT, Progress
from handouts.workers import Workers

DEFAULT_LIBRARY, BUILD = "content", "build"
SIGN = "clinic.yaml"
"""A file that only a library has."""
LEAST_JOBS = 2
"""Processes where none are asked for, also on one processor: only in a process of its own is a sheet bounded."""


@dataclass(frozen=True, slots=True)
class Settings:
    """Folders, day and means of one run."""

    library: Path
    out: Path = Path("build")
    today: date = date.min
    jobs: int = 1
    paper: bool = True
    """Whether PDFs are laid out."""
    on: str = ""
    """Address of a dask scheduler whose workers do the heavy work; empty where this machine does."""
    review: bool = False
    """Whether the translator's pages are made."""
    draft: bool = False
    """Whether it is a trial, which the ledger must not take as published."""
    keep: bool = True
    """Whether results are kept between builds."""
    cache_folder: Path | None = None
    """Where; None: where the platform has a place for it."""
    base: Path | None = None
    """The folder to stand on in place of the one that the library names."""
    progress: Progress = field(default=SILENT, compare=False, repr=False)
    """Where it is shown how far the work is."""
    workers: Workers = field(init=False, compare=False, repr=False)
    """Who draws figures and lays out sheets; one pool for all of it within ``with settings.workers``."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "workers", Workers(self.jobs, self.on, self.progress))

    @classmethod
    def of(cls, arguments: argparse.Namespace) -> Settings:
        """From the command line; the day and the number of processors come from the machine where not given."""
        return cls(
            library=arguments.library,
            out=getattr(arguments, "to", None) or default_out(arguments.library),
            today=getattr(arguments, "today", None) or today(),
            jobs=getattr(arguments, "jobs", None) or max(LEAST_JOBS, os.cpu_count() or 1),
            paper=not getattr(arguments, "no_paper", False),
            on=getattr(arguments, "on", None) or "",
            review=getattr(arguments, "review", False),
            draft=getattr(arguments, "draft", False),
            keep=not getattr(arguments, "no_cache", False),
            cache_folder=getattr(arguments, "cache", None),
            progress=Progress(getattr(arguments, "quiet", False) or getattr(arguments, "json", False)),
        )

    @property
    def cache(self) -> Path | None:
        """Where results are kept between builds; None where none are."""
        return (self.cache_folder or find_cache(self.out)) if self.keep else None

    @property
    def results(self) -> Path | None:
        """The store of what tasks gave."""
        return self.cache / RESULTS if self.cache else None

    @property
    def shared(self) -> bool:
        """Whether other builds keep their results in the same place."""
        return self.cache_folder is None and bool(os.environ.get(SHARED))

    @property
    def reads(self) -> Path | None:
        """What the pages of this library were made from."""
        return self._own_file("reads")

    @property
    def sheet_reads(self) -> Path | None:
        """What its PDFs were made from."""
        return self._own_file("sheet-reads")

    def _own_file(self, name: str) -> Path | None:
        """A file of the cache that is this library's own."""
        name += f"-{digest(str(self.library.resolve())).hex()}" if self.shared else ""
        return self.cache / name if self.cache else None


def find_library(word: str) -> Path:
    """The folder of a library, with a name of its own; in place of a ``content`` that is not there, the library around this folder."""
    path = Path(word)
    if word == DEFAULT_LIBRARY and not path.is_dir():
        here = Path.cwd()
        path = next((folder for folder in (here, *here.parents) if (folder / SIGN).is_file()), path)
    return path if path.name not in ("", "..") else path.resolve()


def default_out(library: Path) -> Path:
    """Where a build goes: ``build`` in this folder, or in the library for who stands inside it."""
    here, root = Path.cwd(), library.resolve()
    return root / BUILD if root in here.parents else Path(BUILD)


def stands_in(library: Path) -> bool:
    """Whether this folder is the library's, or one in it."""
    here, root = Path.cwd(), library.resolve()
    return root in (here, *here.parents)


def today() -> date:
    """The day now, in universal time; SOURCE_DATE_EPOCH takes its place where it is set (reproducible-builds.org)."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not (epoch.isascii() and epoch.isdigit()):
        return datetime.now(UTC).date()
    try:
        return datetime.fromtimestamp(int(epoch), UTC).date()
    except (ValueError, OverflowError, OSError) as error:
        what, mend = f"'{epoch}' is no moment of the calendar", "Unset it, or set it to seconds since 1970-01-01."
        raise PublishError(Problem(Place("SOURCE_DATE_EPOCH"), "no-day", what, mend)) from error
