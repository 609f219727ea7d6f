"""axe-core: what makes a page hard to use, in each scheme of colours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from playwright.sync_api import Page

from tests.site.making import ROOT

AXE = ROOT / "tests/node/node_modules/axe-core/axe.min.js"
OF_COLOURS = ["color-contrast", "link-in-text-block"]
"""The rules of axe-core 4 that look at colours; the others find the same in every scheme."""
SCHEMES: Mapping[str, Mapping[str, Any]] = {
    "light": {"color_scheme": "light"}, "dark": {"color_scheme": "dark"}, "forced": {"color_scheme": "light", "forced_colors": "active"},
}  # fmt: skip


def violations(page: Page, schemes: Sequence[str] = ("light",), tags: Sequence[str] = ()) -> list[tuple[str, str, list[str]]]:
    """What is found, with the scheme and the elements; by every rule in the first scheme, in others by those of colours."""
    assert AXE.is_file(), "axe-core is missing: run 'npm ci' in tests/node"
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = []
    for number, scheme in enumerate(schemes):
        page.emulate_media(**SCHEMES[scheme])
        rules: Sequence[str] = OF_COLOURS if number else tags
        report = page.evaluate("rules => axe.run(document, {resultTypes: ['violations'], ...(rules.length ? {runOnly: rules} : {})})", rules)
        assert report["passes"] or report["incomplete"]
        found += [(scheme, each["id"], [node["html"][:120] for node in each["nodes"]]) for each in report["violations"]]
    page.emulate_media(color_scheme=None, forced_colors=None)
    return found
