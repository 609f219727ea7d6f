"""The clinician's pages without a connection: one worker at the root of the site, filled from the finished files.

It keeps the bundle page, the library's list and the sheets of every language, and of a language that is used its
other pages too.  Never the patient's page, which has a worker of its own, and never a PDF.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from handouts.site.worker import LARGEST_FONT, page_hash, write_worker

WORKER = "worker.js"
"""Path of the worker; what stands below it is what it may serve."""
_ALWAYS = re.compile(r"[^/]+/(?:bundle|exercises|sheets/[^/]+)/index\.html")
_NEVER = re.compile(r"[^/]+/(?:my|code|desk|new|review)/")
_SINGLE = re.compile(r"[^/]+/(?:exercises|programmes|bundles)/[^/]+/index\.html")
_ASSET = re.compile(r"(?:assets/|url\(\"?)([\w-][\w.-]*\.\w+)")
"""An asset as a page, a script or a style sheet of the site names it."""
_ADDRESS = re.compile(r"assets/([\w-][\w.-]*\.\w+)")
"""The same where there is no ``url(``: most pages; a pattern that begins with letters is looked for much faster."""


MOST_PAGES = 400
"""Pages of single exercises, programmes and bundles of a language that are kept; a larger library keeps none of them,
since nobody would wait for it."""


def add_worker(files: Mapping[str, bytes], languages: Iterable[str], template: str) -> dict[str, bytes]:
    """The worker of a site by its path; ``files`` are all of the site's, with every page as it is published.

    A language without a bundle page has no part in it; a site without any has no worker.
    """
    pages = {
        language: _pages_of(files, language) for language in languages if f"{language}/bundle/index.html" in files
    }
    if not pages:
        return {}
    every = [path for paths in pages.values() for path in paths]
    named: dict[str, tuple[str, ...]] = {}
    assets = {path: tuple(_assets_of(path, files, named)) for path in every}
    shell = _with_assets((path for path in every if _ALWAYS.fullmatch(path)), assets)
    media = {
        language: [path for path in _with_assets(paths, assets) if path not in shell] for language, paths in pages.items()
    }
    worker = write_worker(template, {path: page_hash(files[path]) for path in every}, list(shell), media)
    return {WORKER: worker.encode()}


def _pages_of(files: Mapping[str, bytes], language: str) -> tuple[str, ...]:
    """The pages of a language that may be kept."""
    kept = sorted(
        path
        for path in files
        if path.startswith(f"{language}/") and path.endswith("/index.html") and not _NEVER.match(path)
    )
    single = [path for path in kept if _SINGLE.fullmatch(path)]
    return tuple(path for path in kept if len(single) <= MOST_PAGES or path not in single)


def _with_assets(paths: Iterable[str], assets: Mapping[str, tuple[str, ...]]) -> dict[str, None]:
    """Pages and what they need, each once, in order."""
    return dict.fromkeys(each for path in paths for each in (path, *assets[path]))


def _assets_of(page: str, files: Mapping[str, bytes], named: dict[str, tuple[str, ...]]) -> Iterator[str]:
    """What a page names, and what its scripts and style sheets name; ``named`` keeps what was looked up."""
    for path in _named_in(page, files):
        yield path
        if path.endswith((".css", ".js")):
            if path not in named:
                named[path] = tuple(_named_in(path, files))
            yield from named[path]


def _named_in(path: str, files: Mapping[str, bytes]) -> Iterator[str]:
    """The assets that a file names; fonts that are too large are left to the device."""
    text = files[path].decode()
    for name in dict.fromkeys((_ASSET if "url(" in text else _ADDRESS).findall(text)):
        found = f"assets/{name}"
        if found in files and not (found.endswith(".woff2") and len(files[found]) > LARGEST_FONT):
            yield found
