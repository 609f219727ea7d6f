"""Abbreviations: those that end in a full stop without ending a sentence, and English ones of one syllable.

Holds word lists only, by language.  Leaves out: abbreviations that are also whole words of the language ("no.", "fig."
before a figure are caught by the figure).
"""

from __future__ import annotations

# fmt: off

NEVER_ENDING: dict[str, frozenset[str]] = {
    "": frozenset({"e.g", "i.e", "cf", "vs", "dr", "prof", "nr", "tel", "st"}),
    "en": frozenset({"mr", "mrs", "ms", "approx", "incl", "excl", "esp", "dept", "viz", "mt", "jr", "sr", "eg", "ie"}),
    "es": frozenset({"p.ej", "ej", "sr", "sra", "srta", "dra", "ud", "uds", "aprox", "núm", "pág", "d", "dña"}),
    "fr": frozenset({"p.ex", "ex", "mme", "mlle", "mm", "c.-à-d", "c-à-d", "env", "cad", "no", "pr", "av"}),
    "de": frozenset(
        {"z.b", "z", "d.h", "u.a", "o.ä", "bzw", "ca", "ggf", "evtl", "inkl", "exkl", "vgl", "hr", "fr", "str", "bspw",
         "sog", "i.d.r", "u.u", "v.a", "zzgl"}
    ),
    "it": frozenset({"p.es", "es", "sig", "dott", "sigg", "ca", "pag", "dott.ssa"}),
    "pt": frozenset({"p.ex", "ex", "sr", "sra", "dra", "aprox", "pág", "núm", "av"}),
    "ru": frozenset({"т.е", "т.к", "напр", "др", "им", "г-н", "см", "рис", "стр", "ок", "прим"}),
    "sv": frozenset({"t.ex", "bl.a", "ca", "dvs", "s.k", "ev", "resp", "fr.o.m", "t.o.m"}),
    "da": frozenset({"f.eks", "bl.a", "ca", "dvs", "evt", "hhv", "pga", "inkl"}),
    "nb": frozenset({"f.eks", "bl.a", "ca", "dvs", "evt", "hhv", "pga", "inkl"}),
}
"""Language ("" = all) to abbreviations, lower case, without their last full stop, after which a sentence goes on."""

MAYBE_ENDING: frozenset[str] = frozenset(
    {"a.m", "p.m", "etc", "sec", "secs", "seg", "sek", "min", "mins", "hr", "hrs", "std", "ft", "lb", "lbs", "kg", "cm",
     "mm", "km", "u.s", "u.k", "d.c", "ecc", "usw", "usf", "м", "сек", "мин", "т.д", "т.п", "с", "г", "мм",
     "кг", "no", "fig", "figs", "vol", "max", "m", "s", "g", "h", "l", "in", "osv"}
)
"""Abbreviations that may close a sentence: they do when the next word starts high (capital, figure, uncased script)."""

BEFORE_ORDINAL: dict[str, frozenset[str]] = {
    "de": frozenset(
        {"am", "vom", "zum", "im", "ab", "beim", "der", "die", "das", "den", "dem", "des", "jede", "jeden", "jeder",
         "jedes", "jedem", "ihr", "ihre", "ihren", "ein", "eine", "einen", "und"}
    ),
    "da": frozenset({"den", "det", "de", "hver", "hvert", "og", "fra"}),
    "nb": frozenset({"den", "det", "de", "hver", "hvert", "og", "fra"}),
}
"""Words after which a figure with a full stop is an ordinal ("am 3. Tag"), in languages that write ordinals so."""

ABBREVIATIONS = frozenset((
    "kg", "g", "mg", "lb", "lbs", "oz", "cm", "mm", "km", "m", "ft", "s", "sec", "secs", "min", "mins", "h", "hr", "hrs", "ml",
    "approx", "dr", "mr", "mrs", "ms", "prof", "st", "vs", "etc", "e.g", "eg", "i.e", "ie", "max", "reps", "rep", "incl", "dept",
    "tel", "appt",
))  # fmt: skip
"""English abbreviations, lower case, that count as one syllable (Flesch 1948)."""

ACRONYMS: frozenset[str] = frozenset(
    {"ACL", "BMI", "ECG", "EKG", "EMG", "ER", "EU", "GP", "ICU", "IV", "LCL", "MCL", "MRI", "NHS", "OA", "OK", "OT",
     "PCL", "PT", "RA", "TV", "UK", "US", "USA"}
)
"""Capitals that are said letter by letter although some hold a vowel; capitals without a vowel are so anyway."""
