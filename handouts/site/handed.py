"""What can be handed over beside exercises: tests of function and leaflets, by their permanent codes."""

from __future__ import annotations

from handouts.site.context import LanguageSite
from handouts.site.paths import item_page, relative
from handouts.text.markup import plain_text


def handed_out(setting: LanguageSite, page: str) -> dict[str, tuple[str, str]]:
    """By code the title of each that is published in the language, and its address as seen from a page."""
    kinds = (("leaflets", setting.library.leaflets), ("tests", setting.library.tests))
    return {
        item.code: (plain_text(item.title.text), relative(page, item_page(setting.language, kind, item.slug)))
        for kind, items in kinds
        for item in items
    }
