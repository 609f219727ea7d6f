"""Which documents a library is printed as, and their HTML, each made when it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial

from handouts.bundle.catalogue import cue_mark, make_catalogue
from handouts.bundle.code import encode_bundle, group_code
from handouts.bundle.values import Origin, PickedBundle
from handouts.model import Bundle, Exercise, Library, Programme
from handouts.paper.articles import BACK, FITS, FRONT, ROW, STACKED, Article, ArticleStanding, Document
from handouts.paper.booklet import view_bundle, view_programme, view_tier
from handouts.paper.card import card_document
from handouts.paper.class_sheets import class_document
from handouts.paper.compact import RowView, picks_of, share_of_stops, view_compact
from handouts.paper.competence import competence_document, competence_path
from handouts.paper.context import PaperSetting, papers_of
from handouts.paper.figure_side import shape_of
from handouts.paper.frame import render_document, view_page, write_booklet, write_notes, write_sheet, write_ticks
from handouts.paper.geometry import (
    FIGURE_AIM,
    FIGURE_AIM_ALONE,
    FOLDED,
    LARGE,
    NOTE_LINES,
    ROW_FIGURE,
    ROW_SHARE,
    figure_share,
    ticks_height,
)
from handouts.paper.leaflet import leaflet_document
from handouts.paper.lesson import lesson_document
from handouts.paper.room import room_of
from handouts.paper.sheet import place_of_texts, view_exercise
from handouts.paper.views import BookletView, ExerciseView, PageView
from handouts.paper.wall import plan_wall, wall_paths
from handouts.problems import Place
from handouts.publication.steps import name_step_in
from handouts.site.paths import COMPETENCE, folded_path, full_name, item_page, list_page, pdf_path
from handouts.text.markup import plain_text

DocumentMakers = Mapping[str, partial[Document]]
"""By the path of each PDF what makes its document: a function of a module with its arguments."""


NO_CODES: Mapping[str, str] = {}


@dataclass(frozen=True, slots=True)
class Documents(Iterable[Document]):
    """The documents of a site by path, made when they are asked for and not kept; those of one page stand together."""

    makers: DocumentMakers = field(default_factory=dict)

    def __iter__(self) -> Iterator[Document]:
        return (self.makers[path]() for path in sorted(self.makers))

    def __len__(self) -> int:
        return len(self.makers)

    def get(self, path: str) -> Document | None:
        """The document of a PDF; None where there is none."""
        return self.makers[path]() if path in self.makers else None


def plan_paths(library: Library) -> tuple[str, ...]:
    """The path of every PDF of a library in its language, in the order of ``plan_documents``."""
    flat = tuple(
        pdf_path(item_page(library.language, kind, slug), name, paper, size)
        for paper in papers_of(library)
        for size in library.clinic.type_sizes
        for kind, slug, name, *_ in _kinds(library)
    )
    signed = tuple(
        pdf_path(list_page(library.language, COMPETENCE), COMPETENCE, paper, size)
        for paper in papers_of(library) if library.lessons
        for size in library.clinic.type_sizes
    )  # fmt: skip
    return flat + signed + wall_paths(library) + tuple(
        folded_path(item_page(library.language, "programmes", each.slug), each.slug, f"{paper}-folded") for paper, each in _folded(library)
    )


def _folded(library: Library) -> Iterator[tuple[str, Programme]]:
    """The programmes whose booklets are there to be folded, on each paper."""
    for paper in papers_of(library) if library.clinic.folded_booklets else ():
        for programme in library.programmes:
            yield paper, programme


def _kinds(library: Library, codes: Mapping[str, str] = NO_CODES) -> Iterator[tuple[str, str, str, Callable[..., Document], tuple[object, ...]]]:
    """Kind and slug of the page, and name, of every document, and what makes it from a setting, the item, and what else."""
    for exercise in library.exercises:
        yield "exercises", exercise.slug, exercise.slug, sheet_document, ()
    for programme in library.programmes:
        yield "programmes", programme.slug, programme.slug, programme_document, ()
        for rank, tier in enumerate(programme.tiers):
            if tier.exercises:
                yield "programmes", programme.slug, f"{programme.slug}-{tier.tier.slug}", tier_document, (rank,)
    for bundle in library.bundles:
        yield "bundles", bundle.slug, bundle.slug, compact_document, ((), codes.get(bundle.slug, ""))
        if len(bundle.picks) > 1:
            yield "bundles", bundle.slug, full_name(bundle.slug), bundle_document, ((), codes.get(bundle.slug, ""))
    for test in library.tests:
        yield "tests", test.slug, test.slug, card_document, ()
    for leaflet in library.leaflets:
        yield "leaflets", leaflet.slug, leaflet.slug, leaflet_document, ()
    for lesson in library.lessons:
        yield "lessons", lesson.slug, lesson.slug, lesson_document, ()
    for plan in library.classes:
        yield "classes", plan.slug, plan.slug, class_document, ()


def plan_documents(setting: PaperSetting) -> DocumentMakers:
    """Every document of a setting's library in its language, on each paper and size: whatever has a page of its own, and each step."""
    codes = ready_codes(setting.library)
    flat = {
        _path(setting.on(paper, size), kind, slug, name): partial(document_on, setting, paper, size, kind, slug, make, *more)
        for paper in papers_of(setting.library)
        for size in setting.library.clinic.type_sizes
        for kind, slug, name, make, more in _kinds(setting.library, codes)
    }
    halves = ((setting.on(paper, LARGE).folded(), each.slug) for paper, each in _folded(setting.library))
    folded = {
        _path(half, "programmes", slug, slug): partial(document_on, setting, half.paper, half.size, "programmes", slug, programme_document)
        for half, slug in halves
    }
    signed = {
        competence_path(setting.on(paper, size)): partial(competence_document, setting, paper, size)
        for paper in papers_of(setting.library) if setting.library.lessons
        for size in setting.library.clinic.type_sizes
    }  # fmt: skip
    return {**flat, **signed, **plan_wall(setting), **folded}


