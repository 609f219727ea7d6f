"""Whether the steps of a translation name the directions that the source names: up, out, across, forward and so on.

A translation can be fluent and send an arm the other way.  Compares words only: never looks at a figure, and never
judges a language without a table.  The tables are our own, reviewed by nobody; they know no other source.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from handouts.problems import Grade, Place, Problem
from handouts.tasks.calling import Caller
from handouts.words.state import LanguageState, TextState

OPPOSITE = {
    "up": "down",
    "down": "up",
    "in": "out",
    "out": "in",
    "forward": "back",
    "back": "forward",
    "left": "right",
    "right": "left",
    "across": "across the body",
    "across the body": "across",
}
"""Each direction and the one that a wrong translation would name; these are all that are looked for."""

_NOT_THE_BACK = "".join(f"(?<!{word} )" for word in ("your", "the", "its", "lower", "upper", "a"))
"""English words after which "back" is a part of the body or of a thing."""
NAMES: dict[str, dict[str, str]] = {
    "en": {
        "up": r"(?<!stand )(?<!sit )(?<!get )(?<!warm )(?<!line )\bup(?:wards?)?\b",
        "down": r"(?<!lie )(?<!sit )(?<!get )(?<!kneel )(?<!slow )(?<!cool )\bdown(?:wards?)?\b",
        "in": r"(?<!breathe )\bin(?= a little\b| towards?\b|[.,;]|$)|\binwards?\b",
        "out": r"(?<!breathe )\bout(?= to the side\b|,|[.;]|$)|\boutwards?\b",
        "across": r"\bacross\b(?! (?:your|the) (?:body|chest|belly|front)\b)",
        "across the body": r"\bacross (?:your|the) (?:body|chest|belly|front)\b",
        "forward": r"\bforwards?\b",
        "back": _NOT_THE_BACK + r"\bback(?:wards?)?\b(?! of\b)",
        "left": r"\b(?:your|the) left\b|\bleft (?:arm|elbow|foot|hand|hip|knee|leg|shoulder|side)\b",
        "right": r"\bto (?:your|the) right\b|\bright (?:arm|elbow|foot|hand|hip|knee|leg|shoulder|side)\b",
    },
    "es": {
        "up": r"\barriba\b(?! de\b)",
        "down": r"\babajo\b",
        "in": r"\badentro\b",
        "out": r"\bafuera\b",
        "across": r"\bal otro lado\b(?! del (?:cuerpo|pecho))|\ben diagonal\b",
        "across the body": r"\bcr[uú][zc]\w*|\botro lado del (?:cuerpo|pecho)\b|\bdelante del (?:cuerpo|pecho)\b",
        "forward": r"\bhacia (?:adelante|delante)\b",
        "back": r"\bhacia atrás\b",
        "left": r"\bizquierd[ao]s?\b",
        "right": r"\ba la derecha\b|\b(?:brazo|codo|pie|lado|hombro) derecho\b|\b(?:mano|pierna|rodilla|cadera) derecha\b",
    },
    "de": {
        "up": r"\bnach oben\b|\baufwärts\b|\bhinauf\b|\bhoch\b",
        "down": r"\bnach unten\b|\babwärts\b|\bhinunter\b|\bherunter\b",
        "in": r"\bnach innen\b|\beinwärts\b",
        "out": r"\bnach außen\b|\bauswärts\b",
        "across": r"\bauf die andere Seite\b|\bschräg\b",
        "across the body": r"\bvor (?:den|dem|Ihrem|Ihren) (?:Körper|Bauch|Brust)\b|\bkreuz\w*",
        "forward": r"\bnach vorne?\b|\bvorwärts\b",
        "back": r"\bnach hinten\b|\brückwärts\b|\bzurück\b",
        "left": r"\blink(?:s|e[nmrs]?)\b",
        "right": r"\bnach rechts\b|\brechte[nmrs]? (?:Arm|Ellbogen|Fuß|Hand|Hüfte|Knie|Bein|Schulter|Seite)\w*",
    },
    "fr": {
        "up": r"\bvers le haut\b",
        "down": r"\bvers le bas\b",
        "in": r"\bvers l['’]intérieur\b",
        "out": r"\bvers l['’]extérieur\b",
        "across": r"\bde l['’]autre côté\b(?! du corps)|\ben diagonale\b",
        "across the body": r"\bcrois\w*|\bdevant (?:le corps|la poitrine)\b",
        "forward": r"\bvers l['’]avant\b|\ben avant\b",
        "back": r"\bvers l['’]arrière\b|\ben arrière\b",
        "left": r"\bgauches?\b",
        "right": r"\bà droite\b|\b(?:bras|coude|pied|côté|genou) droit\b|\b(?:main|jambe|hanche|épaule) droite\b",
    },
    "ar": {
        "up": r"إلى (?:ال)?أعلى",
        "down": r"إلى (?:ال)?أسفل",
        "in": r"إلى الداخل|للداخل",
        "out": r"إلى الخارج|للخارج",
        "across": r"قطري|إلى الجهة الأخرى|إلى الجانب الآخر",
        "across the body": r"عبر (?:جسمك|الجسم|صدرك|الصدر|بطنك)",
        "forward": r"إلى الأمام|للأمام",
        "back": r"إلى الخلف|للخلف|إلى الوراء",
        "left": r"يسار|أيسر|يسرى",
        "right": r"يمين|أيمن|يمنى",
    },
    "vi": {
        "up": r"\blên trên\b|\blên cao\b",
        "down": r"\bxuống\b",
        "in": r"\bvào trong\b",
        "out": r"\bra ngoài\b",
        "across": r"\bchéo\b",
        "across the body": r"\bngang (?:qua )?(?:người|ngực|thân)\b",
        "forward": r"\bra trước\b|\bvề phía trước\b|\btới trước\b",
        "back": r"\bra sau\b|\bvề phía sau\b",
        "left": r"\btrái\b",
        "right": r"\b(?:bên|tay|chân|vai|phía) phải\b",
    },
    "zh": {
        "up": r"向上|往上",
        "down": r"向下|往下",
        "in": r"向内|往里|向里",
        "out": r"向外|往外",
        "across": r"斜向|向对侧",
        "across the body": r"(?:横过|越过|跨过)(?:身体|胸)|胸前",
        "forward": r"向前|往前",
        "back": r"向后|往后",
        "left": r"左",
        "right": r"右",
    },
}
"""How a direction is named so that it asks for a counterpart, by language; a noun or a phrase such as "stand up" does not."""

SAYS: dict[str, dict[str, str]] = {
    "en": {
        "up": r"\bup|\blift|\brais|\bris[ei]|\bstand|\bclimb|\btop\b|\bhigh|\babove|\bover\b",
        "down": r"\bdown|\blower|\bsink|\bsit\b|\blie\b|\bkneel|\bfloor|\bput\b|\bfall",
        "in": r"\bin|\btogether|\btoward",
        "out": r"\bout|\bside|\baway|\bopen|\bapart|\boff\b",
        "across": r"\bacross|\bside",
        "across the body": r"\bacross (?:your|the)|\bcross",
        "forward": r"\bforward|\bfront|\bahead",
        "back": r"\bback|\breturn|\bbehind",
        "left": r"\bleft",
        "right": r"\bright",
    },
    "es": {
        "up": r"arriba|\bs[uú]b|\blev[aá]|\belev|\balto|\balz|\bpár|\bender|\bencima|\bsuperior",
        "down": r"abajo|\bbaj|\bdesci|\bpiso|\bsuelo|\bsient|\bagách",
        "in": r"dentro|\bmet[ae]|\bacer|\bentr|\bjunt|\bhacia (?:el|la) ",
        "out": r"fuera|\blado|\bsaq|\bsaca|\bsep[aá]r|\babr",
        "across": r"otro lado|\bdiagonal|\ba través|\bde lado",
        "across the body": r"\bcr[uú][zc]|otro lado del|\bdelante de",
        "forward": r"delante|\bfrente|\bavan",
        "back": r"\batrás|\bvuelv|\bvolver|\bvuelt|\bregres|\btrase|\bretro|\brecu[eé]st|\bven",
        "left": r"\bizquierd",
        "right": r"\bderech",
    },
    "de": {
        "up": r"oben|auf|hoch|heb|steig|streck",
        "down": r"unten|\bab|senk|herunter|hinunter|nieder|boden|setz|leg",
        "in": r"innen|hinein|\bein|zueinander|zusammen|\bzu",
        "out": r"außen|hinaus|heraus|\baus|seite|auseinander",
        "across": r"andere seite|schräg|quer|seit",
        "across the body": r"kreuz|über|quer|vor ",
        "forward": r"vorn?\b|vorwärts|\bvor",
        "back": r"hinten|zurück|rück|wieder|hinter",
        "left": r"\blink",
        "right": r"\brecht",
    },
    "fr": {
        "up": r"\bhaut|\bl[eè]v|\brel[eè]v|\bsoul[eè]v|\bmont|\bremont|\bredress|vers vous|\bdessus",
        "down": r"\bbas\b|\bdesc|\bab?aiss|\bbaiss|\bsol\b|\bpos|\bterre|\brepos",
        "in": r"\bintérieur|\bdedans|\brentr|\bapproch|\brapproch|\bvers ",
        "out": r"\bextérieur|\bdehors|\bcôté|\bécart|\bsort|\bouvr",
        "across": r"autre côté|\bdiagonal|\btravers|\blatéral",
        "across the body": r"\bcrois|\bdevant|\btravers",
        "forward": r"\bavant|\bdevant|\bavanc",
        "back": r"\barrière|\brecul|\brev|\bramen|\bretour|\brecomm",
        "left": r"\bgauche",
        "right": r"\bdroit",
    },
    "ar": {
        "up": r"أعلى|ارفع|رفع|صاعد|صعود|اصعد|تصعد|فوق|انهض|عالي|مرفوع",
        "down": r"أسفل|انزل|أنزل|نازل|نزول|اخفض|خفض|الأرض|تحت|ضع",
        "in": r"داخل|اقترب|قرب|نحو",
        "out": r"خارج|أخرج|جانب|بعيد|افتح|تنفتح",
        "across": r"قطري|الجانب|الجهة الأخرى",
        "across the body": r"عبر|أمام (?:جسمك|صدرك)",
        "forward": r"أمام|قدم |تقدم|الأمام",
        "back": r"خلف|أرجع|ارجع|راجع|رجوع|ترجع|تعود|أعد|عد |العودة|إياب|وراء|اتكئ",
        "left": r"يسار|أيسر|يسرى",
        "right": r"يمين|أيمن|يمنى",
    },
    "vi": {
        "up": r"\blên\b|\bnâng|\bcao\b|\bkéo",
        "down": r"\bxuống|\bhạ\b|\bđặt|\bsàn",
        "in": r"\bvào|\btrong|\bhóp|\blại gần|\bvề",
        "out": r"\bra\b|\bngoài|\bsang|\bbên",
        "across": r"\bsang|\bngang|\bchéo|\bqua",
        "across the body": r"\bqua|\bngang",
        "forward": r"\btrước|\btới",
        "back": r"\bsau|\blại|\bvề|\blùi",
        "left": r"\btrái",
        "right": r"\bphải",
    },
    "zh": {
        "up": r"上|抬|举|勾|起|高",
        "down": r"下|降|放|落|低|地",
        "in": r"内|里|收|进|靠近|向",
        "out": r"外|出|侧|张开|开",
        "across": r"横|对侧|另一侧|斜|侧",
        "across the body": r"横|越过|跨过|胸前|身前",
        "forward": r"前",
        "back": r"后|回|返",
        "left": r"左",
        "right": r"右",
    },
}
"""Words that say a direction in any way, verbs too: any of them is a counterpart, by language."""

_SIDES_SAID = re.compile(r"\b(?:left|right)\b", re.IGNORECASE)
_MARKS = re.compile("[\u064b-\u0652\u0670\u0640]")
"""Vowel marks and the lengthening stroke of Arabic, which are written or not."""


@cache
def _pattern(table: str, language: str, direction: str) -> re.Pattern[str]:
    return re.compile((NAMES if table == "names" else SAYS)[language][direction], re.IGNORECASE)


def _table_of(tag: str) -> str | None:
    """The table of a BCP 47 tag: that of its language."""
    language = tag.partition("-")[0].lower()
    return language if language in NAMES else None


def _plain(text: str) -> str:
    return _MARKS.sub("", unicodedata.normalize("NFC", text))


@dataclass(frozen=True, slots=True)
class Directions:
    """The directions of one text in one language."""

    named: frozenset[str]
    """Named by an adverb that asks for a counterpart."""
    said: frozenset[str]
    """Said in any way."""


def directions_in(text: str, language: str) -> Directions | None:
    """The directions of a text; None for a language (a BCP 47 tag) without a table."""
    table = _table_of(language)
    if table is None:
        return None
    plain = _plain(text)
    found = {kind: [each for each in OPPOSITE if _pattern(kind, table, each).search(plain)] for kind in ("names", "says")}
    return Directions(frozenset(found["names"]), frozenset(found["names"] + found["says"]))


SIDES = ("left", "right")
"""Directions that are looked for in every text of an exercise; the others say too many other things outside steps."""


def find_direction_faults(
    source: str, translation: str, languages: tuple[str, str], place: Place, only: tuple[str, ...] = tuple(OPPOSITE)
) -> tuple[Problem, ...]:
    """A notice for each direction that a translation lacks or turns round; ``languages`` are those of both texts."""
    return tuple(_direction_faults(source, translation, languages, place, only))


def _direction_faults(source: str, translation: str, languages: tuple[str, str], place: Place, only: tuple[str, ...]) -> Iterator[Problem]:
    kind = "text" if only == SIDES else "step"
    asked, given = directions_in(source, languages[0]), directions_in(translation, languages[1])
    if asked is None or given is None:
        return
    for direction, opposite in OPPOSITE.items():
        turned = opposite in given.named and opposite not in asked.said
        lost = direction not in given.said
        if direction in only and direction in asked.named and (lost or turned):
            says = f"says '{opposite}'" if turned else f"has no word for '{direction}'"
            where = f"where the source text says '{direction}'" if turned else "of the source text"
            yield Problem(
                place,
                "translation-direction",
                f"the translation of this {kind} {says} {where}",
                "Compare it with the figure and name the same direction; once the translation is reviewed, "
                "this is no longer asked.",
                Grade.NOTICE,
            )


Compared = tuple[str, str, Place, bool]
"""A text of an exercise, its translation and where that stands, and whether it is a step."""


def find_lost_directions(state: LanguageState, source: str, call: Caller) -> tuple[Problem, ...]:
    """The notices on texts of exercises in a language that nobody has reviewed; ``source`` is the library's own language.

    Steps are asked for every direction, other texts for left and right.
    """
    found: dict[tuple[str, str], tuple[Problem, ...]] = {}
    languages = (source, state.language)
    for owner in state.owners.values():
        entries = {
            text.message.key: (text.entry, text.message.name == "step")
            for text in (() if owner.reviewed else owner.texts)
            if text.message.context.startswith("exercise/") and text.state is TextState.USABLE and text.entry is not None
        }
        asked = {key: each for key, each in entries.items() if each[1] or _SIDES_SAID.search(each[0].source) or source != "en"}
        rows = tuple((entry.source, entry.text, entry.place, is_step) for entry, is_step in asked.values())
        found |= zip(asked, call(find_all_direction_faults, rows, languages) if rows else (), strict=True)
    return tuple(problem for problems in found.values() for problem in problems)


def find_all_direction_faults(texts: tuple[Compared, ...], languages: tuple[str, str]) -> tuple[tuple[Problem, ...], ...]:
    """The notices on each of the texts of an exercise."""
    return tuple(
        find_direction_faults(source, translation, languages, place, tuple(OPPOSITE) if is_step else SIDES)
        for source, translation, place, is_step in texts
    )
