"""Two languages beside one another: the patient's, and the one that the library is written in.

Paragraph by paragraph, so that the clinician sees what the patient reads.  Both halves come from the same
views as the sheets in one language; nothing is worded here.  The language with more letters has the wider half.
What does not keep to its pages gives way by ``pairs.py``.  Never given up: the size of letters, the boxes to tick.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from types import MappingProxyType

from markupsafe import Markup

from handouts.dose.substitutes import picked_exercise
from handouts.model import Dose, Exercise, Library, Ref
from handouts.model import Pick as BundlePick
from handouts.paper.articles import FITS, STACKED, Article, ArticleStanding, Document
from handouts.paper.context import PaperSetting
from handouts.paper.frame import render_document, view_page
from handouts.paper.sheet import place_of_texts, said_at, stand_alone, view_exercise
from handouts.paper.text_width import text_width
from handouts.paper.views import CodeView, ExerciseView, TicksView
from handouts.publication.steps import Neighbours
from handouts.publication.views import view_sections
from handouts.site.paths import beside_path, item_page
from handouts.text.markup import plain_text

PAGES = 2
"""Pages that an exercise in two languages keeps to, but for its cautions."""
NARROWEST, WIDEST = 45, 55
"""Hundredths of the width that the first half has, at least and at most."""
Pick = tuple[Exercise, Dose]


@dataclass(frozen=True, slots=True)
class HalfView:
    """One language's half: BCP 47 tag, ``ltr`` or ``rtl``, and its name in itself."""

    language: str
    direction: str
    name: str


@dataclass(frozen=True, slots=True)
class ParallelView:
    """A paragraph in both languages; ``kind`` is name, dose, heading, headed, step or text."""

    kind: str
    number: str
    """Of a step."""
    first: Markup
    second: Markup
    first_heading: Markup | str = ""
    second_heading: Markup | str = ""
    """Headings that this one paragraph has to itself."""


@dataclass(frozen=True, slots=True)
class BesideExerciseView:
    """An exercise in both languages: above the figure, below it, and its ruled block."""

    anchor: str
    share: str
    """Hundredths of the width that the first half has."""
    fit: str
    above: tuple[ParallelView, ...]
    figure: Markup
    below: tuple[ParallelView, ...]
    safety: tuple[ParallelView, ...]
    small: tuple[ParallelView, ...]
    ticks: tuple[TicksView, ...]
    code: CodeView


@dataclass(frozen=True, slots=True)
class BesideView:
    """A document in two languages."""

    first: HalfView
    second: HalfView
    shares: tuple[str, ...]
    """Those that its exercises have."""
    exercises: tuple[BesideExerciseView, ...]


def beside_paths(library: Library, source: str) -> tuple[str, ...]:
    """The paths of a language's sheets that have ``source`` beside it: the first paper and size only."""
    paper, size = library.clinic.papers[0], library.clinic.type_sizes[0]
    return tuple(
        beside_path(item_page(library.language, "exercises", exercise.slug), exercise.slug, paper, size, source)
        for exercise in library.exercises
    )


def plan_beside(own: PaperSetting, source: PaperSetting) -> dict[str, partial[Document]]:
    """A sheet in two languages for every exercise of ``own``, by its path in the order of ``beside_paths``, made when it is asked for."""
    return {_path(own, source, exercise): partial(beside_on, own, source, exercise.slug) for exercise in own.library.exercises}


def beside_on(own: PaperSetting, source: PaperSetting, slug: str) -> Document:
    """The sheet of an exercise by its slug."""
    return beside_sheet(own, source, own.library.exercise[slug])


def _path(own: PaperSetting, source: PaperSetting, exercise: Exercise) -> str:
    return beside_path(own.page("exercises", exercise.slug), exercise.slug, own.paper, own.size, source.language)


def beside_sheet(own: PaperSetting, source: PaperSetting, exercise: Exercise) -> Document:
    """The sheet of one exercise; ``own`` is the patient's language, ``source`` the clinic's, on the same paper."""
    path = _path(own, source, exercise)
    title = plain_text(exercise.title.text)
    picks = ((exercise, exercise.dose),)
    return beside_document(own, source, picks, path, title, code=exercise.code, item=f"exercises/{exercise.slug}")