def document_on(setting: PaperSetting, paper: str, size: str, kind: str, slug: str, make: Callable[..., Document], *more: object) -> Document:
    """A document of ``exercises/SLUG`` and the like on a paper in a type size."""
    library = setting.library
    items: Mapping[str, Mapping[str, object]] = {
        "exercises": library.exercise, "programmes": library.programme, "bundles": library.bundle,
        "tests": library.test, "leaflets": library.leaflet, "lessons": library.lesson, "classes": library.class_plan,
    }  # fmt: skip
    return make(setting.on(paper, size), items[kind][slug], *more)


def sheet_document(setting: PaperSetting, exercise: Exercise) -> Document:
    """The sheet of one exercise: one page, in large type two."""
    item = f"exercises/{exercise.slug}"
    page = view_page(setting, title=plain_text(exercise.title.text), code=exercise.code, item=item, rules=setting.size == LARGE)
    view = view_exercise(setting, exercise)
    return Document(
        _path(setting, "exercises", exercise.slug, exercise.slug), write_sheet(page, view), setting.paper, setting.size, page.area,
        (_article(setting, view),), exercise.place, (ArticleStanding(pen=True, strip=write_ticks(view)),),
    )


def programme_document(setting: PaperSetting, programme: Programme) -> Document:
    """The booklet of a programme."""
    item = f"programmes/{programme.slug}"
    page = view_page(setting, title=plain_text(programme.title.text), code=programme.code, item=item, rules=True, booklet=True)
    path = _path(setting, "programmes", programme.slug, programme.slug)
    return _booklet(setting, path, page, view_programme(setting, programme), programme.place)


def tier_document(setting: PaperSetting, programme: Programme, rank: int) -> Document:
    """The booklet of one step of a programme, counted from 0."""
    slug, title = programme.tiers[rank].tier.slug, plain_text(programme.title.text)
    title = name_step_in(setting.wording, setting.library, programme, rank, title)
    page = view_page(setting, title=title, code=programme.code, item=f"programmes/{programme.slug}", rules=True, booklet=True)
    path = _path(setting, "programmes", programme.slug, f"{programme.slug}-{slug}")
    return _booklet(setting, path, page, view_tier(setting, programme, rank), programme.place)


def bundle_document(
    setting: PaperSetting, bundle: Bundle, address: tuple[str, ...] = (), code: str = "", *, lost: str = ""
) -> Document:
    """The booklet of a bundle; ``address`` is what the QR code of a picked one opens; without it, the bundle's own page.

    ``code`` is its bundle code, empty where it has none; ``lost`` what is not there of what it was begun from.
    """
    item = "" if address else f"bundles/{bundle.slug}"
    page = view_page(setting, title=plain_text(bundle.title.text), code="", item=item, rules=True, booklet=True)
    opened = address or (setting.address(setting.page("bundles", bundle.slug)),)
    path = _path(setting, "bundles", bundle.slug, full_name(bundle.slug) if len(bundle.picks) > 1 else bundle.slug)
    view = view_bundle(setting, bundle, opened, code, lost)
    return _booklet(setting, path, page, view, bundle.place)


