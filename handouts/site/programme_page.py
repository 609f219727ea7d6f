"""The view of a programme's page: its goal, its tiers as a ladder, its cautions, its prints."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import Programme
from handouts.publication.rich_text import rich
from handouts.publication.steps import name_step
from handouts.publication.views import ConditionView, SectionView, view_conditions, view_sections
from handouts.site.context import LanguageSite
from handouts.site.ladder import Ladder, LadderLine, LadderRow, lay_out_ladder
from handouts.site.page_frame import Link, PageFrame, make_frame
from handouts.site.parts import (
    Cautions,
    ExerciseRow,
    HintsView,
    Prints,
    make_cautions,
    make_pick,
    make_prints,
    make_row,
    make_wall_prints,
    review_line,
    view_hints,
)
from handouts.site.paths import item_page, relative
from handouts.site.structured import programme_data

VIEW_WIDTH, VIEW_HEIGHT = 1000, 100
"""The drawing of the lines between two rows; stretched to the row's width."""
CROWDED = 3
"""More exercises than this in a row do not fit side by side on a phone."""


@dataclass(frozen=True, slots=True)
class LadderCell:
    """An exercise on the ladder; ``row`` is empty where only a line passes."""

    row: tuple[ExerciseRow, ...]
    builds_on: str


@dataclass(frozen=True, slots=True)
class LadderRowView:
    """Exercises side by side; ``lines`` come down to them, ``stems`` leave them."""

    cells: tuple[LadderCell, ...]
    lines: tuple[str, ...]
    """Path data of each line."""
    stems: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepView:
    """A tier of the programme as a step of the ladder."""

    anchor: str
    name: str
    """Its number and name."""
    means: Markup
    conditions: tuple[ConditionView, ...]
    rows: tuple[LadderRowView, ...]
    prints: tuple[Prints, ...]
    pick: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class ProgrammePage:
    """Everything on a programme's page."""

    frame: PageFrame
    title: Markup
    goal: Markup
    suits: Markup
    weeks: str
    hints: tuple[HintsView, ...]
    steps: tuple[StepView, ...]
    crowded: str
    missing: str
    sections: tuple[SectionView, ...]
    cautions: Cautions
    prints: tuple[Prints, ...]
    wall_prints: tuple[Prints, ...]
    """Poster and pocket cards."""
    then: tuple[Link, ...]
    """Advice sheets that are handed out at its end."""
    review: str
    code: str
    sources: tuple[str, ...]
    sources_language: str


def make_programme_page(setting: LanguageSite, slug: str) -> ProgrammePage:
    """The view of a programme."""
    library, wording = setting.library, setting.wording
    programme = library.programme[slug]
    page = item_page(setting.language, "programmes", programme.slug)
    ladder = lay_out_ladder(programme, setting.progression)
    widest = max((sum(1 for slot in row.slots if slot.slug) for rows in ladder.tiers for row in rows), default=0)
    return ProgrammePage(
        frame=make_frame(
            setting,
            page,
            programme.title.text,
            programme.goal.text,
            item=f"programmes/{programme.slug}",
            stop="#stop",
            data=programme_data(setting, programme),
        ),
        title=rich(programme.title),
        goal=rich(programme.goal),
        suits=rich(programme.suits),
        weeks=wording.count("site.weeks", programme.weeks),
        hints=view_hints(setting, programme),
        steps=tuple(_step(setting, page, programme, ladder, at) for at in range(len(programme.tiers))),
        crowded="crowded" if widest > CROWDED else "",
        missing=setting.missing_line(f"programmes/{programme.slug}"),
        sections=view_sections(programme.sections),
        cautions=make_cautions(setting, (library.caution[ref.slug] for ref in programme.cautions)),
        prints=make_prints(setting, page, programme.slug, wording.say("site.print_booklet")),
        wall_prints=(
            *make_wall_prints(setting, page, f"{programme.slug}-poster", wording.say("site.print_poster")),
            *make_wall_prints(setting, page, f"{programme.slug}-pocket", wording.say("site.print_pocket")),
        ),
        then=tuple(
            Link(relative(page, item_page(setting.language, "leaflets", each.slug)), each.title.text)
            for each in library.leaflets
            if each.programme and each.programme.slug == slug
        ),
        review=review_line(setting, programme.review, f"programmes/{programme.slug}"),
        code=wording.say("site.code", code=programme.code),
        sources=programme.sources,
        sources_language=setting.source.language,
    )


def _step(setting: LanguageSite, page: str, programme: Programme, ladder: Ladder, at: int) -> StepView:
    tier = programme.tiers[at]
    known = setting.library.exercise
    codes = [known[ref.slug].code for ref in tier.exercises if ref.slug in known]
    named = setting.library.tier[tier.tier.slug]
    rows = [row for tier_rows in ladder.tiers for row in tier_rows]
    first = sum(len(tier_rows) for tier_rows in ladder.tiers[:at])
    views = tuple(
        _row(setting, page, ladder, row, rows[first + place + 1] if first + place + 1 < len(rows) else None)
        for place, row in enumerate(ladder.tiers[at])
    )
    return StepView(
        anchor=f"tier-{tier.tier.slug}",
        name=name_step(setting.wording, setting.library, programme, at),
        means=rich(named.means),
        conditions=view_conditions(setting.wording, programme, at),
        rows=views,
        prints=make_prints(
            setting,
            page,
            f"{programme.slug}-{tier.tier.slug}",
            setting.wording.say("site.print_step", n=setting.wording.number(at + 1), tier=named.name.text),
        )
        if tier.exercises
        else (),
        pick=make_pick(setting, page, "start=" + ",".join(codes), setting.wording.say("site.pick_all")) if codes else (),
    )


def _row(setting: LanguageSite, page: str, ladder: Ladder, row: LadderRow, following: LadderRow | None) -> LadderRowView:
    library, wording = setting.library, setting.wording
    cells = []
    for slot in row.slots:
        before = [library.exercise[slug].title.text for slug in ladder.builds_on.get(slot.slug, ())]
        cells.append(
            LadderCell(
                row=(make_row(setting, page, library.exercise[slot.slug]),) if slot.slug else (),
                builds_on=wording.say("site.builds_on", exercises=wording.join(before)) if before else "",
            )
        )
    mirrored = wording.direction == "rtl"
    begins = sorted({line.begins for line in following.lines}) if following else []
    return LadderRowView(
        cells=tuple(cells),
        lines=tuple(_path(line, mirrored) for line in row.lines),
        stems=tuple(_path(LadderLine(begin, begin), mirrored) for begin in begins),
    )


def _path(line: LadderLine, mirrored: bool) -> str:
    """Path data of a line from the top to the bottom of its drawing; mirrored where one reads from the right."""
    start, end = ((1 - share if mirrored else share) * VIEW_WIDTH for share in (line.begins, line.ends))
    if line.begins == line.ends:
        return f"M{start:g} 0V{VIEW_HEIGHT}"
    half = VIEW_HEIGHT / 2
    return f"M{start:.4g} 0C{start:.4g} {half:g} {end:.4g} {half:g} {end:.4g} {VIEW_HEIGHT}"
