"""A library of any size for measurements, made from the demo's own words and poses.

    python -m tests.bench.library N --languages 6 --to FOLDER --seed S

Each exercise keeps the steps and the pose of one of the demo's; its other texts are drawn from all of them that have the
same kind of starting position, its dose from its dose range, and each text ends with an invented word of its own
exercise, so that no cache of texts can answer for another exercise.  The catalogues say the same in other languages.
The same seed gives the same bytes.  Passes ``handouts check``; its words mean nothing and are for no patient.
"""

from __future__ import annotations

import argparse
import random
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import product
from pathlib import Path
from typing import Any

import yaml

from handouts.ledger.read import FILE
from handouts.library.read import read_library
from handouts.problems import Grade
from handouts.rules import check_library
from handouts.source.files import read_folder
from handouts.words.catalogue import Catalogue, CatalogueMessage, read_catalogue, write_catalogue
from handouts.words.checks import find_faults, numbers_in
from handouts.words.folder import GLOSSARY
from handouts.words.glossary import Glossary, read_glossary
from handouts.words.messages import collect_messages, unique_messages
from tests.site.making import write_site

DEMO = Path(__file__).parents[2] / "content"
CODE_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""What a code is made of (``handouts.library.scalars``)."""
LONGEST = 17
"""Most words of a text that gets an invented word: the longest sentence allowed has 20."""
ATTEMPTS = 8
"""Draws of an exercise's texts before it keeps the demo's own."""
TODAY = date(2026, 11, 1)
"""A day on which the reviews of the demo hold."""
_END = re.compile(r"[.!?。！？؟]?$")
_FRONT = re.compile(r"---\n(.*?)\n---\n(.*)", re.DOTALL)
ONSETS, VOWELS, CODAS = (
    ["b", "br", "d", "dr", "f", "fl", "g", "gr", "k", "kl", "l", "m", "n", "p", "pl", "r", "s", "st", "t", "tr", "v", "w"],
    ["a", "e", "i", "o", "u"],
    ["b", "d", "g", "k", "l", "lk", "lm", "m", "n", "nd", "nk", "p", "rk", "rn", "sk", "st", "t"],
)


@dataclass(frozen=True, slots=True)
class Source:
    """An exercise, a programme or a bundle of the demo: its front matter as texts, and its body."""

    slug: str
    front: dict[str, Any]
    body: str


@dataclass(slots=True)
class Made:
    """A library in the making."""

    files: dict[str, bytes]
    atoms: dict[str, tuple[str, str]] = field(default_factory=dict)
    """The demo's text and the invented word of each text that was made."""

    def mark(self, text: str, word: str) -> str:
        """A text with an invented word before its last sign; a long one as it is."""
        if len(text.split()) > LONGEST:
            return text
        marked = add_word(text, word)
        self.atoms[marked] = (text, word)
        return marked


def add_word(text: str, word: str) -> str:
    """``Lift your heel.`` becomes ``Lift your heel (brem).``"""
    end = _END.search(text)
    assert end is not None
    return f"{text[: end.start()]} ({word}){end[0]}"


def invented_words(count: int, rng: random.Random) -> list[str]:
    """Different words of one syllable, or two where one is not enough."""
    single = ["".join(parts) for parts in product(ONSETS, VOWELS, CODAS)]
    double = (f"{first}o{second}" for first, second in product(single, single)) if count > len(single) else iter(())
    rng.shuffle(single)
    return (single + [next(double) for _ in range(count - len(single))])[:count]


def read_sources(files: Mapping[str, bytes], kind: str) -> dict[str, Source]:
    """The demo's files of a kind, by slug."""
    found = {}
    for path in sorted(files):
        if path.startswith(f"{kind}/"):
            text = files[path].decode()
            front, body = _FRONT.fullmatch(text).groups() if path.endswith(".md") else (text, "")  # type: ignore[union-attr]
            slug = Path(path).stem
            found[slug] = Source(slug, yaml.load(front, yaml.BaseLoader), body)
    return found


def write_source(front: Mapping[str, Any], body: str) -> bytes:
    """A file of a library."""
    text = yaml.dump(
        dict(front), Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True, default_flow_style=None, width=10_000
    )
    return (f"---\n{text}---\n{body}" if body else text).encode()


