"""Published readability formulas, each a function of counts alone, each with its source.

Holds constants exactly as published; where sources differ, the one in use is named.  Never reads a text, never
rounds (no formula prescribes it), never judges: bands and school grades are in ``bands``.
A text without words or sentences gives the formula's value at 0 words a sentence and 0 syllables a word.
"""

from __future__ import annotations

from math import sqrt

from handouts.readability.counts import Counts

SMOG_NORMED_SENTENCES = 30
"""Sentences that SMOG was normed on (McLaughlin 1969): ten from the start, the middle and the end."""
SMOG_FEWEST_SENTENCES = 10
"""Under ten sentences SMOG is not defined; from 10 to 29 the count is scaled up to thirty and is less sure."""


def flesch_reading_ease(counts: Counts) -> float:
    """English ease, higher is easier, at most 121.22.  Flesch 1948, J Appl Psychol 32:221."""
    return 206.835 - 1.015 * counts.words_a_sentence - 84.6 * counts.syllables_a_word


def flesch_kincaid_grade(counts: Counts) -> float:
    """English, US school grade, at least -3.40.  Kincaid et al. 1975, Navy Research Branch Report 8-75."""
    return 0.39 * counts.words_a_sentence + 11.8 * counts.syllables_a_word - 15.59


def smog_exact(counts: Counts) -> float:
    """English, US school grade for full understanding.  McLaughlin 1969, J Reading 12:639; standard error 1.5159.

    Stated range: 30 sentences or more; 10 to 29 by scaling; under 10 the formula is not defined and the number
    that comes out means nothing (see ``smog_applies``).
    """
    if not counts.sentences:
        return 3.1291
    return 1.0430 * sqrt(counts.polysyllables * SMOG_NORMED_SENTENCES / counts.sentences) + 3.1291


def smog_applies(counts: Counts) -> bool:
    """Whether SMOG is defined for so short a text."""
    return counts.sentences >= SMOG_FEWEST_SENTENCES


def fernandez_huerta(counts: Counts) -> float:
    """Spanish ease.  Fernandez Huerta 1959, Consigna 214:29, with 0.60 per hundred words as corrected by Law 2011."""
    return 206.84 - 60.0 * counts.syllables_a_word - 1.02 * counts.words_a_sentence


def szigriszt_pazos(counts: Counts) -> float:
    """Spanish ease, read on the INFLESZ scale.  Szigriszt Pazos 1993, thesis, Madrid."""
    return 206.835 - 62.3 * counts.syllables_a_word - counts.words_a_sentence


def kandel_moles_a(counts: Counts) -> float:
    """French ease, form A of Kandel & Moles 1958, the form in common use.

    Another form circulates (209 - 1.15 w/s - 68 y/w); the two differ by ten points and are never mixed.
    """
    return 207.0 - 1.015 * counts.words_a_sentence - 73.6 * counts.syllables_a_word


def amstad(counts: Counts) -> float:
    """German ease.  Amstad 1978, Wie verstaendlich sind unsere Zeitungen?, thesis, Zurich."""
    return 180.0 - counts.words_a_sentence - 58.5 * counts.syllables_a_word


def wiener_sachtextformel(counts: Counts, number: int = 1) -> float:
    """German, Austrian school year (scale 4 to 15).  Bamberger & Vanecek 1984; ``number`` is 1 to 4.

    Raises ValueError for another number.
    """
    many = 100 * counts.share(counts.polysyllables)
    length = counts.words_a_sentence
    long = 100 * counts.share(counts.long_words)
    one = 100 * counts.share(counts.monosyllables)
    match number:
        case 1:
            return 0.1935 * many + 0.1672 * length + 0.1297 * long - 0.0327 * one - 0.875
        case 2:
            return 0.2007 * many + 0.1682 * length + 0.1373 * long - 2.779
        case 3:
            return 0.2963 * many + 0.1905 * length - 1.1144
        case 4:
            return 0.2744 * many + 0.2656 * length - 1.693
        case _:
            raise ValueError(f"there is no Wiener Sachtextformel {number}")


def gulpease(counts: Counts) -> float:
    """Italian ease from letters, not syllables.  Lucisano & Piemontese 1988, Scuola e Citta 3:110."""
    if not counts.words:
        return 89.0
    return 89.0 + (300.0 * counts.sentences - 10.0 * counts.letters) / counts.words


def flesch_brazilian(counts: Counts) -> float:
    """Portuguese ease: Flesch with 42 points added.  Martins et al. 1996, Notas do ICMC 28, Sao Carlos."""
    return 248.835 - 1.015 * counts.words_a_sentence - 84.6 * counts.syllables_a_word


def flesch_russian(counts: Counts) -> float:
    """Russian ease.  Oborneva 2006, with the constants that the libraries in use carry."""
    return 206.835 - 1.3 * counts.words_a_sentence - 60.1 * counts.syllables_a_word


def lix(counts: Counts) -> float:
    """Difficulty in any alphabet, higher is harder.  Bjornsson 1968, Lasbarhet.

    Units end at a full stop or a colon; long words have more than six letters.
    """
    units = counts.sentences + counts.colons
    length = counts.words / units if units else 0.0
    return length + 100 * counts.share(counts.long_words)


def osman(counts: Counts) -> float:
    """Arabic ease.  El-Haj & Rayson 2016, LREC, L16-1038; counts as in the authors' own program.

    ``counts.syllables`` is weighted (a long or stressed syllable is two).  The published figures rest on text with
    its vowel marks put in by a program; for text without marks ours are estimated (``counts.estimated_words``).
    """
    load = counts.complex_words + counts.syllables + counts.faseeh_words + counts.words_over_five
    return 200.791 - 1.015 * counts.words_a_sentence - 24.181 * counts.share(load)