def beside_document(
    own: PaperSetting,
    source: PaperSetting,
    picks: Sequence[Pick],
    path: str,
    title: str,
    *,
    code: str = "",
    item: str = "",
    cautions: tuple[Ref, ...] = (),
    lost: str = "",
    given: Mapping[str, BundlePick] = MappingProxyType({}),
) -> Document:
    """Exercises in two languages, each on pages of its own; ``code`` and ``item`` as ``view_page`` takes them.

    ``cautions`` of the whole bundle stand with each exercise, and what is ``lost`` of its origin: there is no cover.
    ``given`` by slug, where they are picks of a bundle: how each dose goes on, and what is taken in place of things.
    """
    page = view_page(own, title=title, code=code, item=item, rules=True)
    if source.library.face:
        page = replace(page, fonts=page.fonts + Markup(source.library.face.sheet_style))
    exercises = tuple(_view_exercise(own, source, *pick, cautions, lost, given.get(pick[0].slug)) for pick in picks)
    shares = tuple(sorted({each.share for each in exercises}))
    view = BesideView(_half(own), _half(source), shares, exercises)
    articles = []
    for each, (exercise, _) in zip(exercises, picks, strict=True):
        place, translated = place_of_texts(exercise)
        name = plain_text(exercise.title.text)
        articles.append(Article(each.anchor, f"beside share-{each.share}", PAGES, place, name, translated, FITS.index(STACKED), apart=True))
    html = render_document("beside.html", page=page, view=view)
    standing = (ArticleStanding(pen=True),) * len(articles)
    return Document(path, html, own.paper, own.size, page.area, tuple(articles), picks[0][0].place, standing)


def _half(setting: PaperSetting) -> HalfView:
    return HalfView(setting.language, setting.wording.direction, setting.wording.own_name)


def _view_exercise(
    own: PaperSetting, source: PaperSetting, exercise: Exercise, dose: Dose, cautions: tuple[Ref, ...], lost: str, given: BundlePick | None
) -> BesideExerciseView:
    now = source.library.exercise[exercise.slug]
    other = exercise.older.source or now if exercise.older else now
    shown = tuple(source.library.exercise[slug] for slug in source.progression.opens[exercise.slug] if slug in own.library.exercise)
    stages, kind = (given.stages, given.part) if given else ((), None)
    said, said_beside = (said_at(each, exercise, given) if given else () for each in (own, source))
    other = picked_exercise(other, given, source.library) if given else other
    beside = replace(  # the same label in both languages
        stand_alone(source, other), around=Neighbours(shown), cautions=cautions, stages=stages, kind=kind, said=said_beside
    )
    mine = replace(stand_alone(own, exercise), cautions=cautions, stages=stages, kind=kind, said=said)
    first = view_exercise(own, exercise, dose, part=mine, joined=False)  # row beside row, in whatever words each language has
    second = view_exercise(source, other, dose, part=beside, joined=False)
    above = (
        ParallelView("name", "", first.title, second.title),
        *([_text(*(_strong(each.wording.say(f"steps.lost_{lost}")) for each in (own, source)))] if lost else []),
        _text(_join(first.older, first.why, first.needs, first.code.line), _join(second.older, second.why, second.needs, second.code.line)),
        ParallelView("dose", "", _dose(first), _dose(second)),
        _text(_join(*first.under_dose), _join(*second.under_dose)),
        *([_text(first.stages_label, second.stages_label)] if stages else []),
        *(_text(_ticked(one), _ticked(other)) for one, other in zip(first.stages, second.stages, strict=True)),
    )
    below = (
        *(_text(own, other) for own, other in zip(first.figure_note, second.figure_note, strict=True)),
        *_sections(exercise, other),
        *_below(first, second),
    )
    safety = tuple(_safety(first, second))
    return BesideExerciseView(
        anchor=first.anchor,
        share=_share((*above, *below, *safety)),
        fit=STACKED,
        above=above,
        figure=first.figure,
        below=below,
        safety=safety,
        small=(_text(_join(*first.safety.defer, first.review), _join(*second.safety.defer, second.review)),),
        ticks=first.ticks,
        code=first.code,
    )


def _text(first: Markup | str, second: Markup | str) -> ParallelView:
    return ParallelView("text", "", Markup.escape(first), Markup.escape(second))


