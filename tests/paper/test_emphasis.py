"""Emphasis alike on paper and on the screen: the sign in bold, then what to do."""

from __future__ import annotations

import re
from functools import cache

import pytest

from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.lesson import lesson_document
from handouts.paper.plan import compact_document, sheet_document
from handouts.paper.sheet import view_safety
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.paper.making import EDITION, Pictures
from tests.words.demo import libraries

pytestmark = pytest.mark.paper


@cache
def setting() -> PaperSetting:
    """The demo in English."""
    library = libraries()["en"]
    return make_setting(library, Wording.of(library), Pictures(), EDITION)


def is_sign_first(html: str, sign: str, action: str) -> bool:
    """Whether a sign stands in bold, and what to do after it plainly."""
    plain = re.escape(action).replace(r"\ ", r"\s")
    return bool(re.search(rf"<(strong|b)>[^<]*{re.escape(sign)}[^<]*</\1>\s*(<span>)?[^<]*{plain}", html))


def test_on_paper() -> None:
    """Cautions, mistakes, what to do in a flare, the fault of a lesson."""
    library = setting().library
    exercise = library.exercise["step-up"]
    html = sheet_document(setting(), exercise).html
    for mistake in exercise.mistakes:
        assert is_sign_first(html, mistake.see.text, mistake.do.text)
    pain = str(view_safety(setting(), ()).pain)
    assert library.clinic.flare_plan and all(is_sign_first(pain, step.when.text, step.do.text) for step in library.clinic.flare_plan)
    lesson = library.lessons[0]
    fault = library.exercise[lesson.exercise.slug].mistakes[0]
    assert is_sign_first(lesson_document(setting(), lesson).html, fault.see.text, fault.do.text)
    front = compact_document(setting(), library.bundles[0]).html
    stops = re.search(r'<div class="cautions stop">(.*?)</div>', front, re.DOTALL)
    assert stops and stops[1].count("<li><strong>") == stops[1].count("<li>") > 0


def test_on_the_screen() -> None:
    """The templates and styles of pages say the same."""
    files = {path: data.decode() for path, data in read_templates(("pages/parts.html", "pages/lesson.html", "styles/screen.css")).items()}
    assert files["pages/parts.html"].count("<strong>{{ each.when }}</strong> {{ each.do }}") == 2
    assert "<strong>{{ view.fault.see }}</strong> {{ view.fault.do }}" in files["pages/lesson.html"]
    see = re.search(r"\.mistakes \.see \{(.*?)\}", files["styles/screen.css"], re.DOTALL)
    assert see and "font-weight: var(--bold)" in see[1]
