"""A small site with the clinician's pages: five exercises, one limit, English and Spanish, two papers, two type sizes."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from markupsafe import Markup

from handouts.bundle.catalogue import BundleCatalogue, make_catalogue
from handouts.bundle.code import encode_bundle
from handouts.bundle.condition_data import ConditionFound, ConditionRuleFound
from handouts.bundle.page_data import LimitFound, LimitPhaseFound
from handouts.bundle.values import PickedBundle
from handouts.clinician.pages import read_clinician_pages
from handouts.model import Dose, DoseRange, Exercise, Library, NextDose, PainBounds, Side, Span, Tempo
from handouts.site.context import Edition
from handouts.source.files import read_folder
from handouts.words.wording import Wording
from tests.builders import a_programme, refs
from tests.bundle.room import LIBRARY
from tests.bundle.sample import PLACE
from tests.site.making import ROOT, Drawings, asset_sources, lay_out_site

HIP = LimitFound("hip", "Hip replacement", "The hip does not bend past 90 degrees.", "A paper, 2019", (
    LimitPhaseFound("weeks 1 to 6", {"stand": "the hip bends to 96 degrees, 90 are allowed."}, {"stand": "the hip that exercises bends to 96 degrees, 90 are allowed."}),
    LimitPhaseFound("weeks 7 to 12", {}),
))  # fmt: skip


KNEE = LimitFound("knee", "Knee replacement", "The knee bends as far as it can.", "Another paper, 2020", (LimitPhaseFound("weeks 1 to 12", {}),))


HEART = ConditionFound("heart", "A heart problem", "Did a doctor say how hard you may work?", "A clinic's own rule, no source (This clinic's own rule)", (
    ConditionRuleFound("Ask the doctor first.", "", (("What it asks of the body: holding the breath", ("stand",)), ("It carries the caution: You have a new hip.", ("stand", "walk")))),
    ConditionRuleFound("Begin with a hand on something firm.", "A paper, 2020 (Read in the source)", (("The rule names this exercise", ("lift",)),)),
))  # fmt: skip
CLOT = ConditionFound("clot", "A blood clot", "When was it?", "Another rule (This clinic's own rule)", (ConditionRuleFound("Ask who treats it.", "", ()),))


EDITION = Edition(version="v1", versions={"exercises/sit": "A2B3C4"}, unreviewed={"es": frozenset({"exercises/sit"})})


PLAIN, MIRRORED = ("It falls", "M10 10h280v180h-280zl280 180"), ("It rises", "M290 10h-280v180h280zl-280 180")


class PaperDrawings:
    """A frame with a slanting line for each exercise, as sheets take figures: it falls where the right side is trained."""

    def shown_side(self, exercise: Exercise) -> Side:
        """The right side."""
        return Side.RIGHT

    def fault_svg(self, exercise: Exercise, number: int, language: str, side: Side = Side.TOGETHER) -> Markup:
        return Markup("")

    def figure_note(self, exercise: Exercise, language: str) -> str:
        return "Stripes: muscles that work."

    def figure_svg(self, exercise: Exercise, language: str, side: Side = Side.TOGETHER) -> Markup:
        return Markup(
            '<svg xmlns="http://www.w3.org/2000/svg" class="fig" viewBox="0 0 300 200" role="img"><title>{}</title>'
            '<desc>{}</desc><path fill="none" stroke="#000" d="{}"/></svg>'
        ).format(exercise.title.text, *MIRRORED if side is Side.LEFT else PLAIN)


def limits_of(_library: Library) -> tuple[LimitFound, ...]:
    """One limit that one exercise reaches past in its first phase, and one that none does."""
    return (HIP, KNEE)


def conditions_of(_library: Library) -> tuple[ConditionFound, ...]:
    """One condition with two rules that touch three exercises, and one that touches none."""
    return (HEART, CLOT)


def libraries() -> tuple[Library, Library]:
    """The small library, and the same as if it were Spanish, without one exercise and without its programme."""
    rule = NextDose(place=PLACE, sessions=2, reps=2, sets=1)
    bounds = PainBounds(place=PLACE, fine=3, less=5)
    clinic = replace(LIBRARY.clinic, papers=("letter", "a4"), type_sizes=("standard", "large"), pain_bounds=bounds, next_dose=rule)
    squat = replace(LIBRARY.exercise["lift"], slug="squat", code="S2T7", title=replace(LIBRARY.exercise["lift"].title, text="Squat"), after=(),
                    dose=replace(LIBRARY.exercise["lift"].dose, tempo=Tempo(1, 0, 1), place=PLACE), dose_range=DoseRange(place=PLACE, tempo=(Tempo(1, 0, 1), Tempo(2, 1, 4))))
    rise = replace(a_programme("rise", [("wake", ["sit", "stand"]), ("build", ["walk"])]), cautions=refs("stop-pain"))
    english = replace(LIBRARY, clinic=clinic, exercises=(*LIBRARY.exercises, squat), programmes=(rise,))
    spanish = replace(english, language="es", programmes=(), exercises=tuple(each for each in english.exercises if each.slug != "lift"))
    return english, spanish


def with_open_dose() -> tuple[Library, ...]:
    """The small library in English, with one exercise whose dose the clinician sets."""
    english, _ = libraries()
    squat = english.exercise["squat"]
    bounds = DoseRange(place=PLACE, sets=Span(1, 4), reps=Span(5, 15), days=Span(2, 7), tempo=(Tempo(1, 0, 1), Tempo(2, 1, 4)), side=(Side.BOTH, Side.ONE), effort=Span(2, 5))
    own = replace(squat, dose=Dose(place=PLACE, sets=0), dose_range=bounds)
    languages = replace(english.clinic.languages, also=())
    exercises = tuple(own if each.slug == "squat" else each for each in english.exercises)
    return (replace(english, clinic=replace(english.clinic, languages=languages), exercises=exercises),)


@cache
def the_site(is_open: bool = False) -> dict[str, bytes]:
    """The files of the site; ``is_open``: with an exercise that leaves its dose to the clinician."""
    files, problems = read_folder(ROOT / "templates", "templates")
    assert problems == []
    wordings = {language: Wording(language) for language in ("en", "es")}
    annex = read_clinician_pages(files, limits_of, PaperDrawings(), conditions_of)
    return lay_out_site(with_open_dose() if is_open else libraries(), wordings, Drawings(), asset_sources(), EDITION, site_parts=(annex,))


@cache
def catalogue() -> BundleCatalogue:
    """What a code of the library's bundles is read with."""
    return make_catalogue(libraries()[0])


def code_of(bundle: PickedBundle) -> str:
    """The code of a bundle that must be accepted."""
    code = encode_bundle(bundle, catalogue())
    assert isinstance(code, str), code
    return code
