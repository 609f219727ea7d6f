"""Syllables of a German word, from its spelling: vowel groups, diphthongs as one.

Leaves out: the seam of compounds where two vowels meet ("beinhalten" counts be + ein as they are spelt), stress in
foreign words in -ie except those listed, and "-tion" (counted -ti-on, as schools teach it).
Never raises; a word without a vowel counts one.
"""

from __future__ import annotations

import re
from functools import lru_cache
from unicodedata import normalize

_SILENT_U = re.compile(r"(?<=q)u")
_NUCLEUS = re.compile(r"ie|ei|ai|ey|ay|au|äu|eu|aa|ee|oo|ui(?=$)|[aeiouyäöüéèêáàó]")
_SPLIT_E = re.compile(r"(?<![aeiouäöü])(?:be|ge)(?=e[a-zß])(?!er(?:e|$)|et)|(?<=s)e(?=um$)")
_IE_APART = re.compile(r"(?:famil|lin|stud|ser|mater|arter|präm|akt|lil|bakter|kastan|ped|hyster)ie$|(?<=[^eh])ien$")
_APART = re.compile(r"be(?=inhalt|irr|urteil|unruh)|ge(?=impf|irrt|urteil)")


@lru_cache(maxsize=20_000)
def german_syllables(word: str) -> int:
    """Syllables of one German word, at least 1."""
    total = 0
    for part in re.split(r"[-\u2010\u2011]", normalize("NFC", word.casefold())):
        bare = _APART.sub(lambda match: match.group() + "'", _SILENT_U.sub("", part))
        bare = _SPLIT_E.sub(lambda match: match.group() + "'", bare)
        total += len(_NUCLEUS.findall(bare)) + (1 if _IE_APART.search(bare) else 0)
    return max(1, total)
