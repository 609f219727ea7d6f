"""Search words: what people type must lead somewhere, and never away from what is called so."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.model import Exercise, Library, SearchWords, is_found_by
from handouts.problems import Grade, Place, Problem, suggest
from handouts.rules.question import Question

TERMS = ("regions", "positions", "equipment", "purposes")


def check_search_names(question: Question) -> Iterator[Problem]:
    """Is everything that search words name declared?"""
    library = question.library
    for item in library.vocabulary.search_words:
        for name, refs in item.terms.items():
            known = library.term[name]
            for ref in refs:
                if ref.slug not in known:
                    what = f"'{ref.slug}' is not declared in '{name}' of vocabulary.yaml"
                    yield Problem(ref.place, "unknown-name", what, suggest(ref.slug, known))


def check_search_words(question: Question) -> Iterator[Problem]:
    """Is each search word given once, and does it hide no name?"""
    first: dict[str, Place] = {}
    names = dict(_names(question.library))
    for item in question.library.vocabulary.search_words:
        for word in item.each:
            folded, place = word.casefold(), _place_in(item, word)
            if not word:
                yield Problem(place, "search-word-empty", "a search word is empty", "Take one of the two commas out.")
                continue
            if folded in first:
                what = f"the search word '{word}' is given twice (first in {first[folded]})"
                yield Problem(place, "search-word-twice", what, "Take one of them out.")
            first.setdefault(folded, place)
            hidden = [says for says, exercises in names.get(folded, ()) if not all(is_found_by(each, item) for each in exercises)]
            for says in hidden:
                what = f"the search word '{word}' is also the name of {says}, which its entry does not find"
                yield Problem(place, "search-word-hides", what, "Take the word out, or let its entry find that too.")


def check_search_finds(question: Question) -> Iterator[Problem]:
    """Does every entry of search words find an exercise?"""
    library = question.library
    for item in library.vocabulary.search_words:
        known = all(ref.slug in library.term[name] for name, refs in item.terms.items() for ref in refs)
        known = known and all(ref.slug in library.exercise for ref in item.exercises)
        if item.is_passed_over or item.stop or not known or any(is_found_by(each, item) for each in library.exercises):
            continue
        what = f"the search words '{item.slug}' find no exercise"
        mend = "Name fewer lists, or other terms; or take the entry out until there is such an exercise."
        yield Problem(item.place, "search-finds-nothing", what, mend, Grade.NOTICE)


def _place_in(item: SearchWords, word: str) -> Place:
    """Where a word stands, as near as is known: its entry's words."""
    place, at = item.words.place, item.words.text.find(word)
    return Place(place.file, place.line, place.column + max(at, 0))


def _names(library: Library) -> Iterator[tuple[str, tuple[tuple[str, tuple[Exercise, ...]], ...]]]:
    """By name in small letters what is called so, and the exercises that it stands for."""
    found: dict[str, tuple[tuple[str, tuple[Exercise, ...]], ...]] = {}

    def keep(name: str, says: str, exercises: tuple[Exercise, ...]) -> None:
        found[name.casefold()] = (*found.get(name.casefold(), ()), (says, exercises))

    for exercise in library.exercises:
        keep(exercise.title.text, f"the exercise '{exercise.slug}'", (exercise,))
        for other in exercise.also_called:
            keep(other.text, f"the exercise '{exercise.slug}'", (exercise,))
    for name in TERMS:
        for term in library.term[name].values():
            holding = tuple(each for each in library.exercises if term.slug in _terms_of(each, name))
            keep(term.name.text, f"'{term.slug}' in '{name}'", holding)
    yield from found.items()


def _terms_of(exercise: Exercise, name: str) -> set[str]:
    single = {"positions": exercise.position, "purposes": exercise.purpose}
    several = {"regions": exercise.regions, "equipment": exercise.equipment}
    return {single[name].slug} if name in single else {ref.slug for ref in several[name]}
