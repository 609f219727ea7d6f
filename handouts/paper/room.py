"""The room that head and foot leave for articles: the same in every document of a language, on every paper of the clinic."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from handouts.paper.context import PaperSetting, locations_of, papers_of
from handouts.paper.geometry import (
    FOLD_EDGE,
    FOLDED,
    HEAD_GAP,
    HEAD_LETTERS,
    WIDE_FACE,
    WIDE_FACE_LANGUAGES,
    Area,
    bottom_margin,
    live_area,
    narrowest,
    top_margin,
)
from handouts.paper.text_width import text_width

NAME_SHARE = 0.45
"""What a clinic's name may take of the first line, so that the pen has the rest."""
USUAL_CODE, USUAL_VERSION = "H222", "K7QX2M"
"""A code and a version as wide as others."""
BOLD = 1.1
"""How much wider bold letters run, as phone numbers in the foot do; measured on the demo's."""


def live_room(setting: PaperSetting, rules: str = "") -> tuple[Area, bool]:
    """Where articles stand, and whether the line for the pen stands below the clinic's name.

    Counted for the most that a foot of the language may say, so that one more mark changes no article; ``rules`` is what stands above the foot.
    """
    clinic, say, language = setting.library.clinic, setting.wording.say, setting.language
    folded = setting.paper in FOLDED
    papers = {setting.paper, *(f"{paper}-folded" if folded else paper for paper in papers_of(setting.library))}
    narrow = narrowest(papers)
    room = HEAD_LETTERS[setting.size, narrow]
    name = letters_of((clinic.name,), language)
    apart = name > NAME_SHARE * room
    top = top_margin(setting.size, (ceil(name / room) + apart) * room, narrow)
    marks = (
        say("paper.version", code=USUAL_CODE, version=USUAL_VERSION),
        say("paper.invented") if clinic.invented else "",
        say("paper.unreviewed") if setting.is_unreviewed("") else "",
    )
    page = letters_of((say("paper.page", page="99", pages="99"),), language)
    above = count_rows(locations_of(setting), int(room / BOLD), language) + (count_rows((rules,), int(room / BOLD), language) if rules else 0)
    bottom = bottom_margin(setting.size, [letters_of((mark,), language) for mark in marks if mark], page, narrow, above=above)
    edge = FOLD_EDGE if folded else 0.0
    return live_area(setting.paper, papers, top + edge, bottom + edge), apart


def room_of(setting: PaperSetting) -> tuple[float, float]:
    """Width and height in millimetres of the room for articles, where nothing stands above the foot."""
    area, _ = live_room(setting)
    return area.width, area.height


def browser_margins(setting: PaperSetting, marks: Sequence[str], rules: str) -> tuple[float, float, float]:
    """Top, bottom and side margin in millimetres where a browser prints: the clinic with its phone in the head; ``rules`` and all marks in the foot.

    They leave the room that articles have in a PDF, where head and foot fit beside it.
    """
    area, _ = live_room(setting, rules)
    paper, language = setting.paper, setting.language
    room = HEAD_LETTERS[setting.size, paper]
    name, places = setting.library.clinic.name, locations_of(setting)
    lines = 1 if letters_of((name, *places), language) <= room else ceil(letters_of((name,), language) / room) + count_rows(places, room, language)
    page = letters_of((setting.wording.say("paper.page", page="99", pages="99"),), language)
    bottom = bottom_margin(setting.size, [letters_of((mark,), language) for mark in (rules, *marks)], page, paper)
    below = area.paper_height - area.top - area.height
    return max(top_margin(setting.size, lines * room, paper), area.top), max(bottom, below), area.left


def count_rows(parts: Sequence[str], room: int, language: str) -> int:
    """Lines that parts take, none of which is broken where it fits into one."""
    lines, row = 0, list[str]()
    for part in parts:
        if row and letters_of((*row, part), language) > room:
            lines, row = lines + _rows(row, room, language), []
        row.append(part)
    return lines + _rows(row, room, language)


def _rows(parts: Sequence[str], room: int, language: str) -> int:
    """Lines that parts take by themselves; more than one only where a single part is longer than a line."""
    return ceil(letters_of(parts, language) / room) if parts else 0


def letters_of(parts: Sequence[str], language: str) -> int:
    """Letters of a head or foot with its gaps, as many as are as wide in the usual face."""
    width = sum(map(text_width, parts)) + HEAD_GAP * (len(parts) - 1)
    return ceil(width * WIDE_FACE) if language.partition("-")[0] in WIDE_FACE_LANGUAGES else width
