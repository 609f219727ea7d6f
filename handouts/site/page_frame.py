"""What stands around every page: head, navigation, language switch, marks, and safety, always in view."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from urllib.parse import urlsplit

from markupsafe import Markup

from handouts.model import Clinic
from handouts.rules.lapsed import last_day
from handouts.site.context import LanguageSite
from handouts.site.old_sheets import OldSheet, old_sheets_of, overdue_line
from handouts.site.paths import CHOICE, home_page, list_page, relative
from handouts.text.markup import plain_text, render_inline

POLICY = "; ".join((
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "font-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "require-trusted-types-for 'script'",
    "trusted-types 'none'",
))  # fmt: skip
"""The Content-Security-Policy of every page, as a ``meta`` element so that it holds on any host and from
``file://``.  ``frame-ancestors`` works only as a header; a host that can should send it too."""
WORKER_POLICY = POLICY.replace("trusted-types 'none'", "trusted-types handouts")
"""Of pages that may name two kinds of scripts by themselves: their worker, and scripts of their own build."""


_ENTRY_NAMES = {"new": "upkeep.new_title", "desk": "upkeep.desk_link", "my": "phone.title"}
"""Phrases of entries that are not called ``site.nav_KIND``."""
NO_DATA = Markup()
UNFOLDED = 2
"""Most other languages that stand side by side in the head of a page."""


@dataclass(frozen=True, slots=True)
class Link:
    """A link with its words."""

    href: str
    text: str


@dataclass(frozen=True, slots=True)
class LanguageLink:
    """A page in one language."""

    language: str
    href: str
    text: str


_MORE_OWN = ("exercises", "safety", "about")
_MORE = ("leaflets", "tests", "lessons", "classes", "safety", "about", "new", "desk")
"""Links at the foot: of the patient's own page, of all others."""


@dataclass(frozen=True, slots=True)
class NavLink:
    """One entry of the navigation."""

    href: str
    text: str
    current: bool


@dataclass(frozen=True, slots=True)
class Address:
    """A location of the clinic."""

    name: str
    address: str
    phone: str
    call: str
    hours: str


@dataclass(frozen=True, slots=True)
class FlareView:
    """What to do when it gets worse."""

    when: Markup
    do: Markup


@dataclass(frozen=True, slots=True)
class Safety:
    """What stays in view on every page."""

    stop: Link
    emergency: Link
    call: Link
    emergency_text: Markup
    pain_rule: Markup
    """With the ends of the scale."""
    flare: tuple[FlareView, ...]
    surgeon: Markup
    clinician: Markup
    addresses: tuple[Address, ...]


@dataclass(frozen=True, slots=True)
class PageState:
    """What a page may say of itself later, by its script."""

    until: str
    """The last day on which it may be shown as it is, as 2027-09-14; may be empty."""
    over: str
    """That this day is past."""
    kept: str
    kept_since: str
    """The same with the day on which the device kept the page, ``{date}``."""
    newer: str
    show: str
    picking: tuple[str, ...]
    """As JSON: what the page says of exercises that are picked for a patient; none where the site has no page for that."""


@dataclass(frozen=True, slots=True)
class PageFrame:
    """Everything that a page needs beside its own content."""

    language: str
    direction: str
    policy: str
    title: str
    description: str
    style: str
    icon: str
    scripts: tuple[str, ...]
    alternates: tuple[LanguageLink, ...]
    choice: str
    root: str
    """The way to the root of the site, as ``../../``."""
    clinic: str
    home: str
    navigation: tuple[NavLink, ...]
    languages: tuple[LanguageLink, ...]
    """The page in every other language, or that language's first page."""
    many_languages: str
    """Not empty where the switch is folded away."""
    more: tuple[NavLink, ...]
    mine: tuple[NavLink, ...]
    """The patient's own page, shown in a browser that keeps a list."""
    strip: str
    """Not empty on pages that patients read: the safety links stay in view."""
    marks: tuple[str, ...]
    safety: Safety
    version: str
    """Empty on pages that only lead to others."""
    state: PageState
    data: Markup = NO_DATA
    """JSON-LD for search engines; may be empty."""
    preview: str = ""
    """Address on the web of a picture for links that are shared; may be empty."""
    old_sheets: tuple[OldSheet, ...] = ()
    """Former versions of what the page shows; the one that the address names is in view."""
    overdue: str = ""
    """For clinicians: that the review of what the page shows is over."""


