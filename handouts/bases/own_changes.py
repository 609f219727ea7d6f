"""What a clinic has in another way than its base, and the clinic's reviews of that.  Bytes in, values and problems out.

A review is of one state of the base and one of the clinic (``base.reviews.yaml``): whichever changes, it is void.  The base's own
review stands for the base's words, whatever a clinic does with them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from handouts.ledger.entries import BUNDLE
from handouts.ledger.parts import changed_parts
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import Present, find_present
from handouts.model import Library, OwnReview, Words
from handouts.problems import Grade, Place, Problem
from handouts.source.bases import LibraryFiles
from handouts.words.reviews import Reviews, TranslationReview, fingerprint, read_reviews

FILE = "base.reviews.yaml"
"""The clinic's reviews of what it has in another way than its base."""
OWN_CHANGE = "own-change"
"""The rule that is a notice while one writes, and an error of a build."""
INNER = "exercises"
"""The part that tells what the exercises of a programme or bundle are like: each is reviewed by itself."""
PART_WORDS = {
    "dose": "the dose", "steps": "the steps", "figure": "the figure", "cautions": "the cautions", "tips": "the hints",
    "needs": "the position or equipment",
    "ready": "when one is ready for more", "why": "what it is good for", "title": "the title", "ways": "what is easier or harder",
    "place": "what comes before it", "measure": "how it is measured", "picks": "the list of exercises",
}  # fmt: skip
"""What people call each part."""


@dataclass(frozen=True, slots=True)
class OwnChange:
    """One thing that is in another way here than in the base."""

    item: Present
    base: Present
    parts: tuple[str, ...]
    """Names of the parts that differ."""
    is_own_file: bool
    """Whether a file of the clinic's own takes the place of the base's."""

    @property
    def owner(self) -> str:
        """What reviews know it by: ``exercise/H7K2``, ``bundle/first-days``."""
        return f"{self.item.kind}/{self.item.slug if self.item.kind == BUNDLE else self.item.code}"

    @property
    def version(self) -> str:
        """The fingerprint of what a review is of: both states, or the base's alone where the clinic's file has a review of its own."""
        names = sorted({*self.base.parts, *self.item.parts} - {INNER})
        own = {} if self.is_own_file else self.item.parts
        return fingerprint((name, self.base.parts.get(name, ""), own.get(name, "")) for name in names)

    @property
    def says(self) -> str:
        """Which parts differ, in words."""
        words = [PART_WORDS.get(name, name) for name in self.parts]
        return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def find_own_changes(library: Library, own_files: Iterable[str]) -> tuple[OwnChange, ...]:
    """Everything that differs from the base; ``own_files`` are the paths of the clinic's own files."""
    if library.base is None:
        return ()
    base = library.base.library
    base = replace(base, clinic=replace(base.clinic, units=library.clinic.units))  # another unit is the same dose
    files = {path.rpartition(".")[0] for path in own_files}
    under = {(item.kind, item.code): item for item in find_present(base, stamps_of(base))}
    found = []
    for item in find_present(library, stamps_of(library)):
        other = under.get((item.kind, item.code))
        parts = tuple(name for name in changed_parts(other.parts, item.parts) if name != INNER) if other else ()
        if other and (parts or item.item in files):
            found.append(OwnChange(item, other, parts, item.item in files))
    return tuple(found)


def review_own_changes(library: Library, files: Mapping[str, bytes], changes: tuple[OwnChange, ...]) -> tuple[Library, list[Problem]]:
    """The library with the clinic's reviews of its ``changes``; a problem for each that none stands for."""
    if library.base is None:
        return library, []
    reviews, problems = read_own_reviews(files)
    falls = library.base.falls
    place = library.clinic.at("stands_on")
    out = library.clinic.at("left_out")
    fallen = {title for title, _ in falls}
    given = {each.code: each.place for each in library.clinic.own_doses} | {each.name: each.place for each in library.clinic.own_order}
    own: dict[str, OwnReview] = {}
    for change in changes:
        review = reviews.get(change.owner)
        stands = review is not None and review.version == change.version
        if review and stands and not change.is_own_file:
            own[change.item.item] = OwnReview(place=review.place, on=review.on, by=Words(review.by, review.place), parts=change.parts)
        elif not stands:
            where = change.item.place if change.is_own_file else given.get(change.item.code, out if change.item.title in fallen else place)
            problems.append(_unreviewed(change, review, where, falls))
    return (_with_reviews(library, own) if own else library), problems


def read_own_reviews(files: Mapping[str, bytes]) -> tuple[Reviews, list[Problem]]:
    """The clinic's reviews of what it changed, by owner."""
    name = files.name if isinstance(files, LibraryFiles) else ""
    return read_reviews(files[FILE], f"{name}/{FILE}") if FILE in files else ({}, [])


def _unreviewed(change: OwnChange, review: TranslationReview | None, place: Place, falls: tuple[tuple[str, str], ...]) -> Problem:
    title = change.item.title
    mend = f"Look at 'handouts base diff', then 'handouts base review {change.owner.partition('/')[2]} --by ROLE'."
    if change.is_own_file:
        since = f"and the base has changed since {review.by} compared both on {review.on}" if review else "and nobody has compared both"
        what = f"this file takes the place of the base's '{title}', {since}"
        return Problem(place, "base-moved", what, mend, Grade.NOTICE)
    means = [says for whose, says in falls if whose == title]
    what = f"this library has {change.says} of '{title}' in another way than its base" + (f" ({'; '.join(means)})" if means else "")
    void = f"the review of {review.on} by {review.by} was of another state of the base or of this" if review else "nobody has reviewed that"
    return Problem(place, OWN_CHANGE, f"{what}, and {void}", f"{mend[:-1]}; until then a build refuses.", Grade.NOTICE)


def _with_reviews(library: Library, own: Mapping[str, OwnReview]) -> Library:
    def reviewed(folder: str, items: Any) -> Any:
        return tuple(
            replace(item, review=replace(item.review, own=own[f"{folder}/{item.slug}"])) if f"{folder}/{item.slug}" in own else item for item in items
        )

    kinds = {"exercises": library.exercises, "programmes": library.programmes, "bundles": library.bundles, **library.standalones}
    return replace(library, **{folder: reviewed(folder, items) for folder, items in kinds.items()})
