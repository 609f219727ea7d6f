"""The search index of one language: which word stands in which exercise, and how much it counts there.

An exercise is its place in the order of the page; behind the exercises come the programmes, the ready-made bundles, then what
holds no exercise, kind by kind.
``search_slices.py`` writes it for the browser; the searching itself is ``templates/scripts/src/search.js``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from handouts.model import Bundle, Exercise, FunctionTest, Leaflet, Library, Programme, SearchWords, Standalone, Words
from handouts.site.folding import forms_of, split_words
from handouts.tasks.calling import Caller, call_now
from handouts.text.markup import plain_text

FIRST_REGION, REGION = 15, 13
"""What the name of a region counts, the first of an exercise and the others.  It is added to what the word counts in the
title, so that an exercise for the knee comes before one with a knee in its title, and one with both before either."""
TITLE, ALSO_CALLED, NAMED, SOURCE_TITLE, SEARCHED, PLACED, TOLD = 12, 9, 9, 6, 7, 3, 1
"""What a word counts by where it stands: in the title, in another name, in search words that name the exercise, in the
name in the library's own language, in other search words, as position, purpose, equipment, tier or programme, in the texts."""

Text = tuple[int, str, str]
"""What its words count, its language, itself."""
Several = Programme | Bundle | Standalone
"""What a search finds behind the exercises."""


@dataclass(frozen=True, slots=True)
class SearchIndex:
    """Sorted words, and for each the exercises that hold it."""

    languages: tuple[str, ...]
    """Of the words in it: the page's own, and the library's where it is another one."""
    terms: tuple[str, ...]
    """Sorted by UTF-16 code unit, as JavaScript compares."""
    hits: tuple[tuple[int, ...], ...]
    """For each term: exercise, weight, exercise, weight …, an exercise as its place in the order of the page."""
    passed: tuple[str, ...] = ()
    """Words that a query may hold in vain, sorted."""
    signs: tuple[tuple[str, ...], ...] = ()
    """The words of each sign at which to stop."""


def build_search_index(
    library: Library, exercises: Sequence[Exercise], source: Library, call: Caller = call_now
) -> SearchIndex:
    """The index over ``exercises`` in their order; ``source`` is the library in its own language.

    A clinician who gives a sheet in another language still finds it by the name that they know.  ``call`` finds the
    words of each exercise.
    """
    found: dict[str, dict[int, int]] = {}
    asked = _Searched(library, source)
    items: tuple[Exercise | Several, ...] = (*exercises, *library.programmes, *library.bundles, *library.all_standalones)
    for at, item in enumerate(items):
        texts = asked.of_exercise(item) if isinstance(item, Exercise) else asked.of_several(item)
        for form, weight in call(find_words, *texts, asked.passed).items():
            found.setdefault(form, {})[at] = weight
    terms = tuple(sorted(found, key=_by_code_unit))
    hits = tuple(tuple(number for pair in sorted(found[term].items()) for number in pair) for term in terms)
    return SearchIndex(asked.languages, terms, hits, asked.passed, asked.signs)


def _by_code_unit(term: str) -> bytes:
    return term.encode("utf-16-be")


def find_words(
    regions: tuple[Text, ...], others: tuple[Text, ...], searched: tuple[Text, ...], passed: tuple[str, ...]
) -> dict[str, int]:
    """Every word that finds an exercise with the most that it counts; of search words only those not passed over."""
    best = _best(others)
    for form, weight in _best(searched).items():
        if form not in passed:
            best[form] = max(weight, best.get(form, 0))
    for form, weight in _best(regions).items():
        best[form] = weight + TITLE if best.get(form) == TITLE else max(weight, best.get(form, 0))
    return best


def _best(texts: Iterable[Text]) -> dict[str, int]:
    found: dict[str, int] = {}
    for weight, language, text in texts:
        for word in split_words(plain_text(text)):
            for form in forms_of(word, language):
                found[form] = max(weight, found.get(form, 0))
    return found


Texts = tuple[tuple[Text, ...], tuple[Text, ...], tuple[Text, ...]]
"""The names of regions, all other texts, and the search words."""


