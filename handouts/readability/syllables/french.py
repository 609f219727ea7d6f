"""Syllables of a French word as it is said in careful prose: vowel groups, silent endings taken off.

Leaves out: liaison, the e that verse would sound, and verbs in -ent that are spelt like a sounded ending ("ils fument"
is counted one too many): the list of sounded endings is short and favours nouns and adverbs.
Never raises; a word without a vowel counts one.
"""

from __future__ import annotations

import re
from functools import lru_cache
from unicodedata import normalize

_SOUNDED_ENT = re.compile(
    r"(?:m|cid|sci|ffici|qu|rg|ell|ol|str|hér|céd|soci|pati|cli|souv|abs|prés|réc|par|adi|ist|tal|cont|fréqu|suffis|"
    r"transpar|différ|compét|évid|prud|innoc|perman|jac|esc|ori|occid|^[cdltv]|^ci)ents?$"
)
_SILENT_END = re.compile(
    r"(?<=[a-zà-ÿ])(?:(?<![aeiouyàâäéèêëîïôöùûü])es?|(?<=[iuyéo])es?|(?<=[gq]u)es?|(?<![aeiouyàâäéèêëîïôöùûü])ent"
    r"|(?<=[oa]i)ent)$"
)
_NUCLEUS = re.compile(
    r"[ïëü]|œu|eau|oeu|aoû|[aeo][iîuû](?:l(?=l|$))?|oû|ou[iî]|u[iî]|[aâàeéèêiîoôuûùyœæ]"  # a diaeresis stands apart
)
_GLIDE = re.compile(
    r"(?<![bcdfgptv][lr])[iï](?=[aâeéèêoô])"  # pied, not plier
    r"|(?<=[gq])u(?=[aeéèêioô]|$)|ou(?=[aeéèêi])|u(?=i)|^y(?=[aeou])"
    r"|(?<=[aeuœ])(?<![gq]u)i(?=l(?:l|s?$))"  # travail, feuille
)
_GLIDE_Y = re.compile(r"(?<=[aâeéèêoôu])y(?=[aâeéèêioôu])")


def _of_part(part: str) -> int:
    bare = part if _SOUNDED_ENT.search(part) else _SILENT_END.sub("", part)
    return len(_NUCLEUS.findall(_GLIDE.sub("j", _GLIDE_Y.sub("j", bare)))) or 1


@lru_cache(maxsize=20_000)
def french_syllables(word: str) -> int:
    """Syllables of one French word, at least 1; an elided article or pronoun adds none ("l'épaule" is 2)."""
    total = 0
    for part in re.split(r"[-\u2010\u2011]", normalize("NFC", word.casefold())):
        pieces = re.split(r"['\u2019\u02bc]", part)
        total += sum(_of_part(piece) for piece in pieces if len(piece) > 2 or piece == pieces[-1])
    return max(1, total)
