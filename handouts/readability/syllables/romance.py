"""Syllables of Spanish, Italian and Portuguese words, from their spelling.

In all three a syllable is a vowel nucleus; which neighbours share one is a matter of strong vowels (a e o), weak
vowels (i u) and written accents.  Leaves out: for Spanish, hiatus that only the ear knows ("guion", "rio" without its
accent) and loans; for Italian, stress that is not written (a list of common words in -ia stands in);
for Portuguese, rising diphthongs that fast wording makes of two vowels.
Never raises; a word without a vowel counts one.
"""

from __future__ import annotations

import re
from functools import lru_cache
from unicodedata import normalize

_ES_SILENT_U = re.compile(r"(?<=q)u|(?<=g)u(?=[eiéí])")
_ES_NUCLEUS = re.compile(
    # a weak vowel leans on a strong one before or after it; two weak ones share a nucleus; h between them is no wall
    r"[iuüy]?h?[aeoáéó](?:h?[iuü](?![aeoáéóíú])|y(?![aeiouáéíóúü]))?|[íú]|[iuü]h?[iuüy]?"
)
_ES_CONSONANT_Y = re.compile(r"y(?=[aeiouáéíóúü])")


@lru_cache(maxsize=20_000)
def spanish_syllables(word: str) -> int:
    """Syllables of one Spanish word, at least 1."""
    lowered = normalize("NFC", word.casefold())
    bare = _ES_CONSONANT_Y.sub("j", _ES_SILENT_U.sub("", lowered))
    return len(_ES_NUCLEUS.findall(bare.replace("y", "i"))) or 1


_IT_STRESSED_I = re.compile(
    # -ia said with a stressed i in the words of the trade, and short words whose two vowels stand apart
    r"(?:terap|energ|anatom|fisiolog|patolog|chirurg|farmac|allerg|perifer|econom|fotograf|radiograf|ecograf|bug|"
    r"ortoped|pediatr|psichiatr|anestes|malatt|autonom|simmetr)i[ae]$"
    r"|^(?:(?:[vzsm]i|spi|sci)[ae]|(?:m|z|d|add|pend|brus|legg|obl)?io|[ts]u[aeo]|due|zii|paur[ae]|baul[ei]|egois\w+)$"
)
_IT_NUCLEUS = re.compile(r"[iu]*[aeoàèéòó](?:[iu](?![aeoàèéòó]))?|[iu]?[ìíùú]|[iu]+")


@lru_cache(maxsize=20_000)
def italian_syllables(word: str) -> int:
    """Syllables of one Italian word, at least 1."""
    lowered = normalize("NFC", word.casefold()).replace("'", "").replace("\u2019", "")
    extra = 1 if _IT_STRESSED_I.search(lowered) else 0
    return (len(_IT_NUCLEUS.findall(lowered)) + extra) or 1


_PT_SILENT_U = re.compile(r"(?<=q)u|(?<=g)u(?=[aeiouáâãàéêíóôõ])")
_PT_ACCENT = re.compile(r"[áâãàéêíóôõú]")
_PT_NUCLEUS = re.compile(
    r"[ãõ][eo]|[aeoáâàéêóô][iu](?!(?:[lmnrz](?![aeiouáâãàéêíóôõú])|nh))|[iu][iu](?!(?:[lmnrz](?![aeiouáéíóú])|nh))"
    r"|ao(?=s?$)|[aeiouáâãàéêíóôõúü]"
)
_PT_RISING_END = re.compile(r"[iu][aeo]s?$|[eo][ao]s?$")


@lru_cache(maxsize=20_000)
def portuguese_syllables(word: str) -> int:
    """Syllables of one Portuguese word, at least 1.

    An unaccented ending in -ia, -io, -ua is two syllables ("dia"); after a written accent it is one ("exercício").
    """
    total = 0
    for part in re.split(r"[-\u2010\u2011]", normalize("NFC", word.casefold())):
        bare = _PT_SILENT_U.sub("", part)
        ending = _PT_RISING_END.search(bare)
        less = 1 if ending and _PT_ACCENT.search(bare[: ending.start()]) else 0
        total += len(_PT_NUCLEUS.findall(bare)) - less
    return max(1, total)
