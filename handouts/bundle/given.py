"""The tests and leaflets that are handed over with a bundle."""

from __future__ import annotations

from handouts.bundle.values import PickedBundle
from handouts.model import Library, Standalone


def given_items(bundle: PickedBundle, library: Library) -> tuple[tuple[str, Standalone], ...]:
    """Each with the folder of its page, in the order in which they were chosen; what is not in the library is left out."""
    kinds: tuple[tuple[str, tuple[Standalone, ...]], ...] = (("leaflets", library.leaflets), ("tests", library.tests))
    known = {item.code: (kind, item) for kind, items in kinds for item in items}
    return tuple(known[code] for code in bundle.given if code in known)