def _heading(first: Markup | str, second: Markup | str) -> ParallelView:
    return ParallelView("heading", "", Markup.escape(first), Markup.escape(second))


def _headed(heading: Markup | str, beside: Markup | str, text: ParallelView) -> ParallelView:
    """A paragraph that has a heading to itself."""
    return replace(text, kind="headed", first_heading=Markup.escape(heading), second_heading=Markup.escape(beside))


def _share(rows: Sequence[ParallelView]) -> str:
    """Hundredths of the width for the first half: half of what its letters would have, since many lines end early."""
    first, second = sum(text_width(row.first) for row in rows), sum(text_width(row.second) for row in rows)
    return str(min(WIDEST, max(NARROWEST, round(25 + 50 * first / (first + second)))))


def _ticked(line: str) -> Markup:
    return Markup('<span class="box"></span> {}').format(line)


def _strong(text: str) -> Markup:
    return Markup("<strong>{}</strong>").format(text)


def _join(*parts: Markup | str) -> Markup:
    return Markup(" ").join(part for part in parts if part)


def _dose(view: ExerciseView) -> Markup:
    """The numerals with their words; each stays on one line."""
    return Markup(" ").join(
        Markup('<span class="fact"><b>{}</b> {}</span>').format(fact.numeral, fact.word) for fact in view.facts
    )


def _sections(first: Exercise, second: Exercise) -> Iterable[ParallelView]:
    """The prose of the exercise; a translation has its blocks and items in the same order."""
    for one, other in zip(view_sections(first.sections), view_sections(second.sections), strict=True):
        pairs = [
            ParallelView("step", str(number), *pair) if block.kind == "steps" else _text(*pair)
            for block, beside in zip(one.blocks, other.blocks, strict=True)
            for number, pair in enumerate(zip(block.items, beside.items, strict=True), 1)
        ]
        if len(pairs) == 1 and pairs[0].kind == "text":
            yield _headed(one.heading, other.heading, pairs[0])
        else:
            yield _heading(one.heading, other.heading)
            yield from pairs


def _below(first: ExerciseView, second: ExerciseView) -> Iterable[ParallelView]:
    """Cues, feel, mistakes, and when to go on."""
    yield _heading(first.labels.cues, second.labels.cues)
    for cue, other in zip(first.cues, second.cues, strict=True):
        yield _text(cue, other)
    yield _headed(first.labels.feel, second.labels.feel, _text(first.feel, second.feel))
    yield _heading(first.labels.mistakes, second.labels.mistakes)
    for one, beside in zip(first.mistakes, second.mistakes, strict=True):
        yield _text(_seen(one.see, one.do), _seen(beside.see, beside.do))
    if first.ready:
        yield _headed(first.labels.ready, second.labels.ready, _text(first.ready, second.ready))
    beside_of = {way.way: way for way in second.ways}
    for way in first.ways:
        found = beside_of.get(way.way)  # an easier exercise may not be published in the other language
        yield _headed(way.heading, found.heading if found else "", _text(way.text, found.text if found else ""))


def _seen(see: Markup, do: Markup) -> Markup:
    # without its span the writer ends some lines after their first word, where the bold words do not fit beside the others
    return Markup("<strong>{}</strong> <span>{}</span>").format(see, do)


def _safety(first: ExerciseView, second: ExerciseView) -> Iterable[ParallelView]:
    """The ruled block: the gravest first, whom to call under the first heading."""
    for group, beside in zip(first.safety.groups, second.safety.groups, strict=True):
        rows = [_text(_seen(row.see, row.do), _seen(other.see, other.do)) for row, other in zip(group.rows, beside.rows, strict=True)]
        if group.calls:
            yield _heading(group.heading, beside.heading)
            yield _text(_calls(group.calls), _calls(beside.calls))
        else:
            rows[:1] = [_headed(group.heading, beside.heading, rows[0])]
        yield from rows
    yield _headed(first.safety.pain_heading, second.safety.pain_heading, _text(first.safety.pain, second.safety.pain))


def _calls(lines: Sequence[str]) -> Markup:
    return Markup(" ").join(Markup('<span class="fact">{}</span>').format(line) for line in lines)
