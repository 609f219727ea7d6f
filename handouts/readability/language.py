"""Which language a tag names, and whether a published formula exists for it.

Holds the languages that are scored.  Never falls back to English: a language without a formula has no level.
"""

from __future__ import annotations

import re

SCRIPTS = {
    "en": "latn",
    "es": "latn",
    "fr": "latn",
    "de": "latn",
    "it": "latn",
    "pt": "latn",
    "ru": "cyrl",
    "ar": "arab",
    "sv": "latn",
    "da": "latn",
    "nb": "latn",
    "nn": "latn",
    "no": "latn",
}
"""Scored languages (ISO 639-1) to the script (ISO 15924, lower case) that their formula was made for.

Not scored, for want of a simple formula tried on patient leaflets: Vietnamese, Chinese, Haitian Creole, Filipino,
Polish and every other.
"""

_TAG = re.compile(r"[a-z]{2,8}(?:-[a-z0-9]{1,8})*")
_PRIVATE_REGION = re.compile(r"x[a-z]")


def scored_language(tag: str) -> str | None:
    """The scored language that a BCP 47 tag names, for example ``pt`` for ``pt-BR``; None if it is not scored.

    None too for another script than the formula's (``ru-Latn``), for a private-use region (``en-XA``, by custom a
    pseudo-language) and for what is no tag at all.
    """
    lowered = tag.strip().casefold().replace("_", "-")
    if not _TAG.fullmatch(lowered):
        return None
    language, *subtags = lowered.split("-")
    script = SCRIPTS.get(language)
    if script is None or "x" in subtags:
        return None
    for subtag in subtags:
        if len(subtag) == 4 and subtag.isalpha() and subtag != script:
            return None
        if _PRIVATE_REGION.fullmatch(subtag):
            return None
    return language
