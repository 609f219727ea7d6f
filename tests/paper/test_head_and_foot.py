"""Head and foot of every page in every language: the head stands inside the page, the foot says what is not reviewed.

The places of letters are measured in the PDF with pypdfium2.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pypdfium2
import pytest

from handouts.bundle.values import Origin, PickedBundle
from handouts.clinician.document import picked_beside, picked_document, picked_setting
from handouts.paper.articles import Document
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.laid import Laid
from handouts.paper.laying import _each_now, lay_out_documents
from handouts.paper.plan import bundle_document, programme_document, ready_codes, sheet_document, tier_document
from handouts.paper.two_languages import beside_sheet
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.kept import kept
from tests.site.making import Drawings
from tests.words.demo import LANGUAGES, libraries

pytestmark = pytest.mark.paper

HEAD = 30 * 72 / 25.4
"""The head stands within this of the upper edge, in points."""
FOOT = 64 * 72 / 25.4
"""The foot stands within this of the lower edge, in points."""
LEAST_EDGE = 8.0 * 72 / 25.4
"""Least distance of the foot from the edge of the paper; common practice, no source."""
PRINTER = 5.6 * 72 / 25.4
"""Printers leave at least 6 mm at each edge (see ``handouts.paper.geometry``); Arabic lines stand up to 0.3 mm higher than others."""
REVIEWED = Edition(version="K7QX2M")


@cache
def unreviewed() -> Edition:
    """Every text of every translation by its own name, as a build knows them."""
    return Edition(version="K7QX2M", unreviewed={
        language: frozenset(
            f"{kind}/{item.slug}"
            for kind, items in (("exercises", library.exercises), ("programmes", library.programmes), ("bundles", library.bundles))
            for item in items
        )
        for language, library in libraries().items() if language in LANGUAGES
    })  # fmt: skip


def a_setting(language: str, edition: Edition = REVIEWED, location: str = "") -> PaperSetting:
    """The demo in a language."""
    library = libraries()[language]
    return make_setting(library, Wording.of(library), Drawings(), edition, location=location)


def lay_out_all(documents: tuple[Document, ...]) -> tuple[Laid, ...]:
    """Documents with what they have in common laid out once, as in a build."""
    made = {each.document.path: each.laid for each in lay_out_documents(documents, _each_now, _each_now)}
    return tuple(made[document.path] for document in documents)


@pytest.mark.parametrize("language", ["en", *LANGUAGES])
def test_head_inside_the_page(language: str) -> None:
    """The clinic's name above and each location with its phone number below are drawn whole, where every printer prints.

    Of one location and of three, on both papers, in both sizes.
    """
    first = libraries()[language].clinic.locations[0].slug
    settings = [
        a_setting(language, unreviewed(), location).on(paper, size)
        for location in (first, "") for paper in ("letter", "a4") for size in ("standard", "large")
    ]  # fmt: skip
    assert [len(each.locations) for each in settings] == [1] * 4 + [3] * 4
    documents = tuple(
        replace(sheet_document(each, each.library.exercise["step-up"]), path=f"{number}.pdf") for number, each in enumerate(settings)
    )
    for setting, laid in zip(settings, kept(lay_out_all, documents, room="handouts.paper.laying"), strict=True):
        check_edges(setting, laid.pdf)


def check_edges(setting: PaperSetting, pdf: bytes) -> None:
    """Head and foot of a sheet's first page."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        width, height = document[0].get_size()
        text = document[0].get_textpage()
        letters = [(text.get_text_range(at, 1), text.get_charbox(at)) for at in range(text.count_chars())]
    finally:
        document.close()
    drawn = [(sign, box) for sign, box in letters if sign.strip() and box[2] > box[0]]
    assert [(sign, box) for sign, box in drawn if box[0] < PRINTER or box[2] > width - PRINTER] == []
    assert [(sign, box) for sign, box in drawn if box[1] < LEAST_EDGE or box[3] > height - PRINTER] == []
    head = [sign for sign, box in drawn if box[1] > height - HEAD]
    foot = [sign for sign, box in drawn if box[3] < FOOT]
    for place, wanted in ((head, setting.library.clinic.name), (foot, "".join(each.name + each.phone for each in setting.locations))):
        missing = sorted(sign for sign in wanted if sign.isascii() and sign.isalnum())
        for sign in place:
            if sign in missing:
                missing.remove(sign)
        assert missing == [], (setting.paper, setting.size)


def a_bundle(setting: PaperSetting) -> PickedBundle:
    """The first ready-made bundle, as it was picked."""
    ready = setting.library.bundles[0]
    place = setting.library.clinic.locations[0].slug
    return PickedBundle(setting.language, place, ready.weeks, ready.picks, Origin("bundle", ready.slug))


def of_picks(setting: PaperSetting, edition: Edition) -> PaperSetting:
    """The setting that a picked bundle is printed in."""
    return picked_setting(a_bundle(setting), setting.library, setting.wording, Drawings(), edition)


KINDS: dict[str, Callable[[PaperSetting, PaperSetting], Document]] = {
    "exercise": lambda own, _: sheet_document(own, own.library.exercises[0]),
    "exercise beside its source": lambda own, source: beside_sheet(own, source, own.library.exercises[0]),
    "programme": lambda own, _: programme_document(own, own.library.programmes[0]),
    "step": lambda own, _: tier_document(own, own.library.programmes[0], 0),
    "ready-made bundle": lambda own, _: bundle_document(own, own.library.bundles[0], code=ready_codes(own.library).get(own.library.bundles[0].slug, "")),
    "picked bundle": lambda own, _: picked_document(of_picks(own, own.edition), a_bundle(own), "K7QX2M"),
    "picked bundle beside its source": lambda own, source: picked_beside(of_picks(own, own.edition), source, a_bundle(own)),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("language", ["es", "ar"])
def test_foot_says_not_reviewed(language: str, kind: str) -> None:
    """Every kind of sheet in a translated language says in its foot that the translation is not reviewed; once it is, none."""
    own, source = a_setting(language, unreviewed()), a_setting("en", unreviewed())
    mark = f'<span class="mark">{own.wording.say("paper.unreviewed")}</span>'
    assert KINDS[kind](own, source).html.count(mark) == 1
    assert mark not in KINDS[kind](a_setting(language), a_setting("en")).html


def test_source_language_is_no_translation() -> None:
    """A picked bundle in the library's own language has no mark."""
    own = a_setting("en", unreviewed())
    assert own.wording.say("paper.unreviewed") not in picked_document(of_picks(own, own.edition), a_bundle(own), "K7QX2M").html
