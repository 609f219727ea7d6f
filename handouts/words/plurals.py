"""The plural rules of languages, kept by the program: those of CLDR 47, as babel 2.18 has them.

A catalogue holds one text for each category, so another rule in a newer babel would make every catalogue of its language
faulty, ours too.  A change of a rule is a change of this table and of the catalogues at once.  Written by hand from here on.
"""

from __future__ import annotations

from functools import cache

from babel.plural import PluralRule

_RULES: tuple[tuple[str, dict[str, str]], ...] = (
    (
        "aa ab agq ann apc arn ba bas bew bgc bgn blt bm bo bss byn cad cch ccp cho cic co cop cu cv dav dje dua dyo dz "
        "ebu ewo frr gaa gez gn guz hnj id ie ig ii ja jbo jv kaa kam kde kea ken kgp khq ki kln km ko kok kpe ksf kxv "
        "la lkt lmo lo lrc ltg lu luo luy mai mdf mer mfe mgh mhn mi mic mni moh ms mua mus my myv mzn nds nmg nqo nus "
        "nv oc osa pis qu quc raj rhg rif rn rw sa sah sbp ses sg shn sid skr su szl tg th to tok tpi trv trw tt twq "
        "tyv vai vi vmw wal wbp wo xnr yav yo yrl yue za zgh zh",
        {},
    ),
    (
        "af an asa az bal bem bez bg brx ce cgg chr ckb dv ee el eo eu fo fur gsw ha haw hu jgo jmc ka kaj kcg kk kkj "
        "kl ks ksb ku ky lb lg mas mgo ml mn mr nb nd ne nn nnh no nr ny nyn om or os pap ps rm rof rwk saq sd sdh seh "
        "sn so sq ss ssy st syr ta te teo tig tk tn tr ts ug uz ve vo vun wae xh xog",
        {
            "one": "n in 1",
        },
    ),
    (
        "ast de en et fi fy gl ia io lij nl sc sv sw ur yi",
        {
            "one": "i in 1 and v in 0",
        },
    ),
    (
        "am as bn doi fa gu hi kn pcm zu",
        {
            "one": "i in 0 or n in 1",
        },
    ),
    (
        "ak bho csw ln mg nso pa ti wa",
        {
            "one": "n in 0..1",
        },
    ),
    (
        "ff hy kab",
        {
            "one": "i in 0,1",
        },
    ),
    (
        "ceb fil",
        {
            "one": "v in 0 and i in 1,2,3 or v in 0 and i mod 10 not in 4,6,9 or v not in 0 and f mod 10 not in 4,6,9",
        },
    ),
    (
        "da",
        {
            "one": "n in 1 or t not in 0 and i in 0,1",
        },
    ),
    (
        "is",
        {
            "one": "t in 0 and i mod 10 in 1 and i mod 100 not in 11 or t mod 10 in 1 and t mod 100 not in 11",
        },
    ),
    (
        "mk",
        {
            "one": "v in 0 and i mod 10 in 1 and i mod 100 not in 11 or f mod 10 in 1 and f mod 100 not in 11",
        },
    ),
    (
        "si",
        {
            "one": "n in 0,1 or i in 0 and f in 1",
        },
    ),
    (
        "tzm",
        {
            "one": "n in 0..1 or n in 11..99",
        },
    ),
    (
        "iu naq sat se sma smj smn sms",
        {
            "one": "n in 1",
            "two": "n in 2",
        },
    ),
    (
        "ca it lld scn vec pt_AO pt_CH pt_CV pt_GQ pt_GW pt_LU pt_MO pt_MZ pt_PT pt_ST pt_TL",
        {
            "many": "e in 0 and i not in 0 and i mod 1000000 in 0 and v in 0 or e not in 0..5",
            "one": "i in 1 and v in 0",
        },
    ),
    (
        "bs hr sr",
        {
            "few": (
                "v in 0 and i mod 10 in 2..4 and i mod 100 not in 12..14 or f mod 10 in 2..4 and f mod 100 not in "
                "12..14"
            ),
            "one": "v in 0 and i mod 10 in 1 and i mod 100 not in 11 or f mod 10 in 1 and f mod 100 not in 11",
        },
    ),
    (
        "blo ksh",
        {
            "one": "n in 1",
            "zero": "n in 0",
        },
    ),
    (
        "fr ht",
        {
            "many": "e in 0 and i not in 0 and i mod 1000000 in 0 and v in 0 or e not in 0..5",
            "one": "i in 0,1",
        },
    ),
    (
        "lv prg",
        {
            "one": (
                "n mod 10 in 1 and n mod 100 not in 11 or v in 2 and f mod 10 in 1 and f mod 100 not in 11 or v not "
                "in 2 and f mod 10 in 1"
            ),
            "zero": "n mod 10 in 0 or n mod 100 in 11..19 or v in 2 and f mod 100 in 11..19",
        },
    ),
    (
        "es",
        {
            "many": "e in 0 and i not in 0 and i mod 1000000 in 0 and v in 0 or e not in 0..5",
            "one": "n in 1",
        },
    ),
    (
        "he",
        {
            "one": "i in 1 and v in 0 or i in 0 and v not in 0",
            "two": "i in 2 and v in 0",
        },
    ),
    (
        "lag",
        {
            "one": "i in 0,1 and n not in 0",
            "zero": "n in 0",
        },
    ),
    (
        "pt",
        {
            "many": "e in 0 and i not in 0 and i mod 1000000 in 0 and v in 0 or e not in 0..5",
            "one": "i in 0..1",
        },
    ),
    (
        "ro",
        {
            "few": "v not in 0 or n in 0 or n not in 1 and n mod 100 in 1..19",
            "one": "i in 1 and v in 0",
        },
    ),
    (
        "shi",
        {
            "few": "n in 2..10",
            "one": "i in 0 or n in 1",
        },
    ),
    (
        "cs sk",
        {
            "few": "i in 2..4 and v in 0",
            "many": "v not in 0",
            "one": "i in 1 and v in 0",
        },
    ),
    (
        "dsb hsb",
        {
            "few": "v in 0 and i mod 100 in 3..4 or f mod 100 in 3..4",
            "one": "v in 0 and i mod 100 in 1 or f mod 100 in 1",
            "two": "v in 0 and i mod 100 in 2 or f mod 100 in 2",
        },
    ),
    (
        "ru uk",
        {
            "few": "v in 0 and i mod 10 in 2..4 and i mod 100 not in 12..14",
            "many": "v in 0 and i mod 10 in 0 or v in 0 and i mod 10 in 5..9 or v in 0 and i mod 100 in 11..14",
            "one": "v in 0 and i mod 10 in 1 and i mod 100 not in 11",
        },
    ),
    (
        "be",
        {
            "few": "n mod 10 in 2..4 and n mod 100 not in 12..14",
            "many": "n mod 10 in 0 or n mod 10 in 5..9 or n mod 100 in 11..14",
            "one": "n mod 10 in 1 and n mod 100 not in 11",
        },
    ),
    (
        "gd",
        {
            "few": "n in 3..10,13..19",
            "one": "n in 1,11",
            "two": "n in 2,12",
        },
    ),
    (
        "lt",
        {
            "few": "n mod 10 in 2..9 and n mod 100 not in 11..19",
            "many": "f not in 0",
            "one": "n mod 10 in 1 and n mod 100 not in 11..19",
        },
    ),
    (
        "pl",
        {
            "few": "v in 0 and i mod 10 in 2..4 and i mod 100 not in 12..14",
            "many": (
                "v in 0 and i not in 1 and i mod 10 in 0..1 or v in 0 and i mod 10 in 5..9 or v in 0 and i mod 100 in "
                "12..14"
            ),
            "one": "i in 1 and v in 0",
        },
    ),
    (
        "sl",
        {
            "few": "v in 0 and i mod 100 in 3..4 or v not in 0",
            "one": "v in 0 and i mod 100 in 1",
            "two": "v in 0 and i mod 100 in 2",
        },
    ),
    (
        "br",
        {
            "few": "n mod 10 in 3..4,9 and n mod 100 not in 10..19,70..79,90..99",
            "many": "n not in 0 and n mod 1000000 in 0",
            "one": "n mod 10 in 1 and n mod 100 not in 11,71,91",
            "two": "n mod 10 in 2 and n mod 100 not in 12,72,92",
        },
    ),
    (
        "ga",
        {
            "few": "n in 3..6",
            "many": "n in 7..10",
            "one": "n in 1",
            "two": "n in 2",
        },
    ),
    (
        "gv",
        {
            "few": "v in 0 and i mod 100 in 0,20,40,60,80",
            "many": "v not in 0",
            "one": "v in 0 and i mod 10 in 1",
            "two": "v in 0 and i mod 10 in 2",
        },
    ),
    (
        "mt",
        {
            "few": "n in 0 or n mod 100 in 3..10",
            "many": "n mod 100 in 11..19",
            "one": "n in 1",
            "two": "n in 2",
        },
    ),
    (
        "ar",
        {
            "few": "n mod 100 in 3..10",
            "many": "n mod 100 in 11..99",
            "one": "n in 1",
            "two": "n in 2",
            "zero": "n in 0",
        },
    ),
    (
        "cy",
        {
            "few": "n in 3",
            "many": "n in 6",
            "one": "n in 1",
            "two": "n in 2",
            "zero": "n in 0",
        },
    ),
    (
        "kw",
        {
            "few": "n mod 100 in 3,23,43,63,83",
            "many": "n not in 1 and n mod 100 in 1,21,41,61,81",
            "one": "n in 1",
            "two": (
                "n mod 100 in 2,22,42,62,82 or n mod 1000 in 0 and n mod 100000 in 1000..20000,40000,60000,80000 or n "
                "not in 0 and n mod 1000000 in 100000"
            ),
            "zero": "n in 0",
        },
    ),
)
"""Languages, and for each category of theirs its rule in the notation of CLDR; ``other`` is what is left."""
_OF = {name: rules for names, rules in _RULES for name in names.split()}


@cache
def plural_rule(locale: str, language: str) -> PluralRule | None:
    """The rule of a locale (``pt_PT``), or else of its language; None for a language that the table does not have."""
    rules = _OF.get(locale, _OF.get(language))
    return None if rules is None else PluralRule(rules)
