"""axe-core: what makes a page hard to use, in each scheme of colours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from playwright.sync_api import BrowserContext, Page

from tests.site.making import ROOT

AXE = ROOT / "tests/node/node_modules/axe-core/axe.min.js"
OF_COLOURS = ["color-contrast", "link-in-text-block"]
"""The rules of axe-core 4 that look at colours; the others find the same in every scheme."""
SCHEMES: Mapping[str, Mapping[str, Any]] = {
    "light": {"color_scheme": "light"}, "dark": {"color_scheme": "dark"}, "forced": {"color_scheme": "light", "forced_colors": "active"},
}  # fmt: skip
RUN = """async rules => {
  const report = await axe.run(document, {resultTypes: ['violations'], ...(rules.length ? {runOnly: rules} : {})});
  return [report.passes.length + report.incomplete.length,
          report.violations.map(each => [each.id, each.nodes.map(node => node.html.slice(0, 120))])];
}"""


def bring_axe(context: BrowserContext) -> None:
    """Every page and frame of the context comes with axe-core: where frames come and go."""
    context.add_init_script(path=AXE)


def violations(page: Page, schemes: Sequence[str] = ("light",), tags: Sequence[str] = ()) -> list[tuple[str, str, list[str]]]:
    """What is found, with the scheme and the elements; by every rule in the first scheme, in others by those of colours.

    Colours are the same in every language: further schemes are asked of one language only.  The page's context has ``bypass_csp``, or ``bring_axe``.
    """
    assert AXE.is_file(), "axe-core is missing: run 'npm ci' in tests/node"
    if not page.evaluate("'axe' in window"):
        page.add_script_tag(path=AXE)
    found = []
    for number, scheme in enumerate(schemes):
        page.emulate_media(**SCHEMES[scheme])
        looked, wrong = page.evaluate(RUN, OF_COLOURS if number else tags)
        assert looked
        found += [(scheme, rule, elements) for rule, elements in wrong]
    page.emulate_media(color_scheme=None, forced_colors=None)
    return found
