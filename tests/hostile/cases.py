"""Hostile libraries: the small library with one file exchanged for something that must be refused.

Each case names the file that has to be named in the refusal.  Made from tables and loops, so that the same
list comes out each time; what is said of each stands in ``messages.tsv`` (``python -m tests.hostile.run --write``).
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.hostile.payloads import XSS
from tests.small_library import TEXTS, texts_with

FOOT, CLINIC, BUNDLE, PROGRAMME = "exercises/foot-lift.md", "clinic.yaml", "bundles/first-days.yaml", "programmes/stand-up.md"
TITLE = "title: Foot lift"


@dataclass(frozen=True)
class Case:
    """One change of the small library."""

    name: str
    path: str
    """Where it is put, and the file that must be named, with ``/``."""
    data: bytes = b""
    put: Callable[[Path], None] | None = None
    """In place of ``data``: makes what is no ordinary file at the path."""
    clinic: str = ""
    """Another clinic.yaml, where the case needs one."""


def edited(name: str, path: str, *edits: tuple[str, str]) -> Case:
    """A case that changes a few places of one file."""
    return Case(name, path, texts_with(path, *edits)[path].encode("utf-8", "surrogatepass"))


def _signs() -> Iterator[int]:
    """Every control, bidirectional and shapeless character that is refused."""
    yield from (point for point in (*range(0x20), *range(0x7F, 0xA0)) if chr(point) not in "\t\n\r")
    yield from (0x200B, 0x2028, 0x2029, *range(0x202A, 0x202F), 0x2060, *range(0x2066, 0x206A), 0xFEFF, 0xFFF9, 0xFFFD, 0xFFFE, 0xFFFF, 0xFDD0, 0x1FFFE, 0xE0041, 0x10FFFF)


def characters() -> Iterator[Case]:
    """Each raw in the keys, raw in the text below, and as an escape; bytes that are no UTF-8."""
    for point in _signs():
        yield edited(f"raw U+{point:04X}", FOOT, (TITLE, f"title: Foot{chr(point)}lift"))
        yield edited(f"escaped U+{point:04X}", FOOT, (TITLE, f'title: "Foot\\U{point:08x}lift"'))
    for point in (0x00, 0x1B, 0x85, 0x202E, 0x2028):
        yield edited(f"below U+{point:04X}", FOOT, ("Lift your foot.", f"Lift{chr(point)} your foot."))
    for point in (0xD800, 0xDBFF, 0xDC00, 0xDFFF):
        yield edited(f"escaped surrogate U+{point:04X}", FOOT, (TITLE, f'title: "Foot\\u{point:04x}lift"'))
        yield edited(f"raw surrogate U+{point:04X}", FOOT, (TITLE, f"title: Foot{chr(point)}lift"))
    text = TEXTS[FOOT].replace(TITLE, "title: Café lift")
    for encoding in ("utf-16", "utf-16-le", "utf-16-be", "utf-32", "latin-1", "cp1252", "cp037"):
        yield Case(f"saved as {encoding}", FOOT, text.encode(encoding))
    for name, data in (("overlong", b"\xc0\xaf"), ("cut", b"\xe2\x80"), ("lone tail", b"\x80"), ("too high", b"\xf4\x90\x80\x80"), ("five bytes", b"\xf8\x88\x80\x80\x80")):
        yield Case(f"UTF-8 {name}", FOOT, TEXTS[FOOT].encode().replace(b"Foot lift", b"Foot " + data))
    yield Case("empty", FOOT, b"")
    yield Case("nothing but zeros", FOOT, bytes(4096))
    yield Case("two marks of byte order", FOOT, b"\xef\xbb\xbf" * 2 + TEXTS[FOOT].encode())


def _bomb(levels: int) -> str:
    return "a0: &a0 x\n" + "".join(f"a{level}: &a{level} [{', '.join([f'*a{level - 1}'] * 9)}]\n" for level in range(1, levels + 1))


def features() -> Iterator[Case]:
    """What YAML can do beyond keys, lists and texts."""
    for levels in range(1, 13):
        yield edited(f"bomb of {levels} levels", FOOT, (f"{TITLE}\n", f"{TITLE}\n{_bomb(levels)}"))
    for tag in ("!!python/object/apply:os.system", "!!python/name:os.system", "!!binary", "!!set", "!!omap", "!!int", "!!str", "!!timestamp", "!!merge", "!x", "!<tag:x>", "!!null"):
        yield edited(f"tag {tag}", FOOT, (TITLE, f"title: {tag} x"))
    rows = {
        "anchor": "title: &a Foot lift", "alias": "title: *a", "merge": "<<: {a: b}", "merge of an alias": "<<: *a", "second document": f"{TITLE}\n...\n--- x", "directive": f"%YAML 1.1\n{TITLE}",
        "tab": "title:\n\t- x", "tab after key": "title:\tx\n\ty: z", "complex key": "? [a]\n: b", "key of a mapping": "{a: b}: c", "empty key": ": x", "number as key": "1: x",
        "open quote": 'title: "Foot', "open single quote": "title: 'Foot", "open list": "title: [a", "open mapping": "title: {a: b", "colon": "title: Sit: stand",
        "at sign": "title: @x", "grave": "title: `x`", "percent": "title: %x", "bad escape": 'title: "\\q"', "block without indent": "title: |\nx", "two values": "title: a\n  b: c",
        "list in place of a text": "title: [a]", "mapping in place of a text": "title: {a: b}", "nothing": "title:", "tilde": "title: ''", "unknown key": f"{TITLE}\n__proto__: x",
        "known key in capitals": f"{TITLE}\nTitle: x", "key with a space at its end": f'{TITLE}\n"title ": x', "look-alike key": f"{TITLE}\nсode: B333",
    }  # fmt: skip
    for name, text in rows.items():
        yield edited(f"yaml {name}", FOOT, (TITLE, text))
    for depth in (9, 30, 1001, 20_000):
        yield edited(f"lists {depth} deep", FOOT, (TITLE, "title: " + "[" * depth + "]" * depth))
        yield edited(f"mappings {depth} deep", FOOT, (TITLE, "title: " + "{a: " * depth + "}" * depth))
        yield edited(f"dashes {depth} deep", FOOT, (TITLE, "title:\n  " + "- " * depth + "x"))
        yield edited(f"questions {depth} deep", FOOT, (TITLE, "? " * depth + "x"))
    for path, line in (
        (FOOT, TITLE), (FOOT, "purpose: strength"), (CLINIC, "name: Test Clinic"), (CLINIC, "reading level: 6"), (BUNDLE, "weeks: 2"), (PROGRAMME, "weeks: 6"),
        ("tiers.yaml", "tiers:"), ("vocabulary.yaml", "bands: [{slug: light, name: Light}]"), ("cautions.yaml", "cautions:"),
    ):  # fmt: skip
        yield edited(f"given twice {line.partition(':')[0]} in {path}", path, (f"{line}\n", f"{line.partition(':')[0]}: x\n{line}\n"))
    for inside in ("{sets: 2,", "{sets: 1-3,", "review: {on: 2026-09-14,", "mistakes: [{see: You lean back.,"):
        key = inside.rpartition("{")[2].partition(":")[0]
        yield edited(f"given twice inside {key} {inside[:8]}", FOOT, (inside, f"{inside} {key}: 9,"))


_IMPLICIT = ("no", "yes", "1:30", "12:30:45", "012", "08", "1_000", "+4", "4.", "0x1F", "0b11", "0o7", "1e1", ".inf", ".nan", "~", "null", "-1", "0", "٣", "３", "²", "1.5", "2026-03-09", "9" * 5000)


def values() -> Iterator[Case]:
    """Every implicit type of YAML in fields that want something else; path tricks as names."""
    for field, old in (("sets", "sets: 2,"), ("reps", "reps: 10,"), ("days", "days: 3,")):
        for value in _IMPLICIT:
            yield edited(f"{field} {value[:12]}", FOOT, (old, f"{field}: {value},"))
    for value in (*_IMPLICIT, "60", "60 h", "1 s s", "9999 min"):
        yield edited(f"rest {value[:12]}", FOOT, ("rest: 60 s,", f"rest: {value},"))
    for value in ("2026-9-14", "2026-02-30", "14.09.2026", "2026-09-14T00:00:00", "0000-00-00", "٢٠٢٦-٠٩-١٤", "no"):
        yield edited(f"date {value}", FOOT, ("on: 2026-09-14", f"on: {value}"))
    for value in ("A22", "A2222", "a222", "2222", "A1O2", "A222\u200e", "../A", "Α222"):
        yield edited(f"code {value}", FOOT, ("code: A222", f"code: {value}"))
    for value in NAMES:
        yield edited(f"tier named {value[:20]!r}", FOOT, ("tier: wake", f"tier: {json.dumps(value)}"))
        yield edited(f"bundle of {value[:20]!r}", BUNDLE, ("[foot-lift,", f"[{json.dumps(value)},"))
    for site in (
        "http://clinic.example/", "https://clinic.example", "javascript:alert(1)//", "https://a@clinic.example/", "https://clinic.example/../", "https://clinic.example/?x/", "https://clinic.example/#/",
        "https://сlinic.example/", "//clinic.example/", "file:///etc/", "https://clinic.example/a b/", "https://clinic.example/%2e%2e/", "https:///",
    ):  # fmt: skip
        yield edited(f"site {site}", CLINIC, ("site: https://clinic.example/", f"site: {json.dumps(site)}"))
    for old, new in (
        ("phone: 555-0100", 'phone: "javascript:1"'), ("source: en", "source: ../en"), ("source: en", "source: xx-yy"), ("source: en", "source: tlh"), ("source: en", "source: sw"), ('accent: "#0f5e6b"', 'accent: "#ffff00"'),
        ('accent: "#0f5e6b"', 'accent: "url(x)"'), ('accent: "#0f5e6b"', 'accent: "#0f5e6b;}"'), ("papers: [letter, a4]", "papers: [../a4]"), ('number: "911"', 'number: "9<b>"'), ("reading level: 6", "reading level: 1e9"),
    ):  # fmt: skip
        yield edited(f"clinic {new}", CLINIC, (old, new))


def sizes() -> Iterator[Case]:
    """Too much of everything."""
    foot = TEXTS[FOOT]
    rows = {
        "keys of 65 KiB": foot.replace(TITLE, "title: " + "x" * 66_000), "ten thousand keys": foot.replace(TITLE, "".join(f"k{number}: 1\n" for number in range(6000)) + TITLE),
        "long title": foot.replace(TITLE, "title: " + "word " * 20), "long word": foot.replace(TITLE, "title: " + "x" * 200), "ten thousand cues": foot.replace("[Sit tall.]", "[" + "a, " * 10_000 + "a]"),
        "sources without end": foot.replace('["common practice, no source"]', "[" + "a, " * 30 + "a]"), "body of 65 KiB": foot + "Lift. " * 12_000, "paragraph of 3,000 signs": foot + "\n" + "Lift. " * 500,
        "ten thousand headings": foot + "\n## a" * 9000 + "\n" + "x" * 30_000, "list in a list": foot + "\n1. a\n   1. b\n", "hundred links": foot + "\n" + "[a](https://a.example) " * 120,
        "brackets": foot + "\n" + "[" * 1900, "pictures": foot + "\n" + "![" * 900, "cdata": foot + "\n" + "<![CDATA[" * 200, "grave marks": foot + "\n" + "`" * 1900, "stars without end": foot + "\n" + "*a " * 1500,
        "dashes": foot + "\n" + "- " * 900 + "x <b>", "quotes": foot + "\n" + ">" * 900, "one number of 60,000 digits": foot.replace("sets: 2,", f"sets: {'9' * 60_000},"), "no fence": foot.removeprefix("---\n"),
        "fence not closed": foot.replace("---\n## How", "## How"), "text before a heading": foot.replace("## How to do it\n", ""), "first heading": foot.replace("## How", "# How"), "table": foot + "\n| a | b |\n",
        "code": foot + "\n```\nx\n```\n", "indented": foot + "\n\n    x\n", "rule": foot + "\n\n***\n", "html block": foot + "\n\n<div>\n\nx\n\n</div>\n", "carriage returns": foot.replace("\n", "\r").replace("tier: wake", "tier: woke"),
        "windows lines": foot.replace("\n", "\r\n").replace("tier: wake", "tier: woke"),
    }  # fmt: skip
    for name, text in rows.items():
        yield Case(f"size {name}", FOOT, text.encode())
    yield Case("file of 9 MiB", FOOT, b"x" * (9 * 1024 * 1024))
    yield Case("tiers of 65 KiB", "tiers.yaml", ("tiers:\n" + "  - {slug: a, name: A, means: B}\n" * 2100).encode())
    yield Case("a hundred tiers", "tiers.yaml", ("tiers:\n" + "  - {slug: a, name: A, means: B}\n" * 100).encode())


def markup() -> Iterator[Case]:
    """Each attack as a text of an exercise."""
    for number, payload in enumerate(XSS):
        yield edited(f"attack {number:03}", FOOT, ("why: You use this each time you stand up.", f"why: {json.dumps(payload, ensure_ascii=False)}"))
    for number, payload in enumerate(XSS[::10]):
        yield Case(f"attack below {number:03}", FOOT, (TEXTS[FOOT] + f"\n{payload}\n").encode())


NAMES = (
    "../x", "../../etc/passwd", "/etc/passwd", "a/b", "a\\b", "..", ".", "a..b", "%2e%2e%2fx", "..%2fsecret", "con", "nul", "aux", "prn", "com1", "lpt9", "CON", "a:b", "a.", "a ", " a", "a\nb",
    "a\x00b", "a\u202eb", "Squat", "SQUAT", "café", "cafe\u0301", "ﬁt", "straße", "сquat", "a_b", "a--b", "-a", "a-", "", "a" * 65, "~", "$HOME", "`id`", "$(id)", "a;b", "a|b", "a&b", "<b>",
    "a'b", 'a"b', "*", "?", "file:x", "C:x", "a\u200bb", "\ufeffa", "１２", "constructor", "__proto__", "hasOwnProperty",
)  # fmt: skip
"""Names that are no names here; some are words that a script takes for its own."""
_ON_DISK = ("con", "nul", "aux", "prn", "com1", "lpt9", "CON", "a:b", "a ", "a\nb", "a\u202eb", "Squat", "SQUAT", "café", "cafe\u0301", "ﬁt", "straße", "сquat", "a_b", "a--b", "-a", "a-", "a" * 65,
            "%2e%2e%2fsecret", "$HOME", "`id`", "a;b", "a|b", "<b>", "a'b", "*", "?", "a\\b", "é" * 120)  # fmt: skip


def names() -> Iterator[Case]:
    """Files whose names cannot be published, and what is no file."""
    for name in _ON_DISK:
        yield Case(f"file {name[:20]!r}", f"exercises/{name}.md", TEXTS[FOOT].encode())
    yield Case("file of bytes", os.fsdecode(b"exercises/caf\xe9.md"), TEXTS[FOOT].encode())
    yield Case("file in a folder", "exercises/a/b.md", TEXTS[FOOT].encode())
    yield Case("file with another ending", "exercises/foot.txt", b"x")
    yield Case("file that is unknown", "exercise/foot.md", b"x")
    yield Case("file at the top", "evil.html", b"<script>")
    yield Case("words of no language", "words/evil.html", b"<script>")
    yield Case("link to a file", FOOT, put=lambda path: path.symlink_to("/etc/passwd"))
    yield Case("link to a folder", "exercises/more", put=lambda path: path.symlink_to("/etc"))
    yield Case("link to itself", "exercises/loop", put=lambda path: path.symlink_to(path))
    yield Case("link to nothing", FOOT, put=lambda path: path.symlink_to("nothing"))
    yield Case("pipe", FOOT, put=os.mkfifo)
    yield Case("folder in place of a file", FOOT, put=lambda path: (path.mkdir(), (path / "x").write_text("x"))[0])
    yield Case("folders without end", "exercises/a/a/a/a/a/a/a", put=lambda path: (path / "a/a/a").mkdir(parents=True))


_HEAD = 'msgid ""\nmsgstr ""\n"Language: es\\n"\n"Plural-Forms: nplurals=3; plural=0;\\n"\n\n'
_ONE = 'msgctxt "exercise/A222/title"\nmsgid "Foot lift"\nmsgstr "Levantar el pie"\n'
ALSO = TEXTS[CLINIC].replace("languages: {source: en}", "languages: {source: en, also: [es]}")


def catalogues() -> Iterator[Case]:
    """Translations, glossaries, reviews, ledgers and answers that are no such thing."""
    rows = {
        "open quote": _HEAD + _ONE.replace('pie"', "pie"), "keyword": _HEAD + 'msgtxt "a"\n', "only a translation": _HEAD + 'msgstr "a"\n', "twice": _HEAD + _ONE + "\n" + _ONE, "wrong language": _HEAD.replace("es", "fr") + _ONE,
        "no header": _ONE, "html file": "<!doctype html><p>x", "xliff": "<xliff/>", "merge marks": "<<<<<<< HEAD\n" + _HEAD + _ONE,
        "wrong plural": _HEAD.replace("nplurals=3", "nplurals=2") + 'msgid "{n} set"\nmsgid_plural "{n} sets"\nmsgstr[0] "a"\nmsgstr[1] "b"\n', "number too high": _HEAD + 'msgid "a"\nmsgid_plural "b"\nmsgstr[99999999999] "c"\n',
        "escape without end": _HEAD + 'msgid "a\\"\nmsgstr "b"\n', "binary": "\ufffd" * 30, "nothing but comments": "# a\n" * 10, "backslash": _HEAD + 'msgid "\\"\n',
    }  # fmt: skip
    for name, text in rows.items():
        yield Case(f"catalogue {name}", "words/es.po", text.encode(), clinic=ALSO)
    yield Case("catalogue mo file", "words/es.po", b"\xde\x12\x04\x95" + bytes(40), clinic=ALSO)
    yield Case("catalogue of UTF-16", "words/es.po", (_HEAD + _ONE).encode("utf-16"), clinic=ALSO)
    yield Case("catalogue of 9 MiB", "words/es.po", b"# x\n" * 2_400_000, clinic=ALSO)
    for path in ("words/glossary.yaml", "words/es.reviews.yaml", "ledger.yaml"):
        for name, text in (("list", "- a\n"), ("alias", "a: &b c\n"), ("unknown", "__proto__: []\n"), ("deep", "a: " + "[" * 99 + "]" * 99), ("bomb", _bomb(9)), ("open", 'a: "'), ("zero", 'a: "\\0"\n')):
            yield Case(f"{path} {name}", path, text.encode())


def bases() -> Iterator[Case]:
    """Bases that are none, or lie where none may lie; fonts that are none."""
    rows = ("/", "/etc", "//host/share", "~/base", "..", "../..", "../../../../../../etc", "../lib", "../lib/exercises", "../out", "../nowhere", "exercises", "./base", "../a/../b",
            "../a/./b", "file:///etc", "https://evil.example/", "../a b/..", "../.hidden", "'../a\\b'", "[../a]", "{a: b}", '"../a\\0"', '"../a\\u202eb"', "../" + "a/" * 40)  # fmt: skip
    for text in rows:
        yield edited(f"base {text[:40]}", CLINIC, ("papers: [letter, a4]", f"base: {text}\npapers: [letter, a4]"))
    for text in ("[a]", "{A222: 3}", "{A222: {sets: 0}}", "{A222: {sets: 3, sets: 30}}", "{__proto__: {sets: 1}}", "{a: {sets: 1}}"):
        yield edited(f"doses {text}", CLINIC, ("papers: [letter, a4]", f"doses: {text}\npapers: [letter, a4]"))
    for text in ("[a]", "{A222: a}", "{A222: {build: [../x]}}", "{../x: [foot-lift]}"):
        yield edited(f"order {text}", CLINIC, ("papers: [letter, a4]", f"order: {text}\npapers: [letter, a4]"))
    font = "[{languages: [el], regular: %s, bold: b.ttf, licence: free, licence file: l.txt, source: x}]"
    for file in ("../a.ttf", "/etc/passwd", "a.exe", "a.ttf/b", "nowhere.ttf"):
        yield edited(f"font {file}", CLINIC, ("papers: [letter, a4]", f"fonts: {font % file}\npapers: [letter, a4]"))
    yield Case("link to a font", "fonts/a.ttf", put=lambda path: path.symlink_to("/etc/passwd"))


def figures() -> Iterator[Case]:
    """Poses that are no poses."""
    rows = (
        "{base: standin}", "{base: [sitting]}", "{base: {a: b}}", "{base: sitting, evil: 1}", "{base: sitting, end: {knee: 1e9}}", "{base: sitting, end: {knee: 999999}}", "{base: sitting, end: {knee: .inf}}",
        "{base: sitting, end: {knee: .nan}}", "{base: sitting, end: {knee: flex}}", "{base: sitting, end: {knee: flex ٣٠}}", "{base: sitting, end: {knee.x: 3}}", "{base: sitting, end: [knee]}", "{base: sitting, end: {knee: [1, 2]}}",
        "{base: sitting, lean: 1_0}", "{base: sitting, lean: inf}", "{base: sitting, view: [1]}", "{base: sitting, view: [nan, 0]}", "{base: sitting, view: '<svg onload=x>'}", "{base: sitting, contacts: [foot]}",
        "{base: sitting, contacts: {a: b}}", "{base: sitting, contacts: [../etc floor]}", "{base: sitting, props: {chair: '<script>'}}", "{base: sitting, props: {../x: seat}}", "{base: sitting, arrow: javascript:x}",
        "{base: sitting, active: ['<b>']}", "{base: sitting, balance: maybe}", "{base: sitting, base: prone}", "[a]", "sitting", "{}",
    )  # fmt: skip
    for text in rows:
        yield edited(f"figure {text}", FOOT, ("figure: {base: sitting}", f"figure: {text}"))


def all_cases() -> tuple[Case, ...]:
    """Every case; names are unique."""
    found = tuple(case for family in (characters, features, values, sizes, markup, names, catalogues, bases, figures) for case in family())
    doubled = [case.name for number, case in enumerate(found) if case.name in {other.name for other in found[:number]}]
    if doubled:
        raise ValueError(f"two cases have one name: {doubled}")
    return found
