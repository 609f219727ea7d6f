"""A small site with the patient's pages, as a build makes it: real poses for two figures, a movement made by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from markupsafe import Markup

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import encode_bundle
from handouts.bundle.values import Origin, PickedBundle
from handouts.model import DoseChange, Exercise, Library, Pick, Ref, Side
from handouts.phone.pages import read_phone_pages
from handouts.problems import Place
from handouts.site.assets import read_asset_sources
from handouts.site.context import Edition
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from tests.builders import pseudo_library
from tests.site.making import lay_out_site
from tests.small_library import CAUTIONS, CLINIC, EXERCISE, PROGRAMME, TEXTS, VOCABULARY, small_library

PLACE = Place("test")
MIRRORED = "ar-XB"
_DOSE = "dose: {sets: 2, reps: 10, tempo: 2-1-2, rest: 60 s, days: 3, effort: 3-5}\ndose range: {sets: 1-3, reps: 5-15}"
_STANDING = (("position: sitting", "position: standing"), ("equipment: [chair]", "equipment: []"))


def _exercise(code: str, title: str, dose: str, after: str = "", edits: tuple[tuple[str, str], ...] = ()) -> str:
    text = EXERCISE.format(code=code, title=title, tier="wake", after=f"after: [{after}]\n" if after else "")
    easier = ("easier: Lift half as high.\n", f"easier: [{{exercise: {after}, change: You only do {after}.}}]\n" if after else "")
    for old, new in ((_DOSE, dose), easier, *edits):
        assert old in text
        text = text.replace(old, new)
    return text


TEXTS_HERE: Mapping[str, str] = {
    **{path: text for path, text in TEXTS.items() if path.count("/") == 0},
    "clinic.yaml": CLINIC.replace(
        "phone: 555-0100}", 'phone: 555-0100}\n  - {slug: hill, name: Hill Road, address: "2 Hill Road, Testville", phone: 555-0101}'
    ).replace("pain rule: Pain up to 3 out of 10 is fine if it settles by morning.", "pain rule: Pain up to 3 out of 10 is fine if it settles by morning. At 5, do less.\n"
              "pain bounds: {fine up to: 3, less up to: 5}\nflare plan: [{when: Worse tomorrow., do: Do half.}, {when: Much worse., do: Stop and call us.}]"    ),
    "vocabulary.yaml": VOCABULARY,
    "cautions.yaml": CAUTIONS
    + "  - {slug: stop-chest, kind: stop, when: Your chest hurts., do: Sit down and call 911., call: emergency, source: common practice}\n",
    "exercises/lift.md": _exercise("S2T3", "Foot lift", "dose: {sets: 2, reps: 3, tempo: 2-1-3, rest: 20 s, days: 3, effort: 4-6}\ndose range: {sets: 1-4, reps: 2-15}"),
    "exercises/hold.md": _exercise("S2T4", "Side hold", "dose: {sets: 1, hold: 10 s, side: both, rest: 15 s, days: 3}\ndose range: {sets: 1-4, hold: 5-30 s}", "lift",
                                   (*_STANDING, ("cautions: [stop-pain]", "cautions: [stop-pain, stop-chest, go-slow]"))),
    "exercises/curl.md": _exercise("S2T5", "Slow curl", "dose: {sets: 1, reps: 8, days: 2}", "lift", (*_STANDING, ("easier: [", "easier: [Bend half as far., "))),
    "exercises/walk.md": _exercise("S2T6", "Walk", "dose: {time: 5 min, days: 7, times: 2}\ndose range: {time: 5-30 min}", "hold", _STANDING),
}  # fmt: skip


PROGRAMME_HERE = (
    PROGRAMME.replace("[foot-lift]", "[lift, hold]").replace("[leg-lift]", "[curl, walk]").replace("weeks: 6\n",
    "weeks: 6\ncautions: [stop-dizzy, ask-hip, go-slow]\ncues: [Breathe out.]\nthrough the day: [Stand tall by the kettle.]\n"))
CAUTIONS_HERE = (
    "  - {slug: stop-dizzy, kind: stop, when: You feel dizzy., do: Sit down and call us., call: clinic, source: common practice}\n"
    "  - {slug: ask-hip, kind: ask, when: You have a new hip., do: Ask us first., source: common practice}\n")
"""A programme of two steps with cautions of every kind; one of them an exercise has as well."""


def the_library() -> Library:
    """Four exercises: by tempo, held on each side, at one's own pace, for a time."""
    return small_library(TEXTS_HERE)


def with_programme(texts: Mapping[str, str]) -> dict[str, str]:
    """The texts with a programme."""
    return {**texts, "cautions.yaml": texts["cautions.yaml"] + CAUTIONS_HERE, "programmes/stand-up.md": PROGRAMME_HERE}


def with_languages(library: Library) -> Library:
    """The library as one that is published mirrored too."""
    clinic = library.clinic
    return replace(library, clinic=replace(clinic, languages=replace(clinic.languages, also=(MIRRORED,))))


