"""The view of the page of a test of function: how it is done, what a result means, two visits compared."""

from __future__ import annotations

import json
from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import FunctionTest
from handouts.publication.function_tests import Meaning, NormsView, say_facts, say_value, view_meaning, view_norms
from handouts.publication.rich_text import begin, rich
from handouts.publication.views import SectionView, view_sections
from handouts.site.context import LanguageSite
from handouts.site.page_frame import PageFrame, make_frame
from handouts.site.parts import Cautions, Prints, make_cautions, make_prints, name_equipment, review_line
from handouts.site.paths import item_page
from handouts.words.shipped import load_interface

COMPARED = {
    "better": ("side", "change"), "worse": ("side", "change"), "same": ("side",),
    "beyond_error": ("change",), "within_error": ("change",),
    "ratio": ("percent",), "ratio_reached": ("percent",), "ratio_missed": ("percent",),
    "beyond_end": ("value",),
}  # fmt: skip
"""Phrases that the script of the page says, with what it fills in."""


@dataclass(frozen=True, slots=True)
class CompareField:
    """A result that a clinician types: ``name`` as in ``now-left``."""

    name: str
    label: str


@dataclass(frozen=True, slots=True)
class CompareVisit:
    """The fields of one visit."""

    legend: str
    fields: tuple[CompareField, ...]


@dataclass(frozen=True, slots=True)
class CompareView:
    """Two visits to compare; ``data`` tells the script of the page what the test is and what is said."""

    visits: tuple[CompareVisit, ...]
    sides: tuple[CompareField, ...]
    """The sides that may have the problem; empty where no share of the other side is computed."""
    data: str


@dataclass(frozen=True, slots=True)
class FunctionTestPage:
    """Everything on the page of a test."""

    frame: PageFrame
    title: Markup
    measures: Markup
    suits: Markup
    needs: str
    facts: tuple[str, ...]
    sections: tuple[SectionView, ...]
    norms: tuple[NormsView, ...]
    meaning: Meaning
    compare: CompareView
    cautions: Cautions
    prints: tuple[Prints, ...]
    review: str
    code: str
    sources: tuple[str, ...]
    sources_language: str


def make_function_test_page(setting: LanguageSite, slug: str) -> FunctionTestPage:
    """The view of a test."""
    library, wording = setting.library, setting.wording
    test = library.test[slug]
    page = item_page(setting.language, "tests", slug)
    things = name_equipment(setting, test.equipment)
    return FunctionTestPage(
        frame=make_frame(
            setting,
            page,
            test.title.text,
            test.measures.text,
            item=f"tests/{slug}",
            stop="#stop",
            scripts=(setting.assets.scripts["function_test"],),
        ),
        title=rich(test.title),
        measures=rich(test.measures),
        suits=rich(test.suits),
        needs=begin(things),
        facts=say_facts(wording, test),
        sections=view_sections(test.sections),
        norms=(view_norms(wording, test.norms),) if test.norms else (),
        meaning=view_meaning(wording, test),
        compare=_compare(setting, test),
        cautions=make_cautions(setting, (library.caution[ref.slug] for ref in test.cautions)),
        prints=make_prints(setting, page, slug, wording.say("site.print_test")),
        review=review_line(setting, test.review, f"tests/{slug}"),
        code=wording.say("site.code", code=test.code),
        sources=test.sources,
        sources_language=setting.source.language,
    )


def _compare(setting: LanguageSite, test: FunctionTest) -> CompareView:
    wording, say = setting.wording, setting.wording.say
    sides = ("left", "right") if test.each_side else ("result",)
    visits = tuple(
        CompareVisit(
            f"{say(f'course.{visit}')} ({say(f'course.unit_{test.unit}')})",
            tuple(CompareField(f"{visit}-{side}", say(f"course.{side}")) for side in sides),
        )
        for visit in ("before", "now")
    )
    shared = test.each_side and test.better == "more"
    data = {
        "sides": {side: say(f"course.{side}") for side in sides},
        "better": test.better,
        "most": test.most,
        "mostShown": say_value(wording, test, test.most) if test.most is not None else "",
        "error": test.error.change if test.error else None,
        "errorShown": say_value(wording, test, test.error.change) if test.error else "",
        "aim": test.symmetry.percent if test.symmetry else None,
        "value": dict(load_interface(setting.language).forms[f"course.value_{test.unit}"]),
        "words": {name: say(f"course.{name}", **{each: f"{{{each}}}" for each in blanks}) for name, blanks in COMPARED.items()},
    }
    return CompareView(
        visits,
        tuple(CompareField(side, say(f"course.{side}")) for side in sides) if shared else (),
        json.dumps(data, ensure_ascii=False, separators=(",", ":")),
    )