def compact_document(
    setting: PaperSetting, bundle: Bundle, address: tuple[str, ...] = (), code: str = "", *, lost: str = ""
) -> Document:
    """A bundle with several exercises on a page; otherwise as ``bundle_document``, to which a bundle of one exercise is left."""
    picks = picks_of(setting, bundle)
    if len(picks) < 2:
        return bundle_document(setting, bundle, address, code, lost=lost)
    page = view_page(setting, title=plain_text(bundle.title.text), code="", item="" if address else f"bundles/{bundle.slug}", rules=True)
    opened = address or (setting.address(setting.page("bundles", bundle.slug)),)
    view = view_compact(setting, bundle, picks, opened, group_code(code), lost)
    front = Article("cover", FRONT, 0, bundle.place, fit=FITS.index(STACKED), share=share_of_stops(view))
    articles = (front, *(_row(setting, row) for row in view.rows))
    standing = (ArticleStanding(pen=True), *(ArticleStanding(1) for _ in view.rows))
    path = _path(setting, "bundles", bundle.slug, bundle.slug)
    html = render_document("compact.html", page=page, compact=view)
    return Document(path, html, setting.paper, setting.size, page.area, articles, bundle.place, standing)


def _row(setting: PaperSetting, row: RowView) -> Article:
    slug, shape = row.exercise.anchor, shape_of(row.exercise.figure)
    place, translated = place_of_texts(setting.library.exercise[slug])
    low, high = ROW_SHARE
    share = min(high, figure_share(shape, room_of(setting)[0], ROW_FIGURE))
    name, fit = str(row.exercise.title.striptags()), FITS.index(STACKED)
    return Article(row.anchor, ROW, 1, place, name, translated, fit, max(low, share), shape)


def ready_codes(library: Library) -> dict[str, str]:
    """The codes of the ready-made bundles in a library's language, for the clinic's first location, of those that have one."""
    catalogue, place = make_catalogue(library) if library.bundles else None, library.clinic.locations[0].slug
    picked = {each.slug: PickedBundle(library.language, place, each.weeks, each.picks, Origin("bundle", each.slug), cue_mark(each.cue))
              for each in library.bundles}
    codes = {slug: encode_bundle(bundle, catalogue) for slug, bundle in picked.items()} if catalogue else {}
    return {slug: code for slug, code in codes.items() if isinstance(code, str)}


def _booklet(setting: PaperSetting, path: str, page: PageView, view: BookletView, place: Place) -> Document:
    """A booklet: exercises keep to their pages, the first of a step below that step's name; a cover with the stair to one, others in standard."""
    one = 0 if setting.size == LARGE else 1
    pages = {"contents": one, "rules": 1 if view.rules_apart else one, **({"before": one} if view.rules_apart else {})} if view.stair else {}
    openings = (
        Article("cover", "cover", 1 if view.stair else one, place),
        *(Article(anchor, "opening", count, place) for anchor, count in pages.items()),
    )
    groups = (
        article
        for group in view.groups
        for article in (
            *((Article(group.anchor, "opening", 1, place),) if group.opening else ()),
            *(
                replace(
                    _article(setting, exercise, FIGURE_AIM_ALONE),
                    free=0.0, said=True, halves=setting.paper in FOLDED, shares=group.opening and not number,
                )
                for number, exercise in enumerate(group.exercises)
            ),
        )
    )
    last = (Article("weeks", BACK, 1, place),) if view.weeks else ()
    articles = (*openings, *groups, *last)
    bound = ("right" if page.direction == "rtl" else "left") if setting.paper in FOLDED else ""
    empty = write_notes(setting.wording.say("paper.notes"), NOTE_LINES) if bound else ""
    down = {exercise.anchor: 2 if group.opening else 1 for group in view.groups for exercise in group.exercises}
    standing = tuple(ArticleStanding(down.get(each.anchor, 0), pen=each.anchor == "cover") for each in articles)
    return Document(path, write_booklet(page, view), setting.paper, setting.size, page.area, articles, place, standing, empty, bound)


def _article(setting: PaperSetting, view: ExerciseView, aim: float = FIGURE_AIM) -> Article:
    exercise, shape = setting.library.exercise[view.anchor], shape_of(view.figure)
    place, translated = place_of_texts(exercise)
    return Article(
        view.anchor,
        "exercise",
        2 if view.two_pages else 1,
        place,
        str(view.title.striptags()),
        translated,
        FITS.index(view.fit),
        figure_share(shape, room_of(setting)[0], aim),
        shape,
        free=ticks_height(setting.size, sum(len(table.rows) for table in view.ticks)),
    )


def _path(setting: PaperSetting, kind: str, slug: str, name: str) -> str:
    if setting.paper in FOLDED:
        return folded_path(setting.page(kind, slug), name, setting.paper)
    return pdf_path(setting.page(kind, slug), name, setting.paper, setting.size)