def make_frame(
    setting: LanguageSite,
    page: str,
    title: str,
    description: str,
    *,
    item: str = "",
    stamp: str = "",
    scripts: tuple[str, ...] = (),
    stop: str = "",
    data: Markup = NO_DATA,
    own: bool = False,
    strip: bool = True,
    dated: bool = False,
) -> PageFrame:
    """The frame of a page; ``item`` has a version of its own, ``stamp`` is what else the version shown is of.

    ``stop`` is where its stop rules stand; pages that no patient reads have no ``strip``.  A patient's ``own`` page
    has its languages in view, and no way around the site above its exercises: one at the foot.  A page without a version of its own
    says that of the whole site where it is ``dated``; then it changes with any other page.
    """
    say, clinic = setting.wording.say, setting.library.clinic
    versions = _in_languages(setting, page)
    alternates = tuple(link for link, is_same in versions if is_same)
    others = tuple(link for link, _ in versions if link.language != setting.language)
    return PageFrame(
        language=setting.language,
        direction=setting.wording.direction,
        policy=POLICY,
        title=say("site.page_title", title=plain_text(title), clinic=clinic.name) if title != clinic.name else title,
        description=plain_text(description),
        style=relative(page, setting.assets.style),
        icon=relative(page, setting.assets.icon),
        scripts=tuple(relative(page, script) for script in (*scripts, setting.assets.scripts["page_state"])),
        alternates=alternates if len(alternates) > 1 else (),
        choice=relative(page, CHOICE),
        root=relative(page, CHOICE).removesuffix(CHOICE) or "./",
        clinic=clinic.name,
        home=relative(page, home_page(setting.language)),
        navigation=() if own else _entries(setting, page, ("exercises", "programmes", "bundles", "bundle")),
        languages=others,
        many_languages="many" if len(others) > UNFOLDED and not own else "",
        more=_entries(setting, page, _MORE_OWN if own else _MORE),
        mine=_entries(setting, page, () if own else ("my",)),
        strip="strip" if strip else "",
        marks=_marks(setting, item),
        safety=make_safety(setting, page, stop),
        version=say("site.version", version=setting.version_of(item or stamp)) if item or stamp or dated else "",
        state=make_state(setting, item, page, own=own),
        data=data,
        preview=_preview(setting, item),
        old_sheets=old_sheets_of(setting, item),
        overdue=overdue_line(setting, item),
    )


def make_state(setting: LanguageSite, item: str, page: str, *, own: bool = False) -> PageState:
    """What the page of an item, or any other page, may say of itself; a patient's ``own`` page offers no picking."""
    say, day = setting.wording.say, last_day(setting.library, item)
    return PageState(
        until=day.isoformat() if day else "",
        over=say("site.state_over", date=setting.wording.date(day)) if day else "",
        kept=say("site.state_kept"),
        kept_since=say("site.state_kept_since", date="{date}"),
        newer=say("site.state_newer"),
        show=say("site.state_show"),
        picking=() if own else _picking(setting, page),
    )


def _picking(setting: LanguageSite, page: str) -> tuple[str, ...]:
    target, say = list_page(setting.language, "bundle"), setting.wording.say
    if target not in setting.pages:
        return ()
    words = {
        "page": relative(page, target),
        "add": say("clinician.add"),
        "added": say("clinician.added_here"),
        "named": say("clinician.acts_on", act="{act}", exercise="{exercise}"),
        "forms": dict(setting.wording.forms["clinician.open_bundle"]),
    }
    return (json.dumps(words, ensure_ascii=False, separators=(",", ":")),)


