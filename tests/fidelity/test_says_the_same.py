"""Page, sheet, booklet, bundle, phone, chart text and record say what the author wrote, where the author put it.

Random libraries are built whole and read back.  What is wanted is worked out here from the author's files alone.
"""

from __future__ import annotations

import json
import random
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import pytest

from handouts.build.loading import load
from handouts.build.settings import Settings
from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import encode_bundle
from handouts.bundle.values import PickedBundle
from handouts.clinician.document import picked_document
from handouts.model import DoseChange, Pick, Ref, Side
from handouts.paper.articles import FRONT, Document
from handouts.paper.laying import lay_out_document
from handouts.problems import Grade, Place
from handouts.words.shipped import load_interface
from tests.fidelity.outputs import SPANISH, TODAY, Outputs, make_outputs
from tests.fidelity.random_library import OPEN_DOSE
from tests.fidelity.reading import Line, in_order, marks, pdf_text, read_lines, under
from tests.kept import kept
from tests.paper.making import a_setting
from tests.paper.test_stack import as_set
from tests.scripts.node import ask_script

PLACE = Place("test")

SEEDS = range(5)
LANGUAGES = ("en", "es")
LABELS = {
    "en": {
        "step": "Step {n}: {name}",
        "start": "Start this step when",
        "go on": "Go on to step {n} when",
        "goal": "The goal of this program",
        "ready next": "You are ready for the next exercise when",
        "ready goal": "You have reached your goal when",
        "ready done": "You do this exercise well when",
        "stop": ("Stop if",),
        "ask": ("Ask first if", "Ask us first if", "Ask first"),
        "care": ("Take care if",),
    },
    "es": {
        "step": "Paso {n}: {name}",
    },
}