class Maker:
    """Makes exercises, programmes and bundles, one round of the demo after the other."""

    def __init__(self, files: Mapping[str, bytes], count: int, languages: int, seed: int) -> None:
        self.rng = random.Random(seed)
        self.exercises, self.programmes, self.bundles = (
            read_sources(files, kind) for kind in ("exercises", "programmes", "bundles")
        )
        self.order = [
            slug
            for programme in self.programmes.values()
            for tier in programme.front["tiers"]
            for slug in tier["exercises"]
        ]
        self.order = list(dict.fromkeys((*self.order, *self.exercises)))  # an exercise may stand in two programmes
        shared = {path: data for path, data in files.items() if ("/" not in path and path != FILE) or path == GLOSSARY}
        clinic = yaml.load(files["clinic.yaml"], yaml.BaseLoader)
        clinic["languages"]["also"] = clinic["languages"]["also"][: languages - 1]
        self.languages: list[str] = clinic["languages"]["also"]
        self.made = Made({**shared, "clinic.yaml": write_source(clinic, "")})
        if not self.languages:
            self.made.files.pop("words/glossary.yaml", None)
        planned = [pick["exercise"] for bundle in self.bundles.values() for pick in bundle.front["exercises"] if isinstance(pick, dict)]
        self.fixed = frozenset(planned)
        """Exercises of which a bundle asks for more or less than their dose: a dose drawn anew might say the same."""
        self.count, self.codes = count, set[str]()
        self.bases: dict[str, tuple[Source, str, str, frozenset[str]]] = {}
        """Demo exercise, invented word, code and the round's exercises of each exercise that was made, by its path."""

    def code(self) -> str:
        """A code that was not given yet, with a letter."""
        while True:
            code = "".join(self.rng.choices(CODE_LETTERS, k=4))
            if code not in self.codes and not code.isdigit():
                self.codes.add(code)
                return code

    def make(self) -> None:
        """Everything but the catalogues."""
        rounds = -(-self.count // len(self.order))
        words = invented_words(self.count + rounds, self.rng)
        for number in range(rounds):
            held = self.order[: self.count - number * len(self.order)]
            own = {slug: words.pop() for slug in held}
            self._make_round(own, words.pop())
            if number == 0:
                self._name_searched(own)

    def _name_searched(self, own: Mapping[str, str]) -> None:
        """The demo's search words and substitutes, with the exercises of the first round."""
        vocabulary = yaml.load(self.made.files["vocabulary.yaml"], yaml.BaseLoader)
        kept = []
        for entry in vocabulary.get("search words", []):
            named = [f"{slug}-{own[slug]}" for slug in entry.get("exercises", []) if slug in own]
            rest = {key: value for key, value in entry.items() if key != "exercises"} | ({"exercises": named} if named else {})
            if len(rest) > 2 or len(entry) == 2:  # beside slug and words; an entry of the demo that finds nothing stays
                kept.append(rest)
        vocabulary["search words"] = kept
        for entry in vocabulary.get("substitutes", []):
            if "exercises" in entry:
                entry["exercises"] = [f"{slug}-{own[slug]}" for slug in entry["exercises"] if slug in own]
        vocabulary["substitutes"] = [entry for entry in vocabulary.get("substitutes", []) if entry.get("exercises") != []]
        self.made.files["vocabulary.yaml"] = write_source(vocabulary, "")

    def _make_round(self, own: Mapping[str, str], word: str) -> None:
        for slug, mine in own.items():
            source = self.exercises[slug]
            path = f"exercises/{slug}-{mine}.md"
            self.bases[path] = (source, mine, self.code(), frozenset(f"{each}={name}" for each, name in own.items()))
            self.draw(path, plain=False)
        for slug, programme in self.programmes.items():
            front = {**programme.front, "code": self.code(), "title": self.made.mark(programme.front["title"], word)}
            front["goal"], front["for"] = (self.made.mark(programme.front[key], word) for key in ("goal", "for"))
            tiers = [
                {**tier, "exercises": [f"{each}-{own[each]}" for each in tier["exercises"] if each in own]}
                for tier in front["tiers"]
            ]
            front["tiers"] = [
                {**tier, "enter when": self.made.mark(tier["enter when"], word)} for tier in tiers if tier["exercises"]
            ]
            if front["tiers"]:
                self.made.files[f"programmes/{slug}-{word}.md"] = write_source(front, programme.body)
        for slug, bundle in self.bundles.items():
            front = {
                **bundle.front,
                "title": self.made.mark(bundle.front["title"], word),
                "for": self.made.mark(bundle.front["for"], word),
            }
            front["exercises"] = [renamed for pick in front["exercises"] if (renamed := _renamed(pick, own))]
            for folder in ("leaflets", "tests"):  # the library has none
                front.pop(folder, None)
            # the programme of a bundle has this round's name; a round may lack it, or the bundle's step of it
            named, tier = front.pop("programme", None), front.pop("tier", None)
            programme = self.made.files.get(f"programmes/{named}-{word}.md", b"").decode()
            if programme and (tier is None or f"tier: {tier}" in programme):
                front |= {"programme": f"{named}-{word}"} | ({"tier": tier} if tier else {})
            if front["exercises"]:
                self.made.files[f"bundles/{slug}-{word}.yaml"] = write_source(front, "")

    def draw(self, path: str, plain: bool) -> None:
        """An exercise with texts drawn anew, or with the demo's own."""
        source, word, code, round_ = self.bases[path]
        own = dict(pair.split("=") for pair in round_)
        like = [each for each in self.exercises.values() if each.front["position"] == source.front["position"]]
        front = {**source.front, "code": code, "title": self.made.mark(source.front["title"], word)}
        if "ready measured" in front:  # the library has no test of function
            front["ready measured"] = {key: value for key, value in front["ready measured"].items() if key not in ("test", "result")}
        front["after"] = [f"{slug}-{own[slug]}" for slug in source.front.get("after", []) if slug in own]
        if not front["after"]:
            del front["after"]
        for key in ("easier", "harder"):
            ways = source.front.get(key, [])
            front[key] = [way for each in (ways if isinstance(ways, list) else [ways]) if (way := self._way(each, own))]
            if not front[key]:
                del front[key]
        front["also called"] = [self.made.mark(name, word) for name in source.front.get("also called", [])]
        if not plain:
            front |= self._texts(source, like, word)
            front["dose"] = {**source.front["dose"], **({} if source.slug in self.fixed else self._dose(source.front))}
        body = source.body if plain else "\n".join(self._line(line, word) for line in source.body.split("\n"))
        self.made.files[path] = write_source(front, body)

    def _way(self, way: str | dict[str, Any], own: Mapping[str, str]) -> str | dict[str, Any] | None:
        """A way to make an exercise easier or harder: a sentence stays, a name is this round's; None where it lacks it."""
        return way if isinstance(way, str) and way not in self.exercises else _renamed(way, own)

    def _texts(self, source: Source, like: Sequence[Source], word: str) -> dict[str, Any]:
        """As many texts as the demo's exercise has, each from any exercise that begins in the same position."""
        cues = sorted({cue for each in like for cue in each.front["cues"]})
        mistakes = [pair for each in like for pair in each.front["mistakes"]]
        pairs = self.rng.sample(mistakes, len(source.front["mistakes"]))
        texts: dict[str, Any] = {key: self.made.mark(self.rng.choice([each.front[key] for each in like if key in each.front]), word)
                                 for key in ("why", "feel", "ready when") if key in source.front}  # fmt: skip
        texts["cues"] = [self.made.mark(cue, word) for cue in self.rng.sample(cues, len(source.front["cues"]))]
        texts["mistakes"] = [
            {"see": self.made.mark(pair["see"], word), "do": self.made.mark(pair["do"], word)} for pair in pairs
        ]
        return texts

    def _dose(self, front: Mapping[str, Any]) -> dict[str, str]:
        """Sets, repetitions and days anywhere in their range."""
        drawn = {}
        for key in ("sets", "reps", "days"):
            if key in front["dose"] and key in front.get("dose range", {}):
                low, _, high = front["dose range"][key].partition("-")
                drawn[key] = str(self.rng.randint(int(low), int(high or low)))
        return drawn

    def _line(self, line: str, word: str) -> str:
        item = re.fullmatch(r"(\d+\. |- )(.+)", line)
        return f"{item[1]}{self.made.mark(item[2], word)}" if item else line

    def mend(self) -> None:
        """Exercises that a rule refuses are drawn again, and at last keep the demo's own words."""
        shared = {path: data for path, data in self.made.files.items() if "/" not in path}
        asked = set(self.bases)
        for attempt in range(ATTEMPTS):
            library, problems = read_library(shared | {path: self.made.files[path] for path in asked}, "library")
            assert library is not None, problems
            problems += check_library(library, TODAY)
            # what comes before a faulty exercise is left out of the later rounds
            refused = {
                each.place.file.removeprefix("library/")
                for each in problems
                if each.grade is Grade.ERROR and each.rule != "unknown-name"
            }
            asked &= refused
            for path in sorted(asked):
                self.draw(path, plain=attempt + 1 == ATTEMPTS)

    def translate(self, files: Mapping[str, bytes]) -> None:
        """A whole catalogue for each language."""
        library, problems = read_library(self.made.files, "library")
        assert library is not None, problems
        messages = unique_messages(collect_messages(library))
        for language in self.languages:
            path = f"words/{language}.po"
            known, _ = read_catalogue(files[path], path, language)
            assert known is not None
            said = Said(known, read_glossary(files[GLOSSARY], GLOSSARY)[0])
            entries = []
            for message in messages:
                text, word = self.made.atoms.get(message.text, (message.text, ""))
                if _kind(message.context) not in said.kinds:
                    continue  # search words, which not every language of the demo has
                other = said.say(message.context, text)
                entries.append(
                    CatalogueMessage(
                        message.context,
                        message.text,
                        (add_word(other, word if other != text else f"{word}, {word}") if word else other,),
                    )
                )
            self.made.files[path] = write_catalogue(Catalogue(language, path, tuple(entries)))


class Said:
    """What the demo says in a language; where it says nothing yet, another text of the same kind and a like length."""

    def __init__(self, catalogue: Catalogue, glossary: Glossary) -> None:
        self.language, self.glossary = catalogue.language, glossary
        usable = [entry for entry in catalogue.entries if entry.usable]
        self.known = {(_kind(entry.context), entry.source): entry.text for entry in reversed(usable)}
        self.kinds: dict[str, list[CatalogueMessage]] = {}
        for entry in usable:
            self.kinds.setdefault(_kind(entry.context), []).append(entry)

    def say(self, context: str, text: str) -> str:
        """The text in the language; its numbers and the glossary's words stand in it whatever it says."""
        key = (_kind(context), text)
        if key not in self.known:
            alike = sorted(self.kinds[key[0]], key=lambda entry: abs(len(entry.source) - len(text)))
            clean = (
                entry.text
                for entry in alike
                if not find_faults(text, entry.text, self.language, self.glossary, entry.place, is_safety=key[0] == "do")
            )
            self.known[key] = next(clean, "") or self._compose(
                text, [entry.text for entry in (*alike, *self.kinds["step"])]
            )
        return self.known[key]

    def _compose(self, text: str, alike: Sequence[str]) -> str:
        """A text without numbers and marks, with what it lacks behind it."""
        other = next(each for each in alike if not numbers_in(each) and "*" not in each and "](" not in each)
        lacking = [form for _, form in self.glossary.breaches(text, other, self.language)]
        return add_word(other, ", ".join([*lacking, *numbers_in(text).elements()]))


def _kind(context: str) -> str:
    return context.rpartition("/")[2]


def _renamed(pick: str | dict[str, Any], own: Mapping[str, str]) -> str | dict[str, Any] | None:
    """A bundle's exercise by its new name; None where this round has none of it."""
    slug = pick if isinstance(pick, str) else pick["exercise"]
    if slug not in own:
        return None
    name = f"{slug}-{own[slug]}"
    return name if isinstance(pick, str) else {**pick, "exercise": name}


def make_library(count: int, languages: int = 6, seed: int = 1) -> dict[str, bytes]:
    """The files of a library of ``count`` exercises in 1 to 6 languages."""
    files, problems = read_folder(DEMO, "content")
    assert not problems, problems
    maker = Maker(files, count, languages, seed)
    maker.make()
    maker.mend()
    maker.translate(files)
    return maker.made.files


def main() -> None:
    """Writes a library into a folder."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("count", type=int, metavar="N", help="how many exercises")
    parser.add_argument("--languages", type=int, default=6, choices=range(1, 7))
    parser.add_argument("--to", type=Path, required=True, metavar="FOLDER")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    files = make_library(given.count, given.languages, given.seed)
    write_site(files, given.to)
    print(f"{len(files)} files in {given.to}")


if __name__ == "__main__":
    main()