def _preview(setting: LanguageSite, item: str) -> str:
    """The picture of an exercise, as an address that other sites can open."""
    picture = setting.edition.previews.get(item.removeprefix("exercises/"), "") if item.startswith("exercises/") else ""
    return setting.library.clinic.site + picture if picture else ""


def make_safety(setting: LanguageSite, page: str, stop: str = "") -> Safety:
    """The safety lines as seen from a page."""
    say, clinic = setting.wording.say, setting.library.clinic
    addresses = make_addresses(clinic)
    rules = stop or relative(page, list_page(setting.language, "safety")) + "#stop"
    return Safety(
        stop=Link(rules, say("site.when_to_stop")),
        emergency=Link(phone_link(clinic.emergency.number), say("site.emergency", number=clinic.emergency.number)),
        call=Link(addresses[0].call if len(addresses) == 1 else "#call", say("site.call_us")),
        emergency_text=with_call(render_inline(clinic.emergency.text.text), clinic.emergency.number),
        pain_rule=Markup("{} {}").format(render_inline(clinic.pain_rule.text), say("site.pain_ends")),
        flare=tuple(FlareView(render_inline(step.when.text), render_inline(step.do.text)) for step in clinic.flare_plan),
        surgeon=render_inline(clinic.defer.surgeon.text),
        clinician=render_inline(clinic.defer.clinician.text),
        addresses=addresses,
    )


def make_addresses(clinic: Clinic) -> tuple[Address, ...]:
    """The clinic's locations."""
    return tuple(
        Address(
            place.name, place.address, place.phone, phone_link(place.phone), place.hours.text if place.hours else ""
        )
        for place in clinic.locations
    )


def phone_link(number: str) -> str:
    """A ``tel:`` address: digits, and a plus in front."""
    return "tel:" + re.sub(r"(?!^\+)[^0-9]", "", number.strip())


def with_call(text: Markup, number: str) -> Markup:
    """A text whose first mention of a phone number dials it; as it is where it has links of its own."""
    if "<" in text:
        return text
    # Chinese has no blank between a number and the words around it.
    mention = re.compile(rf"(?<![0-9A-Za-z-]){re.escape(number)}(?![0-9A-Za-z-])")
    link = Markup('<a class="phone" href="{}">{}</a>').format(phone_link(number), number)
    return Markup(mention.sub(lambda _: link, text, count=1))


def site_path(clinic: Clinic) -> str:
    """The path below which the site is published, from the clinic's address: ``/`` or ``/handouts/``."""
    return "/" + urlsplit(clinic.site).path.strip("/") + "/" if urlsplit(clinic.site).path.strip("/") else "/"


def _entries(setting: LanguageSite, page: str, kinds: tuple[str, ...]) -> tuple[NavLink, ...]:
    return tuple(
        NavLink(relative(page, target), setting.wording.say(_ENTRY_NAMES.get(kind, f"site.nav_{kind}")), target == page)
        for kind in kinds
        if (target := list_page(setting.language, kind)) in setting.pages
    )


def _in_languages(setting: LanguageSite, page: str) -> list[tuple[LanguageLink, bool]]:
    """The page in every language, each with whether it is there; where it is not, that language's home page."""
    found, rest = [], page.partition("/")[2]
    for language, name in setting.names.items():
        is_same = (target := f"{language}/{rest}") in setting.pages
        found.append((LanguageLink(language, relative(page, target if is_same else home_page(language)), name), is_same))
    return found


def _marks(setting: LanguageSite, item: str) -> tuple[str, ...]:
    say = setting.wording.say
    marks = (say("site.mark_invented"),) if setting.library.clinic.invented else ()
    if setting.is_unreviewed(item):
        marks = (*marks, say("site.mark_unreviewed"))
    return marks