@pytest.fixture(scope="module", params=SEEDS)
def outputs(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Outputs:
    """All that is made of a random library."""
    return make_outputs(request.param, tmp_path_factory.mktemp("fidelity"))


def said(language: str, text: object) -> list[str]:
    """The marks of a text as a language says them."""
    ending = SPANISH if language == "es" else ""
    return [mark + ending for mark in marks(str(text))]


def texts_of(exercise: Mapping[str, Any]) -> dict[str, list[str]]:
    """Each part of an exercise with its texts in the author's order."""
    return {
        "steps": list(exercise["steps"]),
        "cues": list(exercise["cues"]),
        "feel": [exercise["feel"]],
        "mistakes": [f"{each['see']} {each['do']}" for each in exercise["mistakes"]],
        "why": [exercise["why"]],
        "ready when": [exercise["ready when"]] if "ready when" in exercise else [],
        "easier": [exercise["easier"]],
        "harder": [exercise["harder"]],
    }


def caution_texts(outputs: Outputs, slugs: list[str], kind: str) -> list[str]:
    """The cautions of a kind among some, each with its sign and its action, in the author's order."""
    found = (outputs.wrote.cautions[slug] for slug in slugs)
    return [f"{each['when']} {each['do']}" for each in found if each["kind"] == kind]


def assert_exercise(outputs: Outputs, language: str, slug: str, lines: list[Line], *, without: tuple[str, ...] = ()) -> None:
    """Every part of an exercise stands in the lines, whole and in the author's order, and nothing of another one."""
    exercise = outputs.wrote.exercises[slug]
    found = marks(lines)
    for part, texts in texts_of(exercise).items():
        wanted = said(language, " ".join(texts))
        assert part in without or in_order(wanted, found), (language, slug, part, wanted, found)
    numbers = [line.text for line in lines if marks(line.text) and said(language, line.text)]
    assert numbers
    cautions = list(exercise["cautions"])
    for kind in ("stop", "ask", "care"):
        for text in caution_texts(outputs, cautions, kind):
            assert in_order(said(language, text), found), (language, slug, kind, text)


def label_of_ready(outputs: Outputs, slug: str, shown: Iterable[str], last: Iterable[str] = ()) -> str:
    """What must stand over ``ready when`` where an exercise is shown among others; ``last`` is the programme's last step."""
    builds_on = {str(name) for each in shown for name in outputs.wrote.exercises[each].get("after", ())}
    if slug in builds_on:
        return LABELS["en"]["ready next"]
    return LABELS["en"]["ready goal" if slug in last else "ready done"]


def assert_ready(outputs: Outputs, slug: str, lines: list[Line], shown: Iterable[str], last: Iterable[str] = ()) -> None:
    """In English the condition of an exercise stands behind the one label that is true there, and behind no other."""
    condition = outputs.wrote.exercises[slug].get("ready when")
    if condition is None:
        return
    text = " ".join(line.text for line in lines)
    right = label_of_ready(outputs, slug, shown, last)
    for label in (LABELS["en"][name] for name in ("ready next", "ready goal", "ready done")):
        stands = marks(str(condition))[0] in [found for piece in text.split(label)[1:] for found in marks(piece)[:1]]
        assert stands == (label == right), (slug, label, right)


def own_dose(outputs: Outputs, slug: str, change: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The dose of an exercise as the author typed it, with what a bundle changes."""
    own = outputs.wrote.exercises[slug]["dose"]
    return {**({} if own == OPEN_DOSE else own), **(change or {})}


def numbers_of(dose: Mapping[str, Any]) -> list[str]:
    """The numbers that a reader must find in the line of the dose."""
    if not dose:  # left to the clinician: no number at all
        return []
    count = next(dose[kind] for kind in ("reps", "hold", "time", "distance") if kind in dose)
    sets = [str(dose["sets"])] if dose["sets"] > 1 else []
    return [*sets, re.findall("[0-9]+", str(count))[0]]


def assert_numbers(dose: Mapping[str, Any], text: str) -> None:
    """The numbers of a dose stand in a text; languages may turn their order round."""
    assert Counter(numbers_of(dose)) <= Counter(re.findall("[0-9]+", text)), (dose, text)


def steps_of(programme: Mapping[str, Any]) -> Iterator[tuple[int, Mapping[str, Any], str]]:
    """Each step of a programme with its number and what comes after it: the next condition, or the goal."""
    steps = programme["tiers"]
    for number, step in enumerate(steps, 1):
        yield number, step, steps[number]["enter when"] if number < len(steps) else programme["goal"]


def name_of(outputs: Outputs, tier: str) -> str:
    """The name of a tier."""
    return next(each["name"] for each in outputs.wrote.tiers if each["slug"] == tier)


def picks_of(bundle: Mapping[str, Any]) -> list[tuple[str, Mapping[str, Any]]]:
    """The picks of a bundle with what each changes."""
    return [(each, {}) if isinstance(each, str) else (each["exercise"], each["dose"]) for each in bundle["exercises"]]


@pytest.mark.parametrize("language", LANGUAGES)
def test_page_of_an_exercise(outputs: Outputs, language: str) -> None:
    """All parts, in order; the dose; the cautions under their kind."""
    for slug, exercise in outputs.wrote.exercises.items():
        lines = read_lines(outputs.pages[f"{language}/exercises/{slug}/index.html"])
        assert_exercise(outputs, language, slug, lines)
        own = exercise["dose"]
        begins = f'my/index.html#{exercise["code"]}"' in outputs.pages[f"{language}/exercises/{slug}/index.html"]
        assert begins == (own != OPEN_DOSE), "the phone does not begin what has no dose"
        assert_numbers({} if own == OPEN_DOSE else own, " ".join(line.text for line in lines[:40]))
        assert (own == OPEN_DOSE) == any(load_interface(language).forms["dose.open"]["other"].lower() in line.text.lower() for line in lines)
        if language == "en":
            assert_ready(outputs, slug, lines, outputs.wrote.exercises)
            for kind in ("stop", "ask", "care"):
                _assert_kind(outputs, list(exercise["cautions"]), kind, lines)


@pytest.mark.parametrize("language", LANGUAGES)
def test_sheet_of_an_exercise(outputs: Outputs, language: str) -> None:
    """The same on paper, also with the source beside it."""
    for slug in outputs.wrote.exercises:
        for path, document in outputs.documents.items():
            if path.startswith(f"{language}/exercises/{slug}/"):
                lines = read_lines(document.html)
                assert_exercise(outputs, language, slug, lines)
                is_open = outputs.wrote.exercises[slug]["dose"] == OPEN_DOSE
                assert is_open == ("________" in " ".join(line.text for line in lines)), "a line for the pen where there is no dose"
                if language == "en":
                    assert_ready(outputs, slug, lines, outputs.wrote.exercises)


@pytest.mark.parametrize("language", LANGUAGES)
def test_page_of_a_programme(outputs: Outputs, language: str) -> None:
    """The author's order, each step with its own condition and the next one's, every caution."""
    for slug, programme in outputs.wrote.programmes.items():
        lines = read_lines(outputs.pages[f"{language}/programmes/{slug}/index.html"])
        titles = [outputs.wrote.exercises[each]["title"] for step in programme["tiers"] for each in step["exercises"]]
        assert in_order(said(language, " ".join(titles)), marks(lines))
        for number, step, then in steps_of(programme):
            inside = under(lines, _step(language, number, name_of(outputs, step["tier"])))
            wanted = [*said(language, step["enter when"]), *said(language, then)]
            assert in_order(wanted, marks(inside)), (language, slug, number, wanted, marks(inside))
            _assert_labels(language, number, len(programme["tiers"]), step["enter when"], then, inside)
            own = [outputs.wrote.exercises[each]["title"] for each in step["exercises"]]
            assert in_order(said(language, " ".join(own)), marks(inside))
        _assert_cautions(outputs, language, list(programme["cautions"]), lines)
        _assert_whole_programme(language, programme, lines)


@pytest.mark.parametrize("language", LANGUAGES)
def test_sheets_of_a_programme(outputs: Outputs, language: str) -> None:
    """The booklet and the sheet of each step: conditions, cautions of the programme, exercises whole and in order."""
    for slug, programme in outputs.wrote.programmes.items():
        folder = f"{language}/programmes/{slug}"
        for number, step, then in steps_of(programme):
            html = outputs.documents[f"{folder}/{slug}-{step['tier']}-letter-standard.pdf"].html
            lines = read_lines(html)
            _assert_labels(language, number, len(programme["tiers"]), step["enter when"], then, lines)
            _assert_cautions(outputs, language, list(programme["cautions"]), lines)
            _assert_whole_programme(language, programme, lines)
            for each in step["exercises"]:
                assert_exercise(outputs, language, each, lines)
                _assert_cues_with(outputs, language, each, programme, lines)
                if language == "en":
                    assert_ready(outputs, each, lines, _inside(programme), programme["tiers"][-1]["exercises"])
        lines = read_lines(outputs.documents[f"{folder}/{slug}-letter-standard.pdf"].html)
        order = [each for step in programme["tiers"] for each in step["exercises"]]
        whys = [outputs.wrote.exercises[each]["why"] for each in order]
        assert in_order(said(language, " ".join(whys)), marks(lines))
        _assert_cautions(outputs, language, list(programme["cautions"]), lines)
        for number, step, then in steps_of(programme):
            _assert_labels(language, number, len(programme["tiers"]), step["enter when"], then, lines)
        _assert_whole_programme(language, programme, lines)
        for each in order:
            assert_exercise(outputs, language, each, lines)
            _assert_cues_with(outputs, language, each, programme, lines)


@pytest.mark.parametrize("language", LANGUAGES)
def test_bundle(outputs: Outputs, language: str) -> None:
    """Page and both sheets of a ready-made bundle: order, doses, cautions of its programme, its own and its exercises'."""
    for slug, bundle in outputs.wrote.bundles.items():
        picks = picks_of(bundle)
        titles = " ".join(str(outputs.wrote.exercises[each]["title"]) for each, _ in picks)
        page = read_lines(outputs.pages[f"{language}/bundles/{slug}/index.html"])
        usual, full = (outputs.documents.get(f"{language}/bundles/{name}-letter-standard.pdf") for name in (f"{slug}/{slug}", f"{slug}/{slug}-full"))
        assert usual and (full is not None) == (len(picks) > 1), "a bundle of one exercise has one sheet"
        sheet, whole = read_lines(usual.html), read_lines((full or usual).html)
        for lines in (page, sheet, whole):
            assert in_order(said(language, titles), marks(lines))
            for each, change in picks:
                _assert_dose_beside_title(outputs, language, each, change, lines)
            _assert_cautions(outputs, language, _bundle_cautions(outputs, bundle), lines)
        programme = outputs.wrote.programmes.get(str(bundle.get("programme")))
        for each, _ in picks:
            assert_exercise(outputs, language, each, whole)
            if programme:
                _assert_cues_with(outputs, language, each, programme, whole)
            if language == "en":
                shown = {*(_inside(programme) if programme else ()), *(slug for slug, _ in picks)}
                assert_ready(outputs, each, whole, shown, programme["tiers"][-1]["exercises"] if programme else ())
        if full:
            _assert_rows(outputs, language, bundle, usual)


def _assert_rows(outputs: Outputs, language: str, bundle: Mapping[str, Any], document: Document) -> None:
    """Several exercises on a page: each row has its own number, title, dose, all steps and the first fault, and nothing of another."""
    articles = articles_of(document)
    picks, cover = picks_of(bundle), read_lines(articles.pop("cover"))
    assert list(articles) == [f"row-{slug}" for slug, _ in picks]
    for number, (slug, change) in enumerate(picks, 1):
        exercise, lines = outputs.wrote.exercises[slug], read_lines(articles[f"row-{slug}"])
        texts = texts_of(exercise)
        wanted = [*said(language, exercise["title"]), *said(language, " ".join(texts["steps"])), *said(language, texts["mistakes"][0])]
        assert Counter(marks(lines)) == Counter(wanted), (language, slug)
        assert in_order(said(language, " ".join((exercise["title"], *texts["steps"]))), marks(lines)), (language, slug)
        heading = next(line.text for line in lines if line.headings)
        assert re.findall("[0-9]+", heading)[0] == str(number), heading
        _assert_dose_beside_title(outputs, language, slug, change, lines)
        is_open = not own_dose(outputs, slug, change)
        assert is_open == ("________" in " ".join(line.text for line in lines)), "a line for the pen where there is no dose"
        _assert_cautions(outputs, language, list(exercise["cautions"]), cover)
        for kind in ("ask", "care"):
            _assert_asked_of(outputs, language, kind, str(number), slug, bundle, cover)
    programme = outputs.wrote.programmes.get(str(bundle.get("programme")))
    if programme:
        _assert_whole_programme(language, programme, cover)


def _assert_asked_of(outputs: Outputs, language: str, kind: str, number: str, slug: str, bundle: Mapping[str, Any], cover: list[Line]) -> None:
    """What is asked because of an exercise, and not of all of them, stands behind its number."""
    everywhere = _bundle_cautions(outputs, bundle)
    for caution in outputs.wrote.exercises[slug]["cautions"]:
        each = outputs.wrote.cautions[caution]
        if each["kind"] == kind and caution not in everywhere:
            sign = said(language, each["when"])[0]
            line = next(line.text for line in cover if sign in marks(line.text))
            before = re.findall(r"((?:[0-9]+[^0-9:.]*)+):", line[: line.lower().index(sign)])
            assert before and number in re.findall("[0-9]+", before[-1]), (language, slug, caution, line)


def articles_of(document: Document) -> dict[str, str]:
    """The HTML of each article of a document by its id."""
    articles = re.split(r'<article id="([^"]+)"', document.html)
    return {name: f'<article id="{name}"{rest}' for name, rest in zip(articles[1::2], articles[2::2], strict=True)}


def test_chart_and_record(outputs: Outputs) -> None:
    """The chart text and the record name each exercise in order, with its dose."""
    for slug, bundle in outputs.wrote.bundles.items():
        picks = picks_of(bundle)
        titles = [marks(str(outputs.wrote.exercises[each]["title"]))[0] for each, _ in picks]
        chart = outputs.chart(slug)
        lines = [line for line in chart.splitlines() if re.match(r"[0-9]+\. ", line)]
        assert [marks(line)[0] for line in lines] == titles
        for line, (each, change) in zip(lines, picks, strict=True):
            assert_numbers(own_dose(outputs, each, change), re.sub(r"^[0-9]+\. |\[.*?\]", "", line))
        record = outputs.record(slug)
        assert [marks(each["title"])[0] for each in record["contained"]] == titles
        for activity, (each, change) in zip(record["contained"], picks, strict=True):
            quantities = re.findall(r'"value": ([0-9]+)', json.dumps(activity))
            assert str(own_dose(outputs, each, change)["sets"]) in quantities, (each, quantities)


@pytest.mark.parametrize("language", LANGUAGES)
def test_phone(outputs: Outputs, language: str) -> None:
    """What the phone knows of each exercise is what the author wrote, number by number."""
    book = outputs.book(language)
    for slug, exercise in outputs.wrote.exercises.items():
        known = book["exercises"][exercise["code"]]
        words = outputs.phone(language, slug)
        parts = texts_of(exercise)
        inside = " ".join(item for section in words["sections"] for block in section["blocks"] for item in block["items"])
        assert marks(inside) == said(language, " ".join(parts["steps"]))
        assert marks(" ".join(words["cues"])) == said(language, " ".join(parts["cues"]))
        assert marks(" ".join(" ".join(each) for each in words["mistakes"])) == said(language, " ".join(parts["mistakes"]))
        assert marks(words["feel"]) == said(language, exercise["feel"])
        assert marks(known["ready"]) == said(language, " ".join(parts["ready when"]))
        for kind in ("ask", "care"):
            wanted = said(language, " ".join(caution_texts(outputs, list(exercise["cautions"]), kind)))
            assert marks(" ".join(" ".join(each) for each in words[kind])) == wanted
        stops = " ".join(f"{book['stops'][each]['when']} {book['stops'][each]['do']}" for each in known["stop"])
        assert marks(stops) == said(language, " ".join(caution_texts(outputs, list(exercise["cautions"]), "stop")))
        if exercise["dose"] == OPEN_DOSE:
            assert known["dose"] == {"sets": 0, "side": "together", "rest": 0, "times": 1}
        else:
            _assert_phone_dose(exercise["dose"], known["dose"])


@pytest.mark.parametrize("language", LANGUAGES)
def test_phone_of_programmes_and_bundles(outputs: Outputs, language: str) -> None:
    """What a list takes over from where it was begun: the step's conditions, cautions of every kind, cues, the day."""
    book = outputs.book(language)
    for slug, programme in outputs.wrote.programmes.items():
        known = book["origins"]["programmes"][slug]
        assert marks(" ".join(known["cues"])) == said(language, " ".join(programme["cues"]))
        assert marks(" ".join(known["day"])) == said(language, " ".join(programme["through the day"]))
        _assert_phone_cautions(outputs, list(programme["cautions"]), known["cautions"])
        for number, step, then in steps_of(programme):
            (_, own), (label, following) = known["steps"][number - 1]["lines"]
            assert marks(own) == said(language, step["enter when"])
            assert marks(following) == said(language, then)
            if language == "en" and number < len(programme["tiers"]):
                assert label == LABELS["en"]["go on"].format(n=number + 1)
            codes = [outputs.wrote.exercises[each]["code"] for each in step["exercises"]]
            assert known["steps"][number - 1]["codes"] == codes
    for slug, bundle in outputs.wrote.bundles.items():
        known = book["origins"]["bundles"][slug]
        assert known["programme"] == bundle.get("programme", "")
        _assert_phone_cautions(outputs, list(bundle.get("cautions", ())), known["cautions"])


def test_pdf(outputs: Outputs) -> None:
    """The PDF of one document of each kind, and of both sheets of a bundle, says what its HTML says, in the order in which it is set."""
    chance = random.Random(len(outputs.documents))
    full = re.compile(r"/bundles/.*-full-")
    kinds = {kind: [path for path in outputs.documents if f"/{kind}/" in path and "-with-" not in path and not full.search(path)] for kind in ("exercises", "programmes", "bundles")}
    for paths in (*kinds.values(), [path for path in outputs.documents if full.search(path)]):
        if not paths:  # no bundle has several exercises
            continue
        path = chance.choice(paths)
        document = outputs.documents[path]
        laid = kept(lay_out_document, document)
        assert [each.what for each in laid.problems if each.grade is Grade.ERROR] == []
        wanted, found = marks(read_lines(as_set(document))), marks(pdf_text(laid.pdf))
        assert in_order(found, wanted), path
        assert len(found) >= 0.8 * len(wanted), path
        if document.articles[0].kind == FRONT:
            own = (Counter(each for each in every if path.startswith("en/") or each.endswith(SPANISH)) for every in (found, wanted))
            assert next(own) == next(own), path  # what a row says is short enough to be said whole


def _step(language: str, number: int, name: str) -> str:
    return LABELS[language]["step"].format(n=number, name=name if language == "en" else f"{name} es")


def _assert_labels(language: str, number: int, steps: int, condition: str, then: str, lines: list[Line]) -> None:
    """In English each condition stands behind its own words."""
    if language != "en":
        return
    text = " ".join(line.text for line in lines)
    labels = LABELS["en"]
    label = labels["go on"].format(n=number + 1) if number < steps else labels["goal"]
    for wanted, mark in ((labels["start"], marks(condition)[0]), (label, marks(then)[0])):
        behind = [marks(piece)[:1] for piece in text.split(wanted)[1:]]
        assert [mark] in behind, (number, wanted, mark, behind)


def _assert_cautions(outputs: Outputs, language: str, slugs: list[str], lines: list[Line]) -> None:
    found = marks(lines)
    for kind in ("stop", "ask", "care"):
        for text in caution_texts(outputs, slugs, kind):
            assert in_order(said(language, text), found), (language, kind, text)


def _inside(programme: Mapping[str, Any]) -> list[str]:
    return [each for step in programme["tiers"] for each in step["exercises"]]


def _assert_kind(outputs: Outputs, slugs: list[str], kind: str, lines: list[Line]) -> None:
    """In English the cautions of a kind stand under a heading of that kind, in the author's order."""
    texts = " ".join(caution_texts(outputs, slugs, kind))
    below = [line for line in lines if any(heading in LABELS["en"][kind] for heading in line.headings)]
    assert in_order(marks(texts), marks(below)), (kind, texts, [line.headings for line in lines if marks(line.text)])


def _assert_whole_programme(language: str, programme: Mapping[str, Any], lines: list[Line]) -> None:
    """What goes for the whole programme stands there: its cues, and what to do through the day."""
    for name in ("cues", "through the day"):
        assert in_order(said(language, " ".join(programme[name])), marks(lines)), (language, name)


def _assert_cues_with(
    outputs: Outputs, language: str, slug: str, programme: Mapping[str, Any], lines: list[Line]
) -> None:
    """The programme's cues follow those of the exercise, before what one should feel."""
    exercise = outputs.wrote.exercises[slug]
    wanted = said(language, " ".join((*exercise["cues"], *programme["cues"], exercise["feel"])))
    assert in_order(wanted, marks(lines)), (language, slug, wanted)


def _assert_phone_cautions(outputs: Outputs, slugs: list[str], known: Mapping[str, Any]) -> None:
    for kind in ("stop", "ask", "care"):
        assert known[kind] == [slug for slug in slugs if outputs.wrote.cautions[slug]["kind"] == kind], kind


def _bundle_cautions(outputs: Outputs, bundle: Mapping[str, Any]) -> list[str]:
    programme = outputs.wrote.programmes.get(str(bundle.get("programme")), {})
    return [*programme.get("cautions", ()), *bundle.get("cautions", ())]


def _assert_dose_beside_title(
    outputs: Outputs, language: str, slug: str, change: Mapping[str, Any], lines: list[Line]
) -> None:
    title = said(language, outputs.wrote.exercises[slug]["title"])[0]
    dose = own_dose(outputs, slug, change)
    texts = [
        " ".join(line.text for line in lines[at : at + 4]) for at, line in enumerate(lines) if title in marks(line.text)
    ]
    wanted = Counter(numbers_of(dose))
    assert any(wanted <= Counter(re.findall("[0-9]+", text)) for text in texts), (slug, dose, texts)


def _assert_phone_dose(typed: Mapping[str, Any], known: Mapping[str, Any]) -> None:
    assert known["sets"] == typed["sets"]
    for name, factor in (("reps", 1), ("hold", 1), ("time", 60), ("distance", 1)):
        if name in typed:
            assert known[name] == int(re.findall("[0-9]+", str(typed[name]))[0]) * factor
        else:
            assert not known.get(name)
    assert known["side"] == typed.get("side", "together")
    assert known["rest"] == int(str(typed["rest"]).split()[0])
    assert known["days"] == typed["days"]
    assert [int(each) for each in known["effort"]] == [int(each) for each in str(typed["effort"]).split("-")]


NAMED = {"left": "left side only", "right": "right side only"}


def test_named_sides(outputs: Outputs) -> None:
    """A side that a clinician names stands in chart text, record, both sheets and phone at its exercise, and at no other."""
    library = load(Settings(outputs.folder, today=TODAY)).library
    assert library is not None
    catalogue, chance = make_catalogue(library), random.Random(len(outputs.wrote.exercises))
    slugs = sorted(slug for slug, each in outputs.wrote.exercises.items() if each["dose"] != OPEN_DOSE)[:12]
    sides = {slug: chance.choice(("left", "right", "")) for slug in slugs if dict(outputs.wrote.exercises[slug]["dose"]).get("side") in ("both", "one")}
    change = {slug: DoseChange(place=PLACE, side=Side(side)) for slug, side in sides.items() if side}
    picked = PickedBundle("en", "main", 3, tuple(Pick(place=PLACE, exercise=Ref(slug, PLACE), change=change.get(slug)) for slug in slugs))
    code = encode_bundle(picked, catalogue)
    assert isinstance(code, str)
    rows, sheets = (articles_of(picked_document(a_setting(library), picked, code, full=full)) for full in (False, True))
    lines = [line for line in outputs.chart(code).splitlines() if re.match(r"[0-9]+\. ", line)]
    record = outputs.record(code)["contained"]
    opened = ask_script("openings", {"catalogue": outputs.book("en"), "codes": [code]})[0]["doses"]
    for slug, line, activity, dose in zip(slugs, lines, record, opened, strict=True):
        own = sides.get(slug, "")
        coded = [each["valueCode"] for each in activity["extension"] if each["url"].endswith("/dose-side")]
        for side, words in NAMED.items():
            wanted = side == own
            told = (words in line, words in activity["description"], words in rows[f"row-{slug}"], words in sheets[slug], side in coded, dose["side"] == side)
            assert told == (wanted,) * 6, (slug, side)
        entry = next(part for part in sheets["cover"].split("<li") if f'href="#{slug}"' in part)
        assert [words in entry for words in NAMED.values()] == [side == own for side in NAMED], slug
