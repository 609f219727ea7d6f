"""What the translator's pages show: every text of a library in one language, with its state.

The pages are a tool: their own words are English, as the commands' are.  They are in no navigation and
no search engine; no patient is meant to read them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import Exercise, Library
from handouts.problems import show_problem
from handouts.site.paths import relative
from handouts.text.markup import plain_text
from handouts.words.messages import exercise_owner, standalone_owner
from handouts.words.state import LanguageState, OwnerState, TextReport, TextState
from handouts.words.wording import Wording

STATES = {
    TextState.USABLE: "translated",
    TextState.MISSING: "missing",
    TextState.STALE: "stale: the source has changed",
    TextState.FUZZY: "not finished",
    TextState.FAULTY: "faulty",
}
"""What each state is called."""
Draw = Callable[[Exercise, str], Markup]
"""A figure, inline, in a language."""


@dataclass(frozen=True, slots=True)
class TextView:
    """One text: what it was translated from stands beside what it says now."""

    name: str
    look: str
    """Class: the state in one word."""
    state: str
    source: str
    translation: str
    before: str
    """The source that the translation was made from, where it has changed since."""
    note: str
    faults: tuple[str, ...]
    place: str
    """File and line of the source."""


@dataclass(frozen=True, slots=True)
class OwnerView:
    """An exercise, a caution, the clinic: all its texts and who has read them."""

    anchor: str
    owner: str
    title: str
    review: str
    look: str
    """Class: open where something is to be done, else done."""
    work: str
    """What is to be done, in a few words."""
    href: str
    about: tuple[str, ...]
    """What all its texts belong to, and what the figure shows."""
    texts: tuple[TextView, ...]


@dataclass(frozen=True, slots=True)
class ReviewFrame:
    """What stands around each of the pages."""

    policy: str
    title: str
    clinic: str
    styles: tuple[str, ...]
    index: str
    source: str
    source_direction: str
    language: str
    direction: str
    language_name: str


@dataclass(frozen=True, slots=True)
class IndexPage:
    """Everything that has texts, what needs work first."""

    frame: ReviewFrame
    counts: str
    groups: tuple[tuple[str, tuple[OwnerView, ...]], ...]


@dataclass(frozen=True, slots=True)
class TextsPage:
    """The texts of one exercise with its figure, or of all that belongs to no exercise."""

    frame: ReviewFrame
    figure: Markup
    owners: tuple[OwnerView, ...]


def review_page(language: str, slug: str = "") -> str:
    """The path of the index of a language, of an exercise's page, or of the page ``other``."""
    if slug == OTHER:
        return f"{language}/review/{OTHER}/index.html"
    return f"{language}/review/exercises/{slug}/index.html" if slug else f"{language}/review/index.html"


OTHER = "other"
"""The page of what belongs to no exercise."""


