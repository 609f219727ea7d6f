"""What readers see of a library as facts: texts by owner and name, doses in words, languages, addresses; kept in a file.

``handouts ledger update`` writes the file; nothing that is published is made from it.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence

from handouts.bundle.whole_dose import dose_parts, say_beside, whole_dose
from handouts.ledger.entries import STANDALONE, folder_of
from handouts.ledger.history import History
from handouts.model import (
    Bundle,
    ClassPlan,
    Clinic,
    Dose,
    Exercise,
    FunctionTest,
    Library,
    Programme,
    Ref,
    Standalone,
    exercises_named,
)
from handouts.problems import Problem
from handouts.publication.ready import criteria_json
from handouts.source.nodes import Scalar, compose, read_text
from handouts.source.nodes import Sequence as SequenceNode
from handouts.text.markup import plain_text
from handouts.words.messages import collect_messages
from handouts.words.wording import Wording

FILE = "published.yaml"
MAX_BYTES = 8 * 1024 * 1024
"""Largest file read, in bytes; 1,000 exercises need about 3 MB."""
_HEAD = """\
# What readers saw when ledger.yaml was last brought up to date. 'handouts ledger update' writes it, 'handouts changes'
# compares the library with it. Nothing is published from it: do not change it by hand; after a conflict let it be written anew.
"""
NOT_READ = ("search-words/",)
"""Beginnings of owners whose texts no reader sees."""
ADDRESS, LANGUAGES, VERSION, FIGURE, DOSE = "address", "languages", "version", "figure", "dose"
"""Names of facts that are no texts."""
BASE = "base"
"""Beginning of owners that tell how the base has what a clinic has in another way: ``base/exercise/H7K2``; no reader sees them."""
Facts = Mapping[str, Mapping[str, tuple[str, ...]]]
"""By owner (``exercise/H7K2``) and name (``step``) the texts in order."""


def collect_facts(library: Library, published: Sequence[Library], history: History, versions: Mapping[str, str]) -> Facts:
    """The facts of a library; ``published`` holds it in each language, ``versions`` stamps by ``exercises/SLUG`` and the like."""
    facts: dict[str, dict[str, list[str]]] = {}
    for message in collect_messages(library):
        if not message.owner.startswith(NOT_READ):
            facts.setdefault(message.owner, {}).setdefault(message.name, []).append(plain_text(message.text))
    voice = Wording.of(library)
    for exercise in library.exercises:
        parts = history.by_item[f"exercises/{exercise.slug}"].parts if f"exercises/{exercise.slug}" in history.by_item else {}
        own = {DOSE: list(say_dose(library, exercise.dose)), FIGURE: [parts.get("figure", "")], **_of_exercise(exercise, library)}
        _add(facts, f"exercise/{exercise.code}", own, exercise, published, versions)
    for programme in library.programmes:
        _add(facts, f"programme/{programme.code}", _of_programme(programme, library), programme, published, versions)
    for bundle in library.bundles:
        _add(facts, f"bundle/{bundle.slug}", _of_bundle(bundle, library, voice), bundle, published, versions)
    for folder, items in library.standalones.items():
        for item in items:
            _add(facts, f"{STANDALONE[folder]}/{item.code}", _of_standalone(item, library), item, published, versions)
    facts.setdefault("clinic", {}).update(_of_clinic(library.clinic, published))
    return {owner: {name: tuple(texts) for name, texts in own.items()} for owner, own in facts.items()}


def say_dose(library: Library, dose: Dose) -> tuple[str, ...]:
    """A dose in the words of the library's language, part by part; one with a band that is gone without its name."""
    return tuple(part for part in dose_parts(dose, library, Wording.of(library)) if part)


def _add(
    facts: dict[str, dict[str, list[str]]],
    owner: str,
    own: Mapping[str, list[str]],
    item: Exercise | Programme | Bundle | Standalone,
    published: Sequence[Library],
    versions: Mapping[str, str],
) -> None:
    kind = folder_of(owner.partition("/")[0])
    in_languages = [each.language for each in published if item.slug in _slugs(each, kind)]
    where = {ADDRESS: [f"{kind}/{item.slug}"], LANGUAGES: in_languages, VERSION: [versions[f"{kind}/{item.slug}"]]}
    facts.setdefault(owner, {}).update({name: texts for name, texts in {**own, **where}.items() if any(texts)})


def _slugs(library: Library, kind: str) -> Mapping[str, object]:
    kinds: dict[str, tuple[Exercise | Programme | Bundle | Standalone, ...]] = {
        "exercises": library.exercises, "programmes": library.programmes, "bundles": library.bundles, **library.standalones,
    }  # fmt: skip
    return {each.slug: each for each in kinds[kind]}


def _cautions(refs: Sequence[Ref], library: Library) -> list[str]:
    """Each caution in its words."""
    known = library.caution
    return [f"{plain_text(known[ref.slug].when.text)} {plain_text(known[ref.slug].do.text)}" for ref in refs if ref.slug in known]


def _of_exercise(exercise: Exercise, library: Library) -> dict[str, list[str]]:
    terms = library.term
    before = [need.slug if isinstance(need, Ref) else need.programme.slug for need in exercise.after]
    titles = {each.slug: plain_text(each.title.text) for each in library.exercises}
    titles |= {each.slug: plain_text(each.title.text) for each in library.programmes}
    ways = [ref.slug for way in (*exercise.easier, *exercise.harder) if (ref := way.exercise)]
    return {
        "caution": _cautions(exercise.cautions, library),
        "position": [library.position[exercise.position.slug].name.text],
        "equipment": [terms["equipment"][ref.slug].name.text for ref in exercise.equipment],
        "region": [terms["regions"][ref.slug].name.text for ref in exercise.regions],
        "purpose": [terms["purposes"][exercise.purpose.slug].name.text],
        "tier": [library.tier[exercise.tier.slug].name.text],
        "after": [titles.get(slug, slug) for slug in before],
        "way": [titles.get(slug, slug) for slug in ways],
        "ready": [criterion["says"] for criterion in criteria_json(exercise, library, Wording.of(library))],
    }


