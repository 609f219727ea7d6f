"""What is counted in a text before any formula is applied.

Holds the one value that every formula takes.  Never reads a text itself: ``counting`` does.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Counts:
    """Counts of one text or of several together; all are whole numbers, 0 or more.

    A formula reads only the fields that it names; a caller that feeds a published worked example
    leaves the others at 0.
    """

    words: int
    """Running words: a contraction, a hyphenated word and a figure are one word each."""
    sentences: int
    """Sentences; each list item is at least one."""
    syllables: int = 0
    """Syllables as the language's own ease formula counts them (English: a figure or abbreviation is one).
    Arabic: weighted, a long or stressed syllable is two."""
    polysyllables: int = 0
    """Words of three syllables or more."""
    monosyllables: int = 0
    """Words of at most one syllable."""
    letters: int = 0
    """Letters and digits of the words, without joiners, marks and punctuation."""
    long_words: int = 0
    """Words of more than six letters."""
    colons: int = 0
    """Colons inside a sentence: they end a unit for LIX and for nothing else."""
    complex_words: int = 0
    """Arabic only: words with more than four vowel marks."""
    faseeh_words: int = 0
    """Arabic only: words of more than four weighted syllables with a sign of formal script."""
    words_over_five: int = 0
    """Arabic only: words of more than five letters."""
    estimated_words: int = 0
    """Arabic only: words written without vowel marks, whose syllables are estimated from their letters."""

    def __add__(self, other: Counts) -> Counts:
        return Counts(
            words=self.words + other.words,
            sentences=self.sentences + other.sentences,
            syllables=self.syllables + other.syllables,
            polysyllables=self.polysyllables + other.polysyllables,
            monosyllables=self.monosyllables + other.monosyllables,
            letters=self.letters + other.letters,
            long_words=self.long_words + other.long_words,
            colons=self.colons + other.colons,
            complex_words=self.complex_words + other.complex_words,
            faseeh_words=self.faseeh_words + other.faseeh_words,
            words_over_five=self.words_over_five + other.words_over_five,
            estimated_words=self.estimated_words + other.estimated_words,
        )

    @property
    def words_a_sentence(self) -> float:
        """Mean length of a sentence in words; 0 for an empty text."""
        return self.words / self.sentences if self.sentences else 0.0

    @property
    def syllables_a_word(self) -> float:
        """Mean length of a word in syllables; 0 for an empty text."""
        return self.syllables / self.words if self.words else 0.0

    def share(self, of_these: int) -> float:
        """``of_these`` words as a share of all words, 0 to 1; 0 for an empty text."""
        return of_these / self.words if self.words else 0.0


NOTHING = Counts(words=0, sentences=0)
"""The counts of an empty text."""
