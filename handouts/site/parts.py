"""Parts that several pages share: rich texts, rows of exercises, cautions, prints, the review line."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from handouts.dose.phrase import dose_line, dose_names
from handouts.model import Call, Caution, CautionKind, Dose, Exercise, Mistake, Programme, Ref, Review
from handouts.publication.reviews import say_review
from handouts.publication.rich_text import begin, rich, rich_all
from handouts.publication.views import cautions_by_kind
from handouts.rules.safety import review_ends
from handouts.site.context import LanguageSite
from handouts.site.old_sheets import older_line
from handouts.site.page_frame import Link, phone_link, with_call
from handouts.site.paths import LARGER, beside_path, folded_path, item_page, list_page, pdf_path, relative, wall_path

_NUMERAL = re.compile(r"\d+(?:[.,–-]\d+)*")


@dataclass(frozen=True, slots=True)
class ExerciseRow:
    """An exercise in a list: small figure, title, and one line each of dose and of other facts."""

    href: str
    title: Markup
    picture: str
    dose: Markup
    facts: str
    label: str
    """A word before the title: the tier, "easier" or "harder"; may be empty."""
    stages: tuple[str, ...] = ()
    """What is taken in place of things, and how its dose goes on over the weeks: a line each."""


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution: the sign, what to do, and whom to call."""

    when: Markup
    do: Markup
    phones: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class Cautions:
    """Cautions by what they ask of the reader."""

    stop: tuple[CautionView, ...]
    ask: tuple[CautionView, ...]
    care: tuple[CautionView, ...]


@dataclass(frozen=True, slots=True)
class HintsView:
    """Short rules under their heading: for each exercise of a programme, or for the whole day."""

    heading: str
    items: tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class FaultView:
    """What is seen when it goes wrong, and what to do instead."""

    see: Markup
    do: Markup


@dataclass(frozen=True, slots=True)
class Prints:
    """The ready PDFs of one thing: the first choice, and the others."""

    heading: str
    first: Link
    note: str
    others: tuple[Link, ...]


def large_numerals(line: str) -> Markup:
    """A line with each number in an element of its own, so that it can stand large."""
    parts, at = [], 0
    for match in _NUMERAL.finditer(line):
        parts += [escape(line[at : match.start()]), Markup('<b class="numeral">'), escape(match[0]), Markup("</b>")]
        at = match.end()
    return Markup("").join([*parts, escape(line[at:])])


def dose_of(setting: LanguageSite, dose: Dose) -> str:
    """The dose in one line, what it names of the vocabulary by the library's names."""
    return dose_line(dose, setting.wording, dose_names(dose, setting.library))


def term_names(setting: LanguageSite, kind: str, refs: Iterable[Ref]) -> tuple[str, ...]:
    """The names of entries of a closed list."""
    return tuple(setting.library.term[kind][ref.slug].name.text for ref in refs)


def name_equipment(setting: LanguageSite, refs: Collection[Ref]) -> str:
    """What has to be there, in one line."""
    say = setting.wording
    return say.join(term_names(setting, "equipment", refs)) if refs else say.say("site.nothing")


def join_facts(setting: LanguageSite, parts: Sequence[str]) -> str:
    """Short facts beside one another."""
    line = ""
    for part in parts:
        line = (
            setting.wording.say("site.beside", first=line, second=begin(part)) if line and part else line or begin(part)
        )
    return line


def view_hints(setting: LanguageSite, programme: Programme) -> tuple[HintsView, ...]:
    """What goes for each exercise of a programme, and for the whole day."""
    lists = (("steps.with_each", programme.cues), ("steps.all_day", programme.through_the_day))
    return tuple(HintsView(setting.wording.say(name), rich_all(items)) for name, items in lists if items)


def make_row(
    setting: LanguageSite, page: str, exercise: Exercise, *, dose: Dose | None = None, label: str = "", facts: str = ""
) -> ExerciseRow:
    """A row for an exercise; ``dose`` where it is not the library's own."""
    usual = join_facts(
        setting,
        (*term_names(setting, "positions", [exercise.position]), *term_names(setting, "equipment", exercise.equipment)),
    )
    return ExerciseRow(
        href=relative(page, item_page(setting.language, "exercises", exercise.slug)),
        title=rich(exercise.title),
        picture=relative(page, setting.panels[exercise.slug]),
        dose=large_numerals(dose_of(setting, dose or exercise.dose)),
        facts=facts or usual,
        label=label,
    )


def view_fault(mistake: Mistake) -> FaultView:
    """A mistake and its mend."""
    return FaultView(rich(mistake.see), rich(mistake.do))


def make_cautions(setting: LanguageSite, cautions: Iterable[Caution]) -> Cautions:
    """Cautions, the gravest first: those that call the emergency number before those that call the clinic."""
    by_kind = {kind: tuple(_caution(setting, each) for each in found) for kind, found in cautions_by_kind(cautions).items()}
    return Cautions(by_kind[CautionKind.STOP], by_kind[CautionKind.ASK], by_kind[CautionKind.CARE])


