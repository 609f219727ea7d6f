"""Easier and harder, the flare plan and the ends of both scales, on the page and the sheet of one exercise, in translations.

The texts are those that the translators wrote, typed here once more.
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from handouts.paper.context import make_setting
from handouts.paper.plan import sheet_document
from handouts.site.context import Edition
from handouts.site.paths import item_page
from handouts.words.wording import Wording
from tests.site.making import Drawings, asset_sources, lay_out_site
from tests.words.demo import libraries

SLUG, EASIER, HARDER = "one-leg-bridge", "bridge", "one-leg-bridge-on-a-pillow"
LANGUAGES = ("es", "ar")
PAGE_WAYS = {
    "es": ("Más fácil y más difícil", "Más fácil", "Las dos piernas lo levantan.", "Más difícil", "La almohada cede bajo el pie."),
    "ar": ("أسهل وأصعب", "أسهل", "ترفعك الرجلان معًا.", "أصعب", "تلين الوسادة تحت قدمك."),
}
"""Heading, what is easier and what changes, what is harder and what changes."""
PAIN_ENDS = {"es": "(0 ninguno, 10 el peor que pueda imaginar.)", "ar": "(0 لا ألم، 10 أسوأ ما يمكن تخيله.)"}
EFFORT_SCALE = {"es": "Escala de esfuerzo: 0 es reposo, 10 es todo lo que puede dar.", "ar": "مقياس الجهد: 0 هو الراحة، و10 هو كل ما لديك."}
"""The clinic's own words, translated."""
FLARE = {
    "es": "Peor a la mañana siguiente: Haga la mitad. Peor durante 2 días: Descanse 2 días, y luego haga la mitad. Mucho peor, o más de 5: Pare. Llámenos hoy.",
    "ar": "أسوأ في الصباح التالي: قم بالنصف. أسوأ لمدة يومين (2): استرح يومين (2)، ثم قم بالنصف. أسوأ بكثير، أو فوق 5: توقف. اتصل بنا اليوم.",
}


def flat(html: str) -> str:
    """The words of a page in order, without its head and drawings."""
    body = re.sub(r"<svg.*?</svg>|<script.*?</script>|[\u200e\u200f\u2066-\u2069]", "", html[html.index("<body") :], flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", body).split()).replace(" :", ":")


@cache
def page(language: str) -> str:
    """The words of the page of the exercise."""
    path = item_page(language, "exercises", SLUG)
    known = (libraries()["en"], libraries()[language])
    files = lay_out_site(known, {each: Wording(each) for each in ("en", language)}, Drawings(), asset_sources(), Edition(version="K7QX2M"), wanted=path.__eq__)
    return flat(files[path].decode())


@cache
def sheet(language: str, size: str) -> str:
    """The words of its sheet."""
    own = make_setting(libraries()[language], Wording(language), Drawings(), Edition(version="K7QX2M")).on("a4", size)
    return flat(sheet_document(own, own.library.exercise[SLUG]).html)


def in_order(text: str, parts: tuple[str, ...]) -> bool:
    """Whether the parts stand in a text one after the other."""
    return re.search(".*?".join(map(re.escape, parts)), text) is not None


@pytest.mark.parametrize("language", LANGUAGES)
def test_page(language: str) -> None:
    """Each way by its name, with what changes; pain rule, its scale and the flare plan run on."""
    library = libraries()[language]
    easier, harder = (library.exercise[slug].title.text for slug in (EASIER, HARDER))
    heading, easy, easy_change, hard, hard_change = PAGE_WAYS[language]
    assert in_order(page(language), (heading, easy, easier, easy_change, hard, harder, hard_change))
    assert f"{library.clinic.pain_rule.text} {PAIN_ENDS[language]} {FLARE[language]}" in page(language)
    assert EFFORT_SCALE[language] in page(language)


@pytest.mark.parametrize("size", ["standard", "large"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_sheet(language: str, size: str) -> None:
    """The same on paper, each way in one run of words."""
    library = libraries()[language]
    easier, harder = (library.exercise[slug].title.text for slug in (EASIER, HARDER))
    _, easy, easy_change, hard, hard_change = PAGE_WAYS[language]
    text = sheet(language, size)
    assert f"{easy} {easier}: {easy_change} {hard} {harder}: {hard_change}" in text
    assert f"{library.clinic.pain_rule.text} {PAIN_ENDS[language]} {FLARE[language]}" in text
    assert EFFORT_SCALE[language] in text