MOTION: Mapping[str, Any] = {
    "k": 4,
    "p": [
        [0, 1, [[1, 0, 0, 1, 0, 90], [1, 0, 0, 1, 0, 60], [1, 0, 0, 1, 0, 30]]],
        [1, 3, "k", [[10, 10, 90, 10, 90, 90, 10, 90], [0, 9] * 4, [0, 6] * 4, [0, 3] * 4], [[1, 0, 0, 1, 0, 9], [1, 0, 0, 1, 0, 6], [1, 0, 0, 1, 0, 3]]],
    ],
}
"""The end picture's first mark moves by maps, its second by outline and its third rides on it."""


class Shapes:
    """A figure of two panels for each exercise, in the form of the figure engine; ``edit`` makes other drawings."""

    def __init__(self, edit: str = "") -> None:
        self.edit = edit

    def shown_side(self, exercise: Exercise) -> Side:
        """The right side."""
        return Side.RIGHT

    def fault_svg(self, exercise: Exercise, number: int, language: str, side: Side = Side.TOGETHER) -> Markup:
        return Markup("")

    def figure_note(self, exercise: Exercise, language: str) -> str:
        return "Stripes: muscles that work."

    def figure_svg(self, exercise: Exercise, language: str, side: Side = Side.TOGETHER) -> Markup:
        ident = f"figure-{exercise.slug}"
        return Markup(
            '<svg xmlns="http://www.w3.org/2000/svg" class="fig" viewBox="0 0 420 300" role="img" aria-labelledby="{0}t {0}d">'
            '<title id="{0}t">{1}</title><desc id="{0}d">Shown in {2}{4}</desc>'
            '<g transform="translate(20 60)"><path class="s" d="M10 100h80v80h-80z"/></g>'
            '<g transform="translate(20 30)"><circle class="r" r="18"/><path class="f" d="M-7-7 2-14V14"/></g>'
            '<g transform="translate(220 60)"><path class="s" d="M10 10h80v80h-80z"/><path class="k" d="M10 10L90 10L90 90L10 90z"/>'
            '<path class="h" d="M30 30h{3}v9h-9z"/><path class="y" d="M10 100h80v80h-80z"/><path class="w" d="M50 180V100"/></g>'
            '<g transform="translate(220 30)"><circle class="r" r="18"/><path class="f" d="M-9-6C-7-17 10-17 9-6"/></g></svg>'
        ).format(ident, exercise.title.text, language, 8 if self.edit else 9, ", mirrored" if side is Side.LEFT else "")

    def motion(self, exercise: Exercise) -> Mapping[str, Any] | None:
        """A movement for the foot lift only."""
        return MOTION if exercise.slug == "lift" else None

    def panel_svg(self, exercise: Exercise) -> str:
        return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M10 10h80v80h-80z"/><!-- {exercise.slug}{self.edit} --></svg>'


@cache
def make_phone_site(stamp: str = "AAAAAA", edit: str = "", programme: bool = False) -> dict[str, bytes]:
    """The site in English and mirrored; ``edit`` is appended to a text, and every other kind of file changes too."""
    texts = with_programme(TEXTS_HERE) if programme else dict(TEXTS_HERE)
    texts["exercises/lift.md"] = texts["exercises/lift.md"].replace("Sit tall.", f"Sit tall{edit}.")
    library = with_languages(small_library(texts))
    mirrored = pseudo_library(library, MIRRORED)
    libraries = (library, mirrored)
    wordings = {each.language: Wording(each.language) for each in libraries}
    files = dict(read_templates())
    if edit:
        files["styles/phone.css"] += b".edited { color: red; }\n"
        files["styles/screen.css"] += b".edited { color: red; }\n"
        files["styles/session.css"] += b".edited { color: red; }\n"
        for name, entry in (("phone", "main"), ("phone-more", "more")):
            files[f"scripts/made/{name}.js"] += f'document.documentElement.dataset.{entry} = "edited";\n'.encode()
    edition = Edition(version=stamp)
    return lay_out_site(libraries, wordings, Shapes(edit), read_asset_sources(files), edition, site_parts=[read_phone_pages(files)])


def code_of(*picks: str | tuple[str, dict[str, Any]], location: str = "hill", language: str = "en", weeks: int = 4,
            origin: Origin | None = None) -> str:
    """The code of exercises by slug, with changes of their doses; an origin is that of the library with a programme."""
    library = with_languages(small_library(with_programme(TEXTS_HERE)) if origin else the_library())
    made = tuple(_pick(pick) for pick in picks)
    code = encode_bundle(PickedBundle(language, location, weeks, made, origin), make_catalogue(library))
    assert isinstance(code, str), code
    return code


def _pick(pick: str | tuple[str, dict[str, Any]]) -> Pick:
    slug, change = (pick, {}) if isinstance(pick, str) else pick
    return Pick(place=PLACE, exercise=Ref(slug, PLACE), change=DoseChange(place=PLACE, **change) if change else None)