@dataclass(frozen=True)
class _Searched:
    """A library in one language, and in its own."""

    library: Library
    source: Library

    @cached_property
    def both(self) -> tuple[Library, ...]:
        """The library, and where that is another language the library in its own."""
        return (self.library,) if self.library.language == self.source.language else (self.library, self.source)

    @property
    def languages(self) -> tuple[str, ...]:
        """Of ``both``."""
        return tuple(each.language for each in self.both)

    @cached_property
    def passed(self) -> tuple[str, ...]:
        """Every form of the words that are passed over, sorted."""
        entries = ((each.language, item) for each in self.both for item in each.vocabulary.search_words)
        texts = (_search_text(0, language, item) for language, item in entries if item.is_passed_over)
        return tuple(sorted(_best(texts), key=_by_code_unit))

    @property
    def signs(self) -> tuple[tuple[str, ...], ...]:
        """The words of each sign at which to stop."""
        stops = (item for each in self.both for item in each.vocabulary.search_words if item.stop)
        return tuple(dict.fromkeys(split_words(plain_text(sign)) for item in stops for sign in item.each))

    def of_exercise(self, exercise: Exercise) -> Texts:
        """Every searchable text of an exercise."""
        library, own = self.library, self.library.language
        others = [(TITLE, own, exercise.title.text)]
        others += ((ALSO_CALLED, own, words.text) for words in exercise.also_called)
        others += ((TOLD, own, words.text) for words in (exercise.why, *exercise.cues))
        others += _closed_lists(library, exercise)
        others.append((TOLD, own, exercise.code))
        regions, searched = [*_regions(library, exercise)], list(_searched(library, exercise))
        original = self.source.exercise.get(exercise.slug)
        if original is not None and self.source.language != own:
            names = (original.title, *original.also_called)
            others += ((SOURCE_TITLE, self.source.language, words.text) for words in names)
            others += _closed_lists(self.source, original)
            regions += _regions(self.source, original)
            searched += _searched(self.source, original)
        return tuple(regions), tuple(others), tuple(searched)

    def of_several(self, item: Several) -> Texts:
        """Every searchable text of what is no exercise: what it is called, whom it is for, what it is good for."""
        own, told = self.library.language, [item.suits, *_aims(item)]
        others = [(TITLE, own, item.title.text), *((PLACED, own, words.text) for words in told)]
        source = self.source
        if source.language != own:
            originals: Iterable[Several] = (*source.programmes, *source.bundles, *source.all_standalones)
            alike = (each for each in originals if type(each) is type(item) and each.slug == item.slug)
            others += ((SOURCE_TITLE, source.language, each.title.text) for each in alike)
        return (), tuple(others), ()


def _aims(item: Several) -> tuple[Words, ...]:
    if isinstance(item, Programme):
        return (item.goal,)
    if isinstance(item, FunctionTest):
        return (item.measures,)
    return (item.why, *item.points) if isinstance(item, Leaflet) else ()


def _regions(library: Library, exercise: Exercise) -> Iterable[Text]:
    names = library.term["regions"]
    for at, ref in enumerate(exercise.regions):
        yield REGION if at else FIRST_REGION, library.language, names[ref.slug].name.text


def _closed_lists(library: Library, exercise: Exercise) -> Iterable[Text]:
    """The names of position, purpose, tier, equipment and programmes in one language."""
    language, term = library.language, library.term
    yield PLACED, language, library.position[exercise.position.slug].name.text
    yield PLACED, language, term["purposes"][exercise.purpose.slug].name.text
    yield PLACED, language, library.tier[exercise.tier.slug].name.text
    yield from ((PLACED, language, term["equipment"][ref.slug].name.text) for ref in exercise.equipment)
    yield from ((PLACED, language, each.title.text) for each in library.programmes_of.get(exercise.slug, ()))


def _searched(library: Library, exercise: Exercise) -> Iterable[Text]:
    """The search words that find an exercise."""
    for item, is_named in library.searches_of[exercise.slug]:
        yield _search_text(NAMED if is_named else SEARCHED, library.language, item)


def _search_text(weight: int, language: str, item: SearchWords) -> Text:
    return weight, language, item.words.text
