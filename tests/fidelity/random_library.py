"""Random valid libraries in which each text holds a word of its own, so that any output can be read back exactly.

A *mark* is an invented word of eight letters that stands once in the library: where an output holds it, that text
of the author stands there.  The same seed gives the same library.  Nothing here asks the program what it would say.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass, field

import yaml

KINDS = ("stop", "ask", "care")
TIER_NAMES = ("Awaken", "Gather", "Carry", "Climb", "Return")


@dataclass(slots=True)
class Marks:
    """Gives invented words, each once."""

    chance: random.Random
    given: set[str] = field(default_factory=set)

    def __call__(self) -> str:
        """A word of four syllables, such as ``bavopime``."""
        while True:
            word = "".join(self.chance.choice("bdfgklmnprstvz") + self.chance.choice("aeiou") for _ in range(4))
            if word not in self.given:
                self.given.add(word)
                return word


@dataclass(frozen=True, slots=True)
class Wrote:
    """What the author wrote: the files, and the same as plain values."""

    clinic: Mapping[str, object]
    tiers: tuple[Mapping[str, str], ...]
    cautions: Mapping[str, Mapping[str, str]]
    exercises: Mapping[str, Mapping[str, object]]
    """By slug; ``steps`` beside the front matter."""
    programmes: Mapping[str, Mapping[str, object]]
    bundles: Mapping[str, Mapping[str, object]]
    files: Mapping[str, str]


def write_library(seed: int) -> Wrote:
    """The random library of a seed."""
    chance = random.Random(seed)
    mark = Marks(chance)
    tiers = tuple(
        {"slug": name.lower(), "name": name, "means": f"This part is about {mark()}."}
        for name in TIER_NAMES[: chance.randint(2, len(TIER_NAMES))]
    )
    cautions = _cautions(chance, mark)
    exercises = _exercises(chance, mark, tiers, cautions)
    programmes = {
        f"programme-{n}": _programme(chance, mark, n, tiers, cautions, exercises) for n in range(chance.randint(1, 2))
    }
    bundles = {
        f"bundle-{n}": _bundle(chance, mark, cautions, exercises, programmes) for n in range(chance.randint(1, 2))
    }
    clinic = _clinic(chance, mark)
    files = {
        "clinic.yaml": _yaml(clinic),
        "tiers.yaml": _yaml({"tiers": list(tiers)}),
        "vocabulary.yaml": _yaml(VOCABULARY),
        "cautions.yaml": _yaml({"cautions": list(cautions.values())}),
        **{f"exercises/{slug}.md": _page(each, "How to do it") for slug, each in exercises.items()},
        **{f"programmes/{slug}.md": _page(each, "About it") for slug, each in programmes.items()},
        **{f"bundles/{slug}.yaml": _yaml(each) for slug, each in bundles.items()},
    }
    return Wrote(clinic, tiers, cautions, exercises, programmes, bundles, files)


VOCABULARY = {
    "regions": [{"slug": "knee", "name": "Knee"}, {"slug": "hip", "name": "Hip"}],
    "positions": [
        {"slug": "sitting", "name": "Sitting", "level": "chair"},
        {"slug": "standing", "name": "Standing", "level": "standing"},
    ],
    "equipment": [{"slug": "chair", "name": "Chair"}, {"slug": "counter", "name": "Counter"}],
    "purposes": [{"slug": "strength", "name": "Strength"}],
    "bands": [{"slug": "light", "name": "Light"}, {"slug": "strong", "name": "Strong"}],
}
REVIEW = {"on": "2026-09-14", "by": "lead physiotherapist"}


def _clinic(chance: random.Random, mark: Marks) -> dict[str, object]:
    return {
        "name": "Testford Clinic",
        "invented": "yes",
        "about": "A clinic made up for tests.",
        "site": "https://testford.example/",
        "locations": [{"slug": "main", "name": "Main Street", "address": "1 Main Street", "phone": "555-0100"}],
        "emergency": {"number": "911", "text": f"Call 911 if {mark()} comes."},
        "languages": {"source": "en", "also": ["es"]},
        "papers": ["letter"],
        "type sizes": ["standard"],
        "accent": "#0f5e6b",
        "reading level": 18,
        "review": {"months": 12, "notice days": 0, "grace days": 90, "unreviewed translations": "show"},
        "session": {"minutes": 240, "exercises": 12, "change of position": "30 s", "between exercises": "30 s"},
        "pain rule": f"Pain up to 3 out of 10 is fine, {mark()}.",
        "defer": {"surgeon": f"Your surgeon comes first, {mark()}.", "clinician": f"Your clinician, {mark()}."},
    }


def _cautions(chance: random.Random, mark: Marks) -> dict[str, dict[str, str]]:
    found = {}
    for n in range(9):
        kind = KINDS[n % 3]
        call = chance.choice(("none", "clinic")) if kind == "stop" else "none"
        do = f"Stop and rest, {mark()}." if kind == "stop" else f"Rest for {mark()}."
        found[f"{kind}-{n}"] = {
            "slug": f"{kind}-{n}",
            "kind": kind,
            "when": f"You feel {mark()}.",
            "do": do,
            "call": call,
            "source": "Common practice, no source",
        }
    return found


OPEN_DOSE = "as your physiotherapist says"
SET_DOSES = ({"sets": 2, "reps": 7}, {"sets": 3, "hold": "25 s"}, {"sets": 1, "time": "4 min"}, {"sets": 2, "distance": "35 m"})
"""What a clinician may set where the author has no dose; days are added."""


def _open(chance: random.Random) -> dict[str, object]:
    """An exercise that leaves its dose to the clinician, with a range that says what is counted, or with none."""
    bounds = chance.choice(({}, {"hold": "10-40 s"}, {"time": "2-9 min"}, {"distance": "20-60 m"}))
    return {"dose": OPEN_DOSE, **({"dose range": {"sets": "1-6", **bounds}} if bounds else {})}


def _set(chance: random.Random, exercise: Mapping[str, object]) -> dict[str, object]:
    """The dose that a bundle sets for such an exercise."""
    offered = exercise.get("dose range") or {"reps": ""}
    assert isinstance(offered, dict)
    return {**next(each for each in SET_DOSES if set(each) - {"sets"} <= set(offered)), "days": chance.randint(1, 7)}


def _dose(chance: random.Random) -> dict[str, object]:
    dose: dict[str, object] = {"sets": chance.randint(1, 6)}
    kind = chance.choice(("reps", "reps", "hold", "time", "distance"))
    if kind == "reps":
        dose |= {"reps": chance.randint(3, 40), "tempo": f"{chance.randint(1, 4)}-{chance.randint(0, 9)}-{chance.randint(1, 4)}"}
    elif kind == "hold":
        dose |= {"hold": f"{chance.randint(5, 59)} s"}
    elif kind == "time":
        dose |= {"time": f"{chance.randint(2, 9)} min"}
    else:
        dose |= {"distance": f"{chance.randint(20, 400)} m"}
    if kind != "distance" and chance.random() < 0.7:
        dose["side"] = chance.choice(("both", "one") if kind != "reps" else ("both", "one", "alternating"))
    if dose.get("side") == "alternating":
        dose["reps"] = 2 * chance.randint(3, 15)
    dose |= {"rest": f"{chance.randint(15, 90)} s", "days": chance.randint(1, 7)}
    low = chance.randint(1, 6)
    return dose | {"effort": f"{low}-{low + chance.randint(1, 3)}"}


def _exercises(
    chance: random.Random,
    mark: Marks,
    tiers: tuple[Mapping[str, str], ...],
    cautions: Mapping[str, Mapping[str, str]],
) -> dict[str, dict[str, object]]:
    found: dict[str, dict[str, object]] = {}
    codes = chance.sample([a + b + c + d for a in "ABCDEFGH" for b in "234567" for c in "JKLMN" for d in "789"], 12)
    for n in range(chance.randint(len(tiers), 8)):
        tier = tiers[min(n, len(tiers) - 1) if n < len(tiers) else chance.randrange(len(tiers))]["slug"]
        order = [each["slug"] for each in tiers]
        before = [slug for slug, each in found.items() if 0 <= order.index(tier) - order.index(str(each["tier"])) <= 1]
        slug = f"move-{chr(97 + n)}"
        found[slug] = {
            "code": codes[n],
            "title": f"Move {mark().capitalize()}",
            "tier": tier,
            "regions": ["knee"],
            "purpose": "strength",
            "position": chance.choice(("sitting", "standing")),
            "equipment": chance.sample(["chair", "counter"], chance.randint(0, 2)),
            "why": f"This helps you with {mark()}.",
            **(_open(chance) if chance.random() < 0.2 else {"dose": _dose(chance), "dose range": {"sets": "1-6"}}),
            "cues": [f"Think of {mark()}." for _ in range(chance.randint(1, 4))],
            "feel": f"You feel {mark()}.",
            "mistakes": [
                {"see": f"You see {mark()}.", "do": f"Mend it by {mark()}."} for _ in range(chance.randint(1, 3))
            ],
            "cautions": _some_cautions(chance, cautions),
            "easier": f"Use less {mark()}.",
            "harder": f"Use more {mark()}.",
            "review": REVIEW,
            "sources": ["Common practice, no source"],
            "figure": {"base": "sitting"},
            "steps": [f"Do the {mark()}." for _ in range(chance.randint(2, 6))],
        }
        first = tier == tiers[0]["slug"]
        if before and (not first or chance.random() < 0.5):
            found[slug]["after"] = chance.sample(before, 1)
    needed = {name for each in found.values() for name in _texts(each.get("after"))}
    for slug, each in found.items():
        if slug in needed or chance.random() < 0.7:
            each["ready when"] = f"You can do {mark()} with ease."
    return found


def _texts(value: object) -> list[str]:
    return [str(each) for each in value] if isinstance(value, list) else []


def _some_cautions(chance: random.Random, cautions: Mapping[str, Mapping[str, str]]) -> list[str]:
    """One stop rule at least, and up to two more of any kind."""
    stop = chance.choice([slug for slug, each in cautions.items() if each["kind"] == "stop"])
    return list(dict.fromkeys((stop, *chance.sample(sorted(cautions), chance.randint(0, 2)))))


def _programme(
    chance: random.Random,
    mark: Marks,
    n: int,
    tiers: tuple[Mapping[str, str], ...],
    cautions: Mapping[str, Mapping[str, str]],
    exercises: Mapping[str, Mapping[str, object]],
) -> dict[str, object]:
    steps = []
    for tier in tiers:
        inside = [slug for slug, each in exercises.items() if each["tier"] == tier["slug"]]
        chance.shuffle(inside)
        steps.append({"tier": tier["slug"], "enter when": f"You can {mark()}.", "exercises": inside})
    return {
        "code": f"P22{n + 2}",
        "title": f"Plan {mark().capitalize()}",
        "goal": f"You reach {mark()}.",
        "for": f"People with {mark()}.",
        "weeks": chance.randint(4, 12),
        "cautions": chance.sample(sorted(cautions), chance.randint(2, 5)),
        "cues": [f"In each one, think of {mark()}." for _ in range(chance.randint(0, 2))],
        "through the day": [f"While you wait, do {mark()}." for _ in range(chance.randint(0, 2))],
        "tiers": steps,
        "review": REVIEW,
        "sources": ["Common practice, no source"],
        "steps": [f"Begin with {mark()}."],
    }


def _bundle(
    chance: random.Random,
    mark: Marks,
    cautions: Mapping[str, Mapping[str, str]],
    exercises: Mapping[str, Mapping[str, object]],
    programmes: Mapping[str, Mapping[str, object]],
) -> dict[str, object]:
    picks: list[object] = []
    for slug in sorted(chance.sample(sorted(exercises), chance.randint(1, min(4, len(exercises))))):
        if exercises[slug]["dose"] == OPEN_DOSE:
            picks.append({"exercise": slug, "dose": _set(chance, exercises[slug])})
        elif chance.random() < 0.5:
            picks.append({"exercise": slug, "dose": {"sets": chance.randint(1, 6)}})
        else:
            picks.append(slug)
    found: dict[str, object] = {"title": f"Set {mark().capitalize()}", "for": f"Those with {mark()}."}
    if chance.random() < 0.6:
        found["programme"] = chance.choice(sorted(programmes))
    if chance.random() < 0.6:
        found["cautions"] = chance.sample(sorted(cautions), chance.randint(1, 3))
    return found | {
        "exercises": picks,
        "weeks": chance.randint(1, 6),
        "review": REVIEW,
    }


def _yaml(value: object) -> str:
    return yaml.safe_dump(value, sort_keys=False, width=1000, allow_unicode=True)


def _page(values: Mapping[str, object], heading: str) -> str:
    front = {key: value for key, value in values.items() if key != "steps"}
    steps = values["steps"]
    assert isinstance(steps, list)
    body = "\n".join(f"{n}. {text}" for n, text in enumerate(steps, 1))
    return f"---\n{_yaml(front)}---\n## {heading}\n\n{body}\n"
