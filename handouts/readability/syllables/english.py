"""Syllables of an English word: a rule of vowel groups, and a table of words that the rule gets wrong.

Holds the rule; the table is ``english_exceptions``.  Leaves out: proper names (counted by the rule like any word),
a choice between two sayings of one word (the first one of the dictionary is taken: "every" 2, "comfortable" 4), and
rare compounds whose first part ends in a silent e.  What it gets right is measured in the tests.
"""

from __future__ import annotations

import re
from functools import lru_cache
from unicodedata import combining, normalize

from handouts.readability.syllables.english_exceptions import EXCEPTIONS

_VOWELS = re.compile(r"[aeiouy]+")

_SILENT_END = re.compile(
    "|".join(
        (
            # final e, also after a vowel and l or r (while, more); not in table, centre, fire
            r"(?<![aeiouy])[^aeiouylr]e$|(?<=[aeiouy])[^aeiouyr]e$|(?<!i)(?<=[aeouy])re$|(?<=[lr])[lr]e$|[aeiouy]rle$",
            # -ed except after d and t, and except handled, tired
            r"[bcfghjkmnpqsvwxz]ed$|[aeiouy]led$|(?<!i)(?<=[aeouyr])red$|(?<=[lr])led$",
            # -es except after a hiss, and except muscles, fires
            r"[bdfkmnptvw]es$|(?<=[aeiouylr])les$|(?<!i)(?<=[aeouy])res$|[aeiouy]thes$",
            # e before an ending: safely, movement, useful
            r"[^aeiouylr]e(?:ly|ment|ments|ful|fully|less|ness|some|ty)$",
            r"[aeouy][lr]e(?:ly|ment|ments|ful|fully|less|ness)$",
        )
    )
)
_SILENT_INSIDE = re.compile(
    r"(?:^(?:some|every|there|where|here|more|life|home|base|face|time|house|else|guide|wide|side|fire|whole|care"
    r"|bone|nine|five|line|type|note|name|place|take|make|knife|slide|state|safe|like)"
    r"|(?<=[a-z])(?:side|fore|where|thing))"
    r"(?!ly|ment|ful|less|ness|some)(?=[bcdfghjklmnpqstvw][aeiouy]|[bcdfghjklmnpqstw][hlrtw][aeiou])(?!d$|s$|tic|ve)"
)
_ONE_MORE = tuple(
    re.compile(pattern)
    for pattern in (
        r"(?<![cstgxln])(?<!qu)i[aou](?!ge)",  # diary, period, not patient, million
        r"i(?=um)(?<=[cstgxln]i)",  # calcium
        r"(?<=[mrb][nl])ia$",  # insomnia
        r"eo(?!u|p)",  # video
        r"chaos|idea|^area|cre(?=at)|^react|theat(?!r)|theatr|linea|nuclea|reali|muse(?=um)|poe[mt]|scien|rhea",
        r"(?<![qg])ua(?!d[ei])|(?<=[lr])ue(?=[nl])|ui(?=ng)|uity|uous",  # gradual, fluent
        r"fluid|ruin|genuin|suicid|duet|gruel",
        r"[aeo](?=ing)|y(?=ing)|(?<=[aeou])y[aeo](?!d$|s$|$)",  # being, lying, player
        r"[^aeiou](?=ism)|[^aeiouy](?=thm)",  # organism, rhythm
        r"(?<![ctsn])(?<=[^aeiou])ie(?=t|nc|nt$)(?!ter)",  # diet, client
        r"(?<=[a-z][^aeiou])ie(?=st$|r$|rs$)(?<!dier)",  # easier
        r"^co(?=op[ei]r|ord|exi)|^pre(?=e|occ)|^de(?=act)",
        r"^re(?=e[nvx]|ali[gt]|ass|app|arr|uni|in[fsv]|occ|org|open|act)",
    )
)
_SOUNDED_N = re.compile(r"[ds]n't$")
_SOUNDED_S = re.compile(r"(?:[sxz]|ch|sh|ce|ge|se|ze)'s$")
_PARTS = re.compile(r"[-\u2010\u2011\u2013]")


def _by_rule(word: str) -> int:
    """Syllables of one part in lower-case letters a to z, at least 1."""
    groups = len(_VOWELS.findall(word))
    silent = (1 if _SILENT_END.search(word) else 0) + len(_SILENT_INSIDE.findall(word))
    return max(1, groups - silent + sum(len(pattern.findall(word)) for pattern in _ONE_MORE))


def _of_part(part: str) -> int:
    if part in EXCEPTIONS:
        return EXCEPTIONS[part]
    if part.endswith("n't"):
        return _of_part(part[:-3]) + (1 if _SOUNDED_N.search(part) else 0)
    stem, joiner, end = part.partition("'")
    if joiner:
        sounded = bool(_SOUNDED_S.search(part)) or (end in {"d", "ll", "ve"} and stem[-1:] not in set("aeiouyw"))
        return _of_part(stem) + int(sounded)
    if part.endswith("s") and part[:-1] in EXCEPTIONS and not part.endswith(("ces", "ges", "ses", "zes", "xes")):
        return EXCEPTIONS[part[:-1]]
    return _by_rule(part)


@lru_cache(maxsize=20_000)
def english_syllables(word: str) -> int:
    """Syllables of one word, at least 1; parts joined by hyphens are counted and added.

    ``word`` holds letters, apostrophes and hyphens; what figures and abbreviations count is decided in ``counting``.
    """
    lowered = word.casefold().replace("\u2019", "'").replace("\u02bc", "'")
    lowered = "".join(letter for letter in normalize("NFKD", lowered) if not combining(letter))
    return sum(_of_part(part.strip("'")) for part in _PARTS.split(lowered) if part.strip("'")) or 1