@dataclass(frozen=True)
class Desk:
    """One language's pages in the making."""

    library: Library
    """In the language it is written in."""
    state: LanguageState
    draw: Draw
    policy: str
    styles: tuple[str, ...]
    """Paths of the style sheets."""

    def index(self) -> IndexPage:
        """The page that leads to all others."""
        page = review_page(self.state.language)
        of_exercise = {exercise_owner(each): each for each in self.library.exercises}
        exercises, others = list[OwnerView](), list[OwnerView]()
        for owner in self.state.owners.values():
            exercise = of_exercise.get(owner.owner)
            target = relative(page, review_page(self.state.language, exercise.slug if exercise else OTHER))
            href = target if exercise else f"{target}#{anchor_of(owner)}"
            (exercises if exercise else others).append(self._owner(owner, href, with_texts=False))
        owners = self.state.owners.values()
        texts = sum(len(owner.texts) for owner in owners)
        work = sum(text.state is not TextState.USABLE for owner in owners for text in owner.texts)
        reviewed = sum(owner.reviewed for owner in owners)
        counts = f"{texts} texts, {work} to be worked on. {reviewed} of {len(self.state.owners)} parts are reviewed as they stand."
        groups = tuple(
            (heading, tuple(sorted(found, key=lambda owner: owner.look == "done")))
            for heading, found in (("Exercises", exercises), ("All other texts", others))
        )
        return IndexPage(self._frame(page, "Translation"), counts, groups)

    def exercise(self, exercise: Exercise) -> TextsPage:
        """The page of an exercise."""
        page = review_page(self.state.language, exercise.slug)
        owner = self._owner(self.state.owners[exercise_owner(exercise)], "")
        title = plain_text(exercise.title.text)
        return TextsPage(self._frame(page, title), self.draw(exercise, self.library.language), (owner,))

    def other(self) -> TextsPage:
        """The page of everything else: cautions first, since they matter most."""
        known = {exercise_owner(each) for each in self.library.exercises}
        owners = [owner for name, owner in self.state.owners.items() if name not in known]
        owners.sort(key=lambda owner: not owner.owner.startswith("caution/"))
        page = review_page(self.state.language, OTHER)
        return TextsPage(self._frame(page, "All other texts"), Markup(""), tuple(self._owner(each, "") for each in owners))

    def _frame(self, page: str, title: str) -> ReviewFrame:
        source, wording = Wording(self.library.language), Wording(self.state.language)
        return ReviewFrame(
            policy=self.policy,
            title=title,
            clinic=self.library.clinic.name,
            styles=tuple(relative(page, style) for style in self.styles),
            index=relative(page, review_page(self.state.language)),
            source=source.language,
            source_direction=source.direction,
            language=wording.language,
            direction=wording.direction,
            language_name=wording.own_name,
        )

    def _owner(self, owner: OwnerState, href: str, *, with_texts: bool = True) -> OwnerView:
        work = count_work(owner)
        return OwnerView(
            anchor=anchor_of(owner),
            owner=owner.owner,
            title=self._titles.get(owner.owner, owner.texts[0].message.text),
            review=say_review(owner),
            look="open" if work or not owner.reviewed else "done",
            work=work,
            href=href,
            about=about_of(owner),
            texts=tuple(map(view_text, owner.texts)) if with_texts else (),
        )

    @property
    def _titles(self) -> Mapping[str, str]:
        titles = {exercise_owner(each): plain_text(each.title.text) for each in self.library.exercises}
        titles |= {f"programme/{each.code}": plain_text(each.title.text) for each in self.library.programmes}
        titles |= {standalone_owner(each): plain_text(each.title.text) for each in self.library.all_standalones}
        return titles | {"clinic": self.library.clinic.name}


def anchor_of(owner: OwnerState) -> str:
    """The id of an owner on its page."""
    return owner.owner.replace("/", "-")


def about_of(owner: OwnerState) -> tuple[str, ...]:
    """The lines of the translators' notes that all texts of an owner share: each note ends with a line of its own."""
    return max((tuple(text.message.note.splitlines()[:-1]) for text in owner.texts), key=len)


def count_work(owner: OwnerState) -> str:
    """How many texts are missing, stale and so on."""
    counts = [(state, len(owner.having(state))) for state in TextState if state is not TextState.USABLE]
    return ", ".join(f"{count} {state.value}" for state, count in counts if count)


def say_review(owner: OwnerState) -> str:
    """Who has read the texts as they stand."""
    if owner.review is None:
        return "not reviewed"
    told = f"by {owner.review.by} on {owner.review.on.isoformat()}"
    return f"reviewed {told}" if owner.reviewed else f"review reopened: last read {told}, changed since"


def view_text(text: TextReport) -> TextView:
    """A text with what was found on it."""
    entry, message = text.entry, text.message
    before = entry.previous if entry is not None and text.state is TextState.STALE else ""
    return TextView(
        name=message.context.rpartition("/")[2],
        look=text.state.value,
        state=STATES[text.state],
        source=message.text,
        translation=entry.text if entry is not None else "",
        before=before if before != message.text else "",
        note=message.note.rpartition("\n")[2],
        faults=tuple(show_problem(fault) for fault in text.faults),
        place=f"{message.place.file}:{message.place.line}",
    )
