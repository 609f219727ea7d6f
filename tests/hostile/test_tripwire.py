"""Attacks in Chromium: pages built from them run nothing, ask nothing of anyone and break no policy.

The locks are tried one by one: the text as our Markdown renders it in a page with the policy of every page;
the same without that policy; and every text field of the library set to an attack, past the checks that
would have refused it, through the templates.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from markupsafe import escape
from playwright.sync_api import Browser, expect

from handouts.model import Ref, Words
from handouts.site.page_frame import POLICY
from handouts.text.markup import render_inline
from tests.builders import a_library
from tests.hostile.payloads import XSS
from tests.site.making import make_site, write_site

pytestmark = pytest.mark.browser

LISTEN = """
window.ran = 0; window.broken = [];
document.addEventListener('securitypolicyviolation', event => window.broken.push(event.violatedDirective + ' ' + event.blockedURI));
"""
LIVE = ["script", "iframe", "object", "embed", "form", "base", "style", "svg script", "svg foreignObject", "math", "[onerror]", "[onload]", "[onclick]", "[style]", "[srcdoc]"]
"""What no attack may bring into a page."""


def look(browser: Browser, address: str) -> dict[str, Any]:
    """What a page did: whether a script ran, which policies were broken, what was asked of others, which schemes links have."""
    context = browser.new_context()
    context.add_init_script(LISTEN)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("dialog", lambda dialog: asked.append("dialog"))
    page.goto(address, wait_until="load")
    expect(page.locator("body")).to_be_attached(timeout=15_000)
    page.evaluate("() => { for (const each of document.querySelectorAll('a, [tabindex], summary')) { each.focus(); each.dispatchEvent(new Event('mouseover')); } }")
    found: dict[str, Any] = page.evaluate(
        """live => ({ran: window.ran, broken: window.broken,
            schemes: [...new Set([...document.links].map(link => link.protocol))].sort(),
            live: live.filter(what => document.querySelector('main ' + what)),
            events: [...document.querySelectorAll('*')].filter(each => [...each.attributes].some(one => one.name.startsWith('on'))).length})""",
        LIVE,
    )
    context.close()
    return {**found, "asked": [url for url in asked if not url.startswith("file:")]}


def page_of(texts: list[str], policy: str) -> str:
    """A page with a text in each paragraph."""
    meta = f'<meta http-equiv="Content-Security-Policy" content="{escape(policy)}">' if policy else ""
    return f"<!doctype html><html lang=en><head><meta charset=utf-8>{meta}<title>x</title></head><body><main>{''.join(f'<p>{text}</p>' for text in texts)}</main></body></html>"


@pytest.mark.parametrize("policy", [POLICY, ""], ids=["with the policy", "without it"])
def test_rendered_attacks_are_inert(browser: Browser, tmp_path: Path, policy: str) -> None:
    """All attacks on one page: nothing ran, nothing was tried."""
    path = tmp_path / "x.html"
    path.write_text(page_of([str(render_inline(text)) for text in XSS], policy), encoding="utf-8")
    found = look(browser, path.as_uri())
    assert set(found.pop("schemes")) <= {"https:", "tel:", "mailto:"}
    assert found == {"ran": 0, "broken": [], "live": [], "events": 0, "asked": []}


def test_the_tripwire_is_live(browser: Browser, tmp_path: Path) -> None:
    """The same attacks unrendered: without a policy they run; under the policy they are stopped, and that is seen."""
    raw = ["<img src=x onerror=window.ran=1>", "<script>window.ran=1</script>"]
    path = tmp_path / "x.html"
    path.write_text(page_of(raw, ""), encoding="utf-8")
    assert look(browser, path.as_uri())["ran"] == 1
    path.write_text(page_of(raw, POLICY), encoding="utf-8")
    found = look(browser, path.as_uri())
    assert found["ran"] == 0 and found["broken"]


def poison(value: Any, attacks: Iterator[str]) -> Any:
    """A value of the model with an attack added to each text for readers."""
    if isinstance(value, Words):
        return Words(f"{value.text} {next(attacks)}", value.place)
    if isinstance(value, tuple):
        return tuple(poison(item, attacks) for item in value)
    if is_dataclass(value) and not isinstance(value, type | Ref):
        return replace(value, **{item.name: poison(getattr(value, item.name), attacks) for item in fields(value) if item.init and item.name not in ("place", "places", "figure")})
    return value


def test_poisoned_library(browser: Browser, tmp_path: Path) -> None:
    """Every text of every page is an attack, as if no check had refused it: each page of a kind is inert."""
    attacks = (attack for _ in range(1000) for attack in XSS)
    library = poison(a_library(), attacks)
    clinic = replace(library.clinic, name=f"Clinic {XSS[0]}", locations=tuple(replace(each, name=f"A {XSS[80]}", address=f"B {XSS[90]}") for each in library.clinic.locations))
    write_site(make_site((replace(library, clinic=clinic),)), tmp_path)
    pages = ("index.html", "en/index.html", "en/exercises/index.html", "en/exercises/step-down/index.html", "en/programmes/stairs/index.html", "en/bundles/first-days/index.html", "en/safety/index.html")
    for name in pages:
        html = (tmp_path / name).read_text(encoding="utf-8")
        assert "&lt;" in html, name
        found = look(browser, (tmp_path / name).as_uri())
        schemes = found.pop("schemes")
        assert set(schemes) <= {"https:", "tel:", "mailto:", "file:"}, name
        live = [each for each in found.pop("live") if each not in ("form", "script", "style")]
        assert (live, found) == ([], {"ran": 0, "broken": [], "events": 0, "asked": []}), name
        for data in re.findall(r'<script type="application/(?:ld\+)?json"[^>]*>(.*?)</script>', html, re.DOTALL):
            json.loads(data)