def _of_programme(programme: Programme, library: Library) -> dict[str, list[str]]:
    titles = {each.slug: plain_text(each.title.text) for each in library.exercises}
    steps = [
        f"{library.tier[tier.tier.slug].name.text}: {', '.join(titles.get(ref.slug, ref.slug) for ref in tier.exercises)}"
        for tier in programme.tiers
    ]
    return {"exercises": steps, "weeks": [str(programme.weeks)], "caution": _cautions(programme.cautions, library)}


def _of_bundle(bundle: Bundle, library: Library, voice: Wording) -> dict[str, list[str]]:
    picks = [
        f"{plain_text(library.exercise[pick.exercise.slug].title.text)}: "
        + voice.join([part for part in dose_parts(whole_dose(pick, library), library, voice) if part])
        + "".join(f"; {line}" for line in say_beside(pick, library, voice))
        for pick in bundle.picks
    ]
    return {"exercises": picks, "weeks": [str(bundle.weeks)], "caution": _cautions(bundle.cautions, library)}


def _of_standalone(item: Standalone, library: Library) -> dict[str, list[str]]:
    """Cautions, the exercises that it names, and the numbers of a test with their sources."""
    known = [library.exercise[ref.slug] for ref in exercises_named(item) if ref.slug in library.exercise]
    facts = {"caution": _cautions(item.cautions, library), "exercises": [plain_text(each.title.text) for each in known]}
    if isinstance(item, ClassPlan):
        return {**facts, **_of_class(item, library)}
    if not isinstance(item, FunctionTest):
        return facts
    norms = [f"{row.sex or 'all'} {row.from_age} to {row.to_age or 'over'}: {row.value:g}" for row in item.norms.rows] if item.norms else []
    error = [f"{item.error.change:g} ({item.error.status}: {item.error.source})"] if item.error else []
    alike = [f"{item.symmetry.percent} % ({item.symmetry.status}: {item.symmetry.source})"] if item.symmetry else []
    most = [] if item.most is None else [f"{item.most:g}"]
    counted = [item.unit, f"{item.better} is better", f"{item.tries} tries", *(["each side"] if item.each_side else [])]
    things = [library.term["equipment"][ref.slug].name.text for ref in item.equipment]
    return {**facts, "equipment": things, "counted": counted, "most": most, "norms": norms, "error": error, "symmetry": alike}


def _of_class(plan: ClassPlan, library: Library) -> dict[str, list[str]]:
    """The times of a class, and what and whom it is for."""
    times = {"work": plan.work_seconds, "rest": plan.rest_seconds, "between rounds": plan.between_seconds}
    parts = {"warm-up": plan.warm_up, "cool-down": plan.cool_down}
    said = [f"{name} {seconds} s" for name, seconds in times.items() if seconds] + [f"{plan.rounds} rounds"]
    said += [f"{name} {part.seconds} s" for name, part in parts.items() if part] + ([f"{plan.people} people"] if plan.people else [])
    terms = library.term
    names = {kind: [terms[kind][ref.slug].name.text for ref in refs] for kind, refs in (("equipment", plan.equipment), ("positions", plan.positions))}
    return {"counted": said, "equipment": names["equipment"], "position": names["positions"]}


def _of_clinic(clinic: Clinic, published: Sequence[Library]) -> dict[str, list[str]]:
    return {
        "name": [clinic.name],
        "site": [clinic.site],
        "emergency-number": [clinic.emergency.number],
        "phone": [f"{each.name}: {each.phone}" for each in clinic.locations],
        "where": [f"{each.name}: {each.address}" for each in clinic.locations],
        "paper": list(clinic.papers),
        "type-size": list(clinic.type_sizes),
        LANGUAGES: [each.language for each in published],
    }


def write_facts(facts: Facts) -> bytes:
    """The file: sorted by owner and name, one text a line."""
    return (_HEAD + "\n".join(["facts:", *_lines(facts)]) + "\n").encode()


def _lines(facts: Facts) -> Iterator[str]:
    for owner, own in sorted(facts.items()):
        for name, texts in sorted(own.items()):
            yield from (f"  - [{_quote(owner)}, {_quote(name)}, {_quote(text)}]" for text in texts)


def _quote(text: str) -> str:
    """A text in double quotes; JSON's strings are YAML's."""
    return json.dumps(text, ensure_ascii=False)


def read_facts(data: bytes, file: str) -> tuple[Facts | None, list[Problem]]:
    """The facts of a file; None, with problems, where it cannot be read."""
    text, problems = read_text(data, file)
    if problems:
        return None, problems
    root, problems = compose(text, file, most_bytes=MAX_BYTES)
    if root is None:
        return None, problems
    rows = root.get("facts")
    facts: dict[str, dict[str, tuple[str, ...]]] = {}
    for row in rows.items if isinstance(rows, SequenceNode) else ():
        texts = [item.text for item in row.items if isinstance(item, Scalar)] if isinstance(row, SequenceNode) else []
        if len(texts) != 3:
            what, mend = "this is no fact of what was published", "Run 'handouts ledger update': it writes the file anew."
            return None, [Problem(row.place, "wrong-value", what, mend)]
        owner, name, text = texts
        own = facts.setdefault(owner, {})
        own[name] = (*own.get(name, ()), text)
    return facts, []
