"""The views of about, safety, not found, and the choice of language."""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from handouts.publication.reviews import say_reviewer
from handouts.publication.rich_text import begin, rich
from handouts.publication.steps import find_steps
from handouts.site.context import LanguageSite
from handouts.site.page_frame import POLICY, LanguageLink, PageFrame, make_frame, site_path
from handouts.site.parts import Cautions, make_cautions
from handouts.site.paths import CHOICE, NOT_FOUND, home_page, list_page, relative


@dataclass(frozen=True, slots=True)
class StepMeaning:
    """A tier and what it means."""

    name: str
    means: Markup


@dataclass(frozen=True, slots=True)
class AboutPage:
    """Who publishes this, how it is kept up, what it does with data."""

    frame: PageFrame
    title: str
    about: Markup
    steps: tuple[StepMeaning, ...]
    reviewed: str
    reviewers: tuple[str, ...]
    languages: str


@dataclass(frozen=True, slots=True)
class SafetyPage:
    """Every stop rule, whom to call, the pain rule, what comes before this site."""

    frame: PageFrame
    title: str
    cautions: Cautions


@dataclass(frozen=True, slots=True)
class NotFoundPage:
    """Shown by the host at any address, so its links begin at the root of the host."""

    frame: PageFrame
    home: str
    exercises: str


@dataclass(frozen=True, slots=True)
class Said:
    """A text and the language that it is in."""

    language: str
    text: str


@dataclass(frozen=True, slots=True)
class ChoicePage:
    """The root of the site: one plain link for each language."""

    policy: str
    language: str
    direction: str
    clinic: str
    style: str
    icon: str
    languages: tuple[LanguageLink, ...]
    marks: tuple[Said, ...]


def make_about_page(setting: LanguageSite) -> AboutPage:
    """The view of the page about the clinic and the library."""
    library, wording, page = setting.library, setting.wording, list_page(setting.language, "about")
    title = wording.say("site.about_title")
    reviews = [each.review for each in library.exercises] + [each.review for each in library.programmes]
    days = [review.on for review in reviews]
    return AboutPage(
        frame=make_frame(setting, page, title, library.clinic.about.text, dated=True),
        title=title,
        about=rich(library.clinic.about),
        steps=tuple(
            StepMeaning(name, rich(library.tier[tier].means)) for _, tier, name in find_steps(setting.wording, library)
        ),
        reviewed=_reviewed(setting, wording.date(min(days)), wording.date(max(days))),
        reviewers=tuple(begin(role) for role in sorted({say_reviewer(wording, review) for review in reviews})),
        languages=wording.say("site.in_languages", languages=wording.join(tuple(setting.names.values()))),
    )


def _reviewed(setting: LanguageSite, first: str, last: str) -> str:
    """Between which days everything was reviewed, and whether another clinic did so too."""
    others = sorted({each.review.of for each in setting.library.exercises if each.review.of})
    if not others:
        return setting.wording.say("site.reviewed_between", first=first, last=last)
    return setting.wording.say("site.reviewed_in_base", base=setting.wording.join(tuple(others)), first=first, last=last)


def make_safety_page(setting: LanguageSite) -> SafetyPage:
    """The view of the safety page."""
    page, title = list_page(setting.language, "safety"), setting.wording.say("site.safety_title")
    return SafetyPage(
        frame=make_frame(setting, page, title, setting.wording.say("site.safety_lead"), stop="#stop"),
        title=title,
        cautions=make_cautions(setting, setting.library.cautions),
    )


def make_not_found_page(setting: LanguageSite) -> NotFoundPage:
    """The view of the page for a wrong address; it is shown at any depth, so nothing in it is relative."""
    root = site_path(setting.library.clinic)
    say, scripts = setting.wording.say, (setting.assets.scripts["not_found"],)
    frame = make_frame(setting, NOT_FOUND, say("site.not_found"), say("site.not_found_text"), scripts=scripts, strip=False)
    return NotFoundPage(
        frame=_from_root(frame, root),
        home=root + home_page(setting.language),
        exercises=root + list_page(setting.language, "exercises"),
    )


def _from_root(frame: PageFrame, root: str) -> PageFrame:
    """A frame whose relative addresses begin at the root of the host."""

    def rooted(href: str) -> str:
        return href if href.startswith(("#", "tel:")) else root + href

    safety = frame.safety
    return replace(
        frame,
        style=rooted(frame.style),
        icon=rooted(frame.icon),
        scripts=tuple(map(rooted, frame.scripts)),
        choice=rooted(frame.choice),
        home=rooted(frame.home),
        alternates=(),
        navigation=tuple(replace(link, href=rooted(link.href)) for link in frame.navigation),
        more=tuple(replace(link, href=rooted(link.href)) for link in frame.more),
        mine=tuple(replace(link, href=rooted(link.href)) for link in frame.mine),
        languages=tuple(replace(link, href=rooted(link.href)) for link in frame.languages),
        safety=replace(safety, stop=replace(safety.stop, href=rooted(safety.stop.href))),
    )


def make_choice_page(settings: tuple[LanguageSite, ...]) -> ChoicePage:
    """The view of the root page; its words are the languages' own names and the clinic's."""
    first = settings[0]
    return ChoicePage(
        policy=POLICY,
        language=first.language,
        direction=first.wording.direction,
        clinic=first.library.clinic.name,
        style=relative(CHOICE, first.assets.style),
        icon=relative(CHOICE, first.assets.icon),
        languages=tuple(
            LanguageLink(each.language, relative(CHOICE, home_page(each.language)), each.wording.own_name)
            for each in settings
        ),
        marks=tuple(
            Said(each.language, each.wording.say("site.mark_invented"))
            for each in settings
            if each.library.clinic.invented
        ),
    )
