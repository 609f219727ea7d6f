"""Published readability formulas, each a function of counts alone, each with its source.

Holds constants exactly as published; where sources differ, the one in use is named.  Never reads a text, never
rounds (no formula prescribes it), never judges: bands and school grades are in ``bands``.
A text without words or sentences gives the formula's value at 0 words a sentence and 0 syllables a word.
"""

from __future__ import annotations

from handouts.readability.counts import Counts


def flesch_kincaid_grade(counts: Counts) -> float:
    """English, US school grade, at least -3.40.  Kincaid et al. 1975, Navy Research Branch Report 8-75."""
    return 0.39 * counts.words_a_sentence + 11.8 * counts.syllables_a_word - 15.59


def szigriszt_pazos(counts: Counts) -> float:
    """Spanish ease, read on the INFLESZ scale.  Szigriszt Pazos 1993, thesis, Madrid."""
    return 206.835 - 62.3 * counts.syllables_a_word - counts.words_a_sentence


def kandel_moles_a(counts: Counts) -> float:
    """French ease, form A of Kandel & Moles 1958, the form in common use.

    Another form circulates (209 - 1.15 w/s - 68 y/w); the two differ by ten points and are never mixed.
    """
    return 207.0 - 1.015 * counts.words_a_sentence - 73.6 * counts.syllables_a_word


def wiener_sachtextformel(counts: Counts) -> float:
    """German, Austrian school year (scale 4 to 15): the first of four forms.  Bamberger & Vanecek 1984."""
    many, long, one = (100 * counts.share(part) for part in (counts.polysyllables, counts.long_words, counts.monosyllables))
    return 0.1935 * many + 0.1672 * counts.words_a_sentence + 0.1297 * long - 0.0327 * one - 0.875


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
