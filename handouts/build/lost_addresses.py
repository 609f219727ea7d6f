"""What readers would lose: pages of the published site, and languages of the ledger, that a new site does not have.

The library says what may go, in ``clinic.yaml`` under ``taken off``, each with a reason.  Pure; touches no disk.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from handouts.ledger.entries import Ledger
from handouts.model import TakenOff
from handouts.problems import Grade, Place, Problem

PAGE = "/index.html"
NOT_READ = ("review", "sheets")
"""Folders of a language that nobody keeps an address of: a translator's pages, the sheets that the clinician's page prints."""
SHOWN = 5
"""How many addresses one problem names."""


@dataclass(frozen=True, slots=True)
class LostAddresses:
    """Addresses that a new site would lose: whole languages, and pages of languages that stay; each ends with ``/``."""

    languages: tuple[str, ...]
    pages: tuple[str, ...]


def find_lost(before: Iterable[str], after: Collection[str], taken_off: Iterable[TakenOff] = ()) -> LostAddresses:
    """What the files of a new site lack of the published ones, without what the library takes off."""
    gone = [item.address for item in taken_off]
    lost = [
        address
        for address in _addresses(before)
        if address.removesuffix("/") + PAGE not in after and not any(_lies_below(address, each) for each in gone)
    ]
    whole = {path.partition("/")[0] for path in after}
    languages = dict.fromkeys(language for address in lost if (language := address.partition("/")[0]) not in whole)
    pages = tuple(address for address in lost if address.partition("/")[0] in whole)
    return LostAddresses(tuple(languages), pages)


def _addresses(paths: Iterable[str]) -> Iterator[str]:
    for path in sorted(paths):
        if path.endswith(PAGE) and path.split("/")[1] not in NOT_READ:
            yield path.removesuffix("index.html")


def _lies_below(address: str, place: str) -> bool:
    """Whether an address is a place or lies below it: ``vi/bundles/first/`` lies below ``vi``."""
    return address.startswith(f"{place.strip('/')}/")


def lost_problems(lost: LostAddresses, place: Place) -> list[Problem]:
    """Why a new site is refused: each language, and the pages together."""
    found = [_language_problem(language, place) for language in lost.languages]
    if lost.pages:
        names = ", ".join(lost.pages[:SHOWN]) + (" …" if len(lost.pages) > SHOWN else "")
        count = "1 address is" if len(lost.pages) == 1 else f"{len(lost.pages)} addresses are"
        first = lost.pages[0].rstrip("/")
        found.append(
            Problem(
                place,
                "address-lost",
                f"{count} on the published site and would lead nowhere: {names}",
                f"Put back what was there, keep a ledger so that it leads on ('handouts ledger update'), "
                f"or write into clinic.yaml 'taken off: [{{address: {first}, why: \"…\"}}]'.",
            )
        )
    return found


def find_lost_languages(
    ledger: Ledger | None, published: Collection[str], taken_off: Iterable[TakenOff], place: Place
) -> list[Problem]:
    """The languages in which the ledger knows what was published, and that nothing is published in now."""
    gone = {item.address.strip("/") for item in taken_off}
    known = dict.fromkeys(tag for entry in (ledger.entries if ledger else ()) for tag in entry.titles)
    return [_language_problem(tag, place) for tag in known if tag not in published and tag not in gone]


def find_left_languages(
    ledger: Ledger | None, gaps: Iterable[tuple[str, str, str]], languages: Collection[str], folder: str
) -> list[Problem]:
    """What the ledger knows as published in a language, and what is missing there now; a notice for each of the ``languages``.

    ``gaps`` are language, code and title.  The page stays, and leads to the language that has it.
    """
    by_code = ledger.by_code if ledger else {}
    lost: dict[str, list[str]] = {}
    for language, code, title in gaps:
        if language in languages and code in by_code and language in by_code[code].titles:
            lost.setdefault(language, []).append(title)
    return [
        Problem(
            Place(f"{folder}/words/{language}.po"),
            "left-language",
            f"{len(titles)} {'thing was' if len(titles) == 1 else 'things were'} published in '{language}' and would not be there any more: "
            + ", ".join(titles[:SHOWN]) + (" …" if len(titles) > SHOWN else ""),
            "See 'handouts words state' for what waits; until then its page leads to another language.",
            Grade.NOTICE,
        )
        for language, titles in lost.items()
    ]


def _language_problem(language: str, place: Place) -> Problem:
    return Problem(
        place,
        "language-lost",
        f"'{language}' was published, and nothing would be published in it now",
        f"See 'handouts words state' for what keeps it out, or write into clinic.yaml "
        f"'taken off: [{{address: {language}, why: \"…\"}}]'.",
    )