def _caution(setting: LanguageSite, caution: Caution) -> CautionView:
    """A caution whose action dials the number that it names; where it names none, the number follows."""
    clinic, do = setting.library.clinic, rich(caution.do)
    numbers = [clinic.emergency.number] if caution.call is Call.EMERGENCY else []
    if caution.call is Call.CLINIC and len(clinic.locations) == 1:
        numbers = [clinic.locations[0].phone]
    phones = []
    for number in dict.fromkeys((*numbers, clinic.emergency.number)):
        linked = with_call(do, number)
        if linked == do and number in numbers and "<a" not in do:
            phones.append(Link(phone_link(number), setting.wording.say("site.call_number", number=number)))
        do = linked
    return CautionView(rich(caution.when), do, tuple(phones))


def make_prints(setting: LanguageSite, page: str, name: str, heading: str, full: str = "") -> tuple[Prints, ...]:
    """The PDFs named ``name`` beside a page, the clinic's first paper and size first; empty where there are none.

    Those named ``full``, with a page for each exercise, come after them, then those to be folded.
    """
    say, clinic = setting.wording.say, setting.library.clinic
    links, wholes, beside, source = list[Link](), list[Link](), list[Link](), setting.source.language
    for size in clinic.type_sizes:
        for paper in clinic.papers:
            words = say("site.paper_and_size", paper=say(f"site.paper_{paper}"), size=say(f"site.size_{size}"))
            if (path := pdf_path(page, name, paper, size)) in setting.edition.pdfs:
                links.append(Link(relative(page, path), words))
            if full and (path := pdf_path(page, full, paper, size)) in setting.edition.pdfs:
                wholes.append(Link(relative(page, path), say("site.print_full", print=words)))
            if (path := beside_path(page, name, paper, size, source)) in setting.edition.pdfs:
                language = setting.wording.name_of(source)
                beside.append(Link(relative(page, path), say("site.print_beside", print=words, language=language)))
    folded = tuple(
        Link(relative(page, path), say("site.print_folded", paper=say(f"site.paper_{paper}")))
        for paper in clinic.papers
        if (path := folded_path(page, name, f"{paper}-folded")) in setting.edition.pdfs
    )
    if not links:
        return ()
    return (Prints(heading, Link(links[0].href, say("site.print")), links[0].text, (*links[1:], *wholes, *folded, *beside)),)


def make_wall_prints(setting: LanguageSite, page: str, name: str, heading: str) -> tuple[Prints, ...]:
    """The PDFs in one type size named ``name`` beside a page, on each of the clinic's papers and the one of twice its size."""
    say, links = setting.wording.say, list[Link]()
    for paper in (each for own in setting.library.clinic.papers for each in (own, LARGER[own])):
        if (path := wall_path(page, name, paper)) in setting.edition.pdfs:
            links.append(Link(relative(page, path), say(f"site.paper_{paper}")))
    return (Prints(heading, Link(links[0].href, say("site.print")), links[0].text, tuple(links[1:])),) if links else ()


def make_pick(setting: LanguageSite, page: str, wish: str, words: str) -> tuple[Link, ...]:
    """The link that picks something for a patient; empty where the site has no page for that.

    ``wish`` is what the bundle page reads behind the ``#``.
    """
    target = list_page(setting.language, "bundle")
    return (Link(f"{relative(page, target)}#{wish}", words),) if target in setting.pages else ()


def approval_line(setting: LanguageSite, item: str) -> str:
    """Which role let the present version of ``exercises/SLUG`` and the like go out, and when; empty where the ledger has no approval."""
    history, wording = setting.edition.history, setting.wording
    now = history.by_item.get(item)
    entry = history.ledger.by_code.get(now.code) if history.ledger and now else None
    signed = [each.approved for each in entry.versions if now and each.version == now.version and each.approved] if entry else []
    if not signed:
        return ""
    role = signed[-1].by
    if setting.language != setting.source.language:  # as the role is called where it reviewed something
        known = setting.library.exercise
        pairs = ((each.review.by.text, known[each.slug].review.by.text) for each in setting.source.exercises if each.slug in known)
        role = dict(pairs).get(role, "")
    return wording.say("site.approved", date=wording.date(signed[-1].on), role=role) if role else ""


def exercise_review_line(setting: LanguageSite, exercise: Exercise) -> str:
    """The review of an exercise; that of a newer text says nothing of an older version."""
    return older_line(setting.wording, exercise.older) or review_line(setting, exercise.review, f"exercises/{exercise.slug}")


def review_line(setting: LanguageSite, review: Review, item: str) -> str:
    """When and by which role the content was last read through, when it is due again, and who approved it as it stands."""
    wording, due = setting.wording, review_ends(review, setting.library.clinic.review.months)
    read = say_review(wording, review, "site")
    lines = (read, wording.say("site.due", date=wording.date(due)), approval_line(setting, item))
    return " ".join(line for line in lines if line)
