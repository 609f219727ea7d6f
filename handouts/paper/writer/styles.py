"""Computed styles shared between documents: sheets of one kind have the same rules and elements, and so the same styles.

The writer works a style out property by property, for each document anew.  It depends on nothing but the style of its
parent, the declarations that hold for it, and the fonts; so it is kept by these.  Knows the writer's class by what it
has, never its modules.
"""

from __future__ import annotations

import atexit
from typing import Any
from xml.etree.ElementTree import Element

MOST = 6_000
"""Styles that are kept; one takes about 10 kB, a sheet has about 150.  At more all are dropped and worked out anew."""


OWN = ("anchor", "link", "width", "height")
"""Properties that come from an element's own id and address, or are told for one article; nothing inherits them."""


def _mark(value: Any) -> Any:
    """A value of a declaration in a key: words, as ids, links and languages are, by what they say, all else by its number."""
    if isinstance(value, str):
        return value
    return tuple(map(_mark, value)) if type(value) is tuple and value and isinstance(value[0], str) else id(value)


def share_styles(base: type[Any]) -> type[Any]:
    """The writer's class of a document's styles, with styles shared where the document's fetcher ``shares``."""
    kept: dict[tuple[Any, ...], Any] = {}
    atexit.register(kept.clear)  # styles hold fonts, which cannot be let go once Python takes the writer's modules down

    class SharedStyles(base):  # type: ignore[misc]
        """The styles of one document."""

        def __init__(self, html: Any, sheets: list[tuple[Any, str, Any]], *given: Any) -> None:
            self._shares = getattr(html.url_fetcher, "shares", False)
            # what was taken out of the document is still the author's
            own = [(sheet, "author" if getattr(sheet, "taken", False) else origin, weight) for sheet, origin, weight in sheets]
            super().__init__(html, own, *given)

        def set_computed_styles(
            self, element: Any, parent: Any, root: Any = None, pseudo_type: Any = None,
            base_url: Any = None, target_collector: Any = None,
        ) -> None:
            if not self._shares or not isinstance(element, Element):
                super().set_computed_styles(element, parent, root, pseudo_type, base_url, target_collector)
                return
            computed = self.get_computed_styles()
            cascaded = self.get_cascaded_styles().get((element, pseudo_type), {})
            above = computed[parent, None] if parent is not None else None
            # the objects of a key live as long as the style that is kept by it, which holds them: no other has their number
            marks = tuple((name, _mark(value), weight) for name, (value, weight) in cascaded.items())
            key = (id(self.font_config), id(getattr(above, "common", above)), pseudo_type, marks)
            if key in kept:
                style = computed[element, pseudo_type] = kept[key]
                if target_collector and style["anchor"]:
                    target_collector.collect_anchor(style["anchor"])
                return
            super().set_computed_styles(element, parent, root, pseudo_type, base_url, target_collector)
            if len(kept) >= MOST:
                kept.clear()
            style = kept[key] = computed[element, pseudo_type]
            if len(inherited := tuple(mark for mark in marks if mark[0] not in OWN)) < len(marks):
                # what stands inside it has the same styles as inside any other that differs in these alone
                style.common = kept.setdefault((*key[:3], inherited, "common"), style)

    return SharedStyles
