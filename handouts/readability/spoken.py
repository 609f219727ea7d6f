"""English figures read aloud, because SMOG counts what is said (McLaughlin 1969) and Flesch does not.

Holds whole numbers up to 999,999,999,999, decimals, clock times, ranges and ordinals; anything else is read digit by
digit.  Leaves out: years read in pairs, money, and units (``abbreviations``).
"""

from __future__ import annotations

import re

_ONES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = (
    "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
)  # fmt: skip
_SCALES = ((1_000_000_000, "billion"), (1_000_000, "million"), (1_000, "thousand"))
_MOST_DIGITS = 12
_NUMBER = re.compile(r"\d{1,3}(?:,\d{3})+(?!\d)|\d+")


def cardinal(number: int) -> tuple[str, ...]:
    """The words of a whole number from 0 to 999,999,999,999: ``(two, hundred, twenty-five)``."""
    if number < 20:
        return (_ONES[number],)
    if number < 100:
        tens, ones = divmod(number, 10)
        return (_TENS[tens - 2] + (f"-{_ONES[ones]}" if ones else ""),)
    for size, name in (*_SCALES, (100, "hundred")):
        if number >= size:
            many, rest = divmod(number, size)
            return (*cardinal(many), name, *(cardinal(rest) if rest else ()))
    raise AssertionError("every number from 100 up has a scale")


def _digits(figure: str) -> tuple[str, ...]:
    return tuple(_ONES[int(digit)] for digit in figure)


def _whole(figure: str) -> tuple[str, ...]:
    bare = figure.replace(",", "")
    if len(bare) > _MOST_DIGITS or (bare[0] in "0" and len(bare) > 1):
        return _digits(bare)
    return cardinal(int(bare))


def spoken(figure: str) -> tuple[str, ...]:
    """The words that a figure is read as: ``2.5`` is two point five, ``10-12`` ten to twelve, ``5:30`` five thirty.

    Letters in it ("5kg") are left out.  A figure without a digit gives no words.
    """
    found: list[str] = []
    end = 0
    for match in _NUMBER.finditer(figure):
        between = figure[end : match.start()]
        if end and between == ".":
            found += ["point", *_digits(match.group())]
        elif end and between in {"-", "\u2010", "\u2011", "\u2013"}:
            found += ["to", *_whole(match.group())]
        else:
            found += _whole(match.group())
        end = match.end()
    return tuple(found)
