"""``sitemap.xml``: every page that a search engine should know, each with its counterparts in other languages.

The protocol of sitemaps.org 0.9 with ``xhtml:link`` for languages.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.sax.saxutils import quoteattr

from handouts.site.context import LanguageSite

PATH = "sitemap.xml"
_LEFT_OUT = ("code/", "desk/", "my/", "sheets/", "bundle/")
"""Below a language: pages of printed codes, and tools that search engines have no use for."""


def write_sitemap(settings: Sequence[LanguageSite]) -> bytes:
    """The map of the whole site, its addresses below the clinic's."""
    site = settings[0].library.clinic.site
    languages = [setting.language for setting in settings]
    groups: dict[str, list[str]] = {}
    for page in sorted(settings[0].pages):
        language, _, rest = page.partition("/")
        if language in languages and not rest.startswith(_LEFT_OUT):
            groups.setdefault(rest, []).append(language)
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9" xmlns:xhtml="http://www.w3.org/1999/xhtml">',
    ]
    for rest, found in groups.items():
        ordered = [language for language in languages if language in found]
        lines += [_url(site, language, rest, ordered) for language in ordered]
    return ("\n".join([*lines, "</urlset>"]) + "\n").encode()


def _url(site: str, language: str, rest: str, languages: Iterable[str]) -> str:
    others = list(languages)
    links = "".join(
        f'<xhtml:link rel="alternate" hreflang={quoteattr(each)} href={quoteattr(f"{site}{each}/{rest}")}/>'
        for each in others
        if len(others) > 1
    )
    return f"<url><loc>{site}{language}/{rest}</loc>{links}</url>"
