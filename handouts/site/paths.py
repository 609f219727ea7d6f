"""Where each page and each PDF stands, and how one page names another: always relative, always a file."""

from __future__ import annotations

from posixpath import dirname

CHOICE = "index.html"
NOT_FOUND = "404.html"
LARGER = {"letter": "tabloid", "a4": "a3"}
"""The paper of twice the size, by that of a clinic: for what hangs on a wall."""


def home_page(language: str) -> str:
    """The first page of a language."""
    return f"{language}/index.html"


def list_page(language: str, kind: str) -> str:
    """The page that lists all of a kind: ``exercises``, ``programmes``, ``bundles``; or ``about``, ``safety``."""
    return f"{language}/{kind}/index.html"


def item_page(language: str, kind: str, slug: str) -> str:
    """The page of one exercise, programme or bundle."""
    return f"{language}/{kind}/{slug}/index.html"


def pdf_path(page: str, name: str, paper: str, size: str) -> str:
    """A PDF beside its page; ``name`` is the slug, or slug and tier."""
    return f"{dirname(page)}/{name}-{paper}-{size}.pdf"


def full_name(slug: str) -> str:
    """The name of the PDF of a bundle with a page for each exercise, beside the one with several on a page."""
    return f"{slug}-full"


def folded_path(page: str, name: str, paper: str) -> str:
    """The same PDF to be folded; ``paper`` is ``letter-folded`` or ``a4-folded``."""
    return f"{dirname(page)}/{name}-{paper}.pdf"


def wall_path(page: str, name: str, paper: str) -> str:
    """A PDF in one type size: a poster, station cards, pocket cards."""
    return folded_path(page, name, paper)


def beside_path(page: str, name: str, paper: str, size: str, source: str) -> str:
    """The same PDF with the language ``source`` beside the page's own."""
    return f"{dirname(page)}/{name}-{paper}-{size}-with-{source}.pdf"


def relative(page: str, target: str) -> str:
    """How ``page`` names ``target``, both from the root of the site."""
    folder, parts = page.split("/")[:-1], target.split("/")
    common = 0
    while common < len(folder) and common < len(parts) - 1 and folder[common] == parts[common]:
        common += 1
    return "../" * (len(folder) - common) + "/".join(parts[common:])
