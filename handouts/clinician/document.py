"""A picked bundle as a document for paper: the same as a ready-made one, with the patient's own QR code."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from handouts.bundle.catalogue import name_mark
from handouts.bundle.given import given_items
from handouts.bundle.link import patient_link, qr_parts
from handouts.bundle.origins import begun_from
from handouts.bundle.values import CODE_PLACE, PickedBundle
from handouts.dose.substitutes import given_pick
from handouts.model import Bundle, Library, Ref, Review, Words
from handouts.paper.articles import Document
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.plan import bundle_document, compact_document
from handouts.paper.two_languages import beside_document
from handouts.publication.figures import FigureSource
from handouts.publication.steps import cautions_of_bundle
from handouts.site.context import Edition
from handouts.site.paths import beside_path
from handouts.words.wording import Wording

SLUG = "bundle"
"""Name of the bundle in the path of its PDF; it never says whose it is."""


def picked_setting(
    picked: PickedBundle, library: Library, wording: Wording, figures: FigureSource, edition: Edition
) -> PaperSetting:
    """The setting of a picked bundle: its language's library, and its location only."""
    return make_setting(library, wording, figures, edition, location=picked.location)


def picked_document(setting: PaperSetting, picked: PickedBundle, code: str, *, full: bool = False, folded: bool = False) -> Document:
    """A picked bundle on the setting's paper, in its type size: several exercises on a page, or ``full``, each on its own.

    ``folded`` it is a booklet of halves of the paper in standard type, whatever the setting's size.
    """
    library = setting.library
    bundle, lost = own_bundle(picked, library, setting.wording.say), begun_from(picked.origin, library).lost
    address = qr_parts(patient_link(library.clinic, picked.language, code))
    make = bundle_document if full or folded else compact_document
    return make(setting.folded() if folded else setting, bundle, address, code, lost=lost)


def picked_beside(setting: PaperSetting, source: PaperSetting, picked: PickedBundle) -> Document:
    """The exercises of a picked bundle, each with the language of ``source`` beside the patient's."""
    exercises = [setting.library.exercise[pick.exercise.slug] for pick in picked.picks]
    picks = tuple(given_pick(each, pick, setting.library) for each, pick in zip(exercises, picked.picks, strict=True))
    path = beside_path(setting.page("bundles", SLUG), SLUG, setting.paper, setting.size, source.language)
    cautions = cautions_of_bundle(setting.library, own_bundle(picked, setting.library, setting.wording.say))
    lost = begun_from(picked.origin, setting.library).lost
    given = {pick.exercise.slug: pick for pick in picked.picks}
    return beside_document(setting, source, picks, path, setting.wording.say("clinician.sheet_title"), cautions=cautions, lost=lost, given=given)


def own_bundle(picked: PickedBundle, library: Library, say: Callable[[str], str]) -> Bundle:
    """The picks as a bundle of the model: titled for its reader, reviewed when its oldest exercise was."""
    given = given_items(picked, library)
    made = Bundle(
        place=CODE_PLACE,
        slug=SLUG,
        title=Words(say("clinician.sheet_title"), CODE_PLACE),
        suits=Words("", CODE_PLACE),
        picks=picked.picks,
        weeks=picked.weeks,
        cue=next((Ref(cue.slug, CODE_PLACE) for cue in library.clinic.session_cues if name_mark(cue.slug) == picked.cue), None),
        round_rest_seconds=picked.round_rest_seconds or None,
        tests=tuple(Ref(item.slug, CODE_PLACE) for kind, item in given if kind == "tests"),
        leaflets=tuple(Ref(item.slug, CODE_PLACE) for kind, item in given if kind == "leaflets"),
        review=oldest_review(picked, library),
    )
    begun = begun_from(picked.origin, library)
    if begun.programme is None:
        return replace(made, cautions=begun.cautions)
    tier = None if begun.rank is None else begun.programme.tiers[begun.rank].tier
    return replace(made, programme=Ref(begun.programme.slug, CODE_PLACE), tier=tier, cautions=begun.cautions)


def oldest_review(picked: PickedBundle, library: Library) -> Review:
    """The review of the exercise that was reviewed longest ago."""
    return min((library.exercise[pick.exercise.slug].review for pick in picked.picks), key=lambda review: review.on)
