"""What pages and cards show of a test of function: facts, norms, its own error, each with its source and status."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import FunctionTest, Norm, Norms
from handouts.publication.rich_text import rich
from handouts.words.limits import say_status
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class Sourced:
    """Where a number comes from, and whether it was read there."""

    status: str
    source: str
    """In the language of the library."""


@dataclass(frozen=True, slots=True)
class NormRow:
    """The values of one sex, one for each age; empty where there is none."""

    name: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NormsView:
    """Values to compare with, a column for each age."""

    says: Markup
    ages: tuple[str, ...]
    rows: tuple[NormRow, ...]
    source: Sourced


@dataclass(frozen=True, slots=True)
class Meaning:
    """Sentences on what a change or a difference means; ``sources`` of their numbers."""

    lines: tuple[str, ...]
    sources: tuple[Sourced, ...]


def say_value(wording: Wording, test: FunctionTest, value: float) -> str:
    """A result with its unit."""
    return wording.count(f"course.value_{test.unit}", value)


def say_facts(wording: Wording, test: FunctionTest) -> tuple[str, ...]:
    """How a result comes about."""
    return (
        wording.say("course.counted", unit=wording.say(f"course.unit_{test.unit}")),
        wording.count("course.tries", test.tries),
        *((wording.say("course.each_side"),) if test.each_side else ()),
        wording.say(f"course.better_{test.better}"),
        *((wording.say("course.ends_at", value=say_value(wording, test, test.most)),) if test.most is not None else ()),
    )


def view_norms(wording: Wording, norms: Norms) -> NormsView:
    """The norms by age and sex, in the order in which they are written."""
    ages = tuple(dict.fromkeys((row.from_age, row.to_age) for row in norms.rows))
    found = {(row.sex, row.from_age, row.to_age): row.value for row in norms.rows}
    rows = tuple(
        NormRow(
            wording.say(f"course.sex_{sex or 'all'}"),
            tuple(wording.number(found[sex, *age]) if (sex, *age) in found else "" for age in ages),
        )
        for sex in dict.fromkeys(row.sex for row in norms.rows)
    )
    heads = tuple(_say_ages(wording, row) for row in {(row.from_age, row.to_age): row for row in norms.rows}.values())
    return NormsView(rich(norms.says), heads, rows, Sourced(say_status(norms.status, wording), norms.source))


def _say_ages(wording: Wording, row: Norm) -> str:
    first = wording.number(row.from_age)
    if row.to_age is None:
        return wording.say("course.ages_over", first=first)
    return wording.say("course.ages", first=first, last=wording.number(row.to_age))


def view_meaning(wording: Wording, test: FunctionTest) -> Meaning:
    """Which change is more than chance, and how alike both sides are to be; what has no source says so."""
    lines, sources = [], []
    if (error := test.error) is None:
        lines.append(wording.say("course.no_error"))
    else:
        lines.append(wording.say("course.error", change=say_value(wording, test, error.change), who=error.who.text))
        if error.confidence is not None:
            lines.append(wording.say("course.confidence", n=wording.number(error.confidence)))
        sources.append(Sourced(say_status(error.status, wording), error.source))
    if test.symmetry is not None:
        lines.append(wording.say("course.symmetry", percent=wording.number(test.symmetry.percent)))
        sources.append(Sourced(say_status(test.symmetry.status, wording), test.symmetry.source))
    return Meaning(tuple(lines), tuple(sources))
