"""Documents as drafts: what is put in its place, what stays a remark, which gaps are named, and hostile files."""

from __future__ import annotations

import contextlib
import csv
import io
import re
import sys
import zipfile
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts.cli import main
from handouts.commands import import_files as take_in
from handouts.commands.import_files import DOCUMENTS
from handouts.importers.archive import MOST_DEPTH
from handouts.importers.dose_words import find_dose
from handouts.importers.draft import place_of, take_in_document
from handouts.importers.lines import MOST_BYTES, DocumentError, LineKind, SourceLine, tidy
from handouts.importers.office import read_odt, read_word
from handouts.importers.plain import read_html, read_pdf, read_text
from handouts.importers.safety_words import part_line
from handouts.importers.sheet import read_csv
from handouts.importers.table import take_in_table
from handouts.library.read import read_exercise
from handouts.problems import show_problem
from handouts.workers import Bounds
from tests.test_cli import TODAY, write

W = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"'
ODF = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"'
)


def archive(member: str, text: str | bytes, **more: bytes) -> bytes:
    """A zip file with one member."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr(member, text)
        for name, data in more.items():
            packed.writestr(name, data)
    return out.getvalue()


def docx(body: str) -> bytes:
    """A word processor's document."""
    return archive("word/document.xml", f"<w:document {W}><w:body>{body}</w:body></w:document>")


def odt(body: str) -> bytes:
    """An OpenDocument text."""
    return archive("content.xml", f"<office:document-content {ODF}><office:body><office:text>{body}</office:text></office:body></office:document-content>")


def word(text: str, style: str = "", item: bool = False) -> str:
    """A paragraph."""
    marks = (f'<w:pStyle w:val="{style}"/>' if style else "") + ("<w:numPr/>" if item else "")
    return f"<w:p><w:pPr>{marks}</w:pPr><w:r><w:t>{text}</w:t></w:r></w:p>"


def pdf(*lines: str) -> bytes:
    """One page of Helvetica."""
    shown = "BT /F1 12 Tf 72 720 Td 14 TL " + " ".join(f"({line}) Tj T*" for line in lines) + " ET"
    objects = [
        "<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>",
        "<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F1 5 0 R>>>>>>",
        f"<</Length {len(shown)}>>stream\n{shown}\nendstream", "<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
    ]  # fmt: skip
    body, places = "%PDF-1.4\n", []
    for number, each in enumerate(objects, 1):
        places.append(len(body))
        body += f"{number} 0 obj{each}endobj\n"
    table = "".join(f"{place:010} 00000 n \n" for place in places)
    return (body + f"xref\n0 6\n0000000000 65535 f \n{table}trailer<</Root 1 0 R/Size 6>>\nstartxref\n{len(body)}\n%%EOF").encode()


LEAFLET = {
    ".docx": docx(
        word("Toe wave", "Heading1") + word("Why", "Heading2") + word("You use your toes to balance.") + word("How to do it", "Heading2")
        + word("Sit on a chair.", item=True) + word("Lift your toes.", item=True) + word("Do 3 sets of 10, hold for 5 seconds.")
        + word("Stop if", "Heading2") + word("It hurts.")
    ),
    ".odt": odt(
        '<text:h text:outline-level="1">Toe wave</text:h><text:h text:outline-level="2">Why</text:h><text:p>You use your <text:span>toes</text:span> to balance.</text:p>'
        '<text:h text:outline-level="2">How to do it</text:h><text:list><text:list-item><text:p>Sit on<text:s/>a chair.</text:p></text:list-item>'
        "<text:list-item><text:p>Lift your toes.</text:p></text:list-item></text:list><text:p>Do 3 sets of 10, hold for 5 seconds.</text:p>"
        '<text:h text:outline-level="2">Stop if</text:h><text:p>It hurts.</text:p>'
    ),
    ".html": b"<!doctype html><head><title>x</title><style>p{}</style><body><h1>Toe&nbsp;wave</h1><h2>Why</h2><p>You use your <b>toes</b> to balance.</p>"
             b"<h2>How to do it</h2><ol><li>Sit on a chair.<li>Lift your toes.</ol><p>Do 3 sets of 10, hold for 5 seconds.</p><script>alert(1)</script><h2>Stop if</h2>It hurts.",
    ".txt": b"Toe wave\n\nWhy:\nYou use your toes to balance.\n\nHow to do it\n1. Sit on a chair.\n2) Lift your toes.\nDo 3 sets of 10, hold for 5 seconds.\n\nStop if\nIt hurts.\n",
    ".md": b"# Toe wave\n## Why\nYou use your toes to balance.\n## How to do it\n- Sit on a chair.\n- Lift your toes.\n\nDo 3 sets of 10, hold for 5 seconds.\n## Stop if\nIt hurts.\n",
    ".pdf": pdf("Toe wave", "Why", "You use your toes to", "balance.", "How to do it", "1. Sit on a chair.", "2. Lift your toes.",
                "Do 3 sets of 10, hold for 5 seconds.", "Stop if", "It hurts."),
}  # fmt: skip
DRAFT = """\
---
code: {code}
title: Toe wave
why: {why}
# Read in leaflet{kind}, sets: “3 sets”; reps: “3 sets of 10”; hold: “hold for 5 seconds”.
# Confirm the dose, then take away the first sign of the next line.
# dose: {{sets: 3, reps: 10, hold: 5 s}}
# tier:   (a gap: its tier, from tiers.yaml)
# regions:   (a gap: parts of the body, from vocabulary.yaml)
# purpose:   (a gap: what it trains, from vocabulary.yaml)
# position:   (a gap: starting position, from vocabulary.yaml)
# equipment:   (a gap: things to fetch first, from vocabulary.yaml)
# cues:   (a gap: what to think of, one short sentence each)
# feel:   (a gap: what it should feel like, where, how strong)
# mistakes:   (a gap: what people get wrong)
# cautions:   (a gap: cautions and stop rules, from cautions.yaml)
# review:   (a gap: when and by which role it was reviewed)
# sources:   (a gap: where the exercise and its dose come from)
# WAITS FOR A PERSON: these sentences read like a stop rule, a caution or a dose, so no step was made of them.
#   dose: Do 3 sets of 10, hold for 5 seconds.
# What found no place in leaflet{kind}:
#   stop: It hurts.
---
## How to do it

1. Sit on a chair.
2. Lift your toes.
"""


def draft_of(kind: str, data: bytes) -> dict[str, str]:
    """The drafts of a document."""
    taken = take_in_document(tidy(DOCUMENTS[kind](data)), f"leaflet{kind}")
    return {path: text.decode() for path, text in taken.files.items()}


@pytest.mark.parametrize("kind", LEAFLET)
def test_the_same_leaflet_in_each_format(kind: str) -> None:
    """Each gives the same draft: title, reason and steps in their place, the dose behind a mark, the rest as a remark."""
    ((path, text),) = draft_of(kind, LEAFLET[kind]).items()
    code = text.split("code: ")[1][:4]
    assert path == "exercises/toe-wave.md"
    assert text == DRAFT.format(code=code, kind=kind, why="You use your toes to balance.")


def test_every_kind_is_tried() -> None:
    """No format is read without a leaflet in it here."""
    assert set(LEAFLET) | {".htm"} == set(DOCUMENTS)


def test_a_draft_cannot_be_published() -> None:
    """Read as an exercise a draft lacks its dose and each gap; with the first sign taken away the dose is read."""
    text = draft_of(".txt", LEAFLET[".txt"])["exercises/toe-wave.md"]
    exercise, problems = read_exercise(text.encode(), "f", "toe-wave")
    assert exercise is None
    assert "an exercise has no 'dose'" in " ".join(show_problem(each) for each in problems)
    confirmed = text.replace("# dose:", "dose:")
    _, problems = read_exercise(confirmed.encode(), "f", "toe-wave")
    assert problems and not any("has no 'dose'" in show_problem(each) for each in problems)


def test_problems_name_gaps_and_dose() -> None:
    """One for what is missing, one for the dose that waits, with what to do."""
    taken = take_in_document(tidy(DOCUMENTS[".txt"](LEAFLET[".txt"])), "leaflet.txt")
    assert [show_problem(each) for each in taken.problems] == [
        "exercises/toe-wave.md:1:1: error: 'Toe wave' has no tier; no regions; no purpose; no position; no equipment; no cues; no feel; no mistakes; "
        "no cautions; no review; no sources. Fill the gaps that the draft names, from its remarks where they say it. [document-gaps]",
        "exercises/toe-wave.md:1:1: error: the dose of 'Toe wave' is not confirmed: sets 3, reps 10, hold 5 s. "
        "Compare it with the document, then take away the sign before 'dose'. [document-dose]",
        "exercises/toe-wave.md:1:1: error: 1 sentence among the steps of 'Toe wave' read like a stop rule, a caution or a dose, so no step was made of them. "
        "Read them in the remarks of the draft: name cautions in 'cautions:', write numbers into 'dose:'. [import-safety]",
    ]


def test_several_exercises_in_one_document() -> None:
    """Headings of one level that name no place are titles; what stands before the first is kept with it."""
    body = word("Ankle leaflet", "Title") + word("Do them slowly.") + "".join(
        word(title, "Heading2") + word("Instructions", "Heading3") + word(f"Begin the {title}.", item=True) for title in ("Toe wave", "Heel slide")
    )
    drafts = draft_of(".docx", docx(body))
    assert list(drafts) == ["exercises/toe-wave.md", "exercises/heel-slide.md"]
    assert "#   Ankle leaflet\n#   Do them slowly.\n" in drafts["exercises/toe-wave.md"]
    assert drafts["exercises/heel-slide.md"].endswith("## How to do it\n\n1. Begin the Heel slide.\n")


def test_rows_of_a_table() -> None:
    """A row of two cells is a name and its value."""
    cells = "".join(f"<w:tr><w:tc>{word(name)}</w:tc><w:tc>{word(value)}</w:tc></w:tr>" for name, value in (("Sets", "3"), ("Repetitions", "12")))
    draft = draft_of(".docx", docx(word("Toe wave", "Title") + f"<w:tbl>{cells}</w:tbl>"))["exercises/toe-wave.md"]
    assert "# dose: {sets: 3, reps: 12}\n" in draft
    page = b"<h1>Toe wave</h1><table><tr><td>Sets</td><td>3</td></tr><tr><th>Reps</th><td>12</td></tr></table>"
    assert "# dose: {sets: 3, reps: 12}\n" in draft_of(".html", page)["exercises/toe-wave.md"]


def test_deleted_and_hidden_text_stays_away() -> None:
    """Tracked deletions, field codes, comments and doubles of text boxes are not text."""
    body = word("Toe wave", "Title") + "<w:p><w:del><w:r><w:delText>old</w:delText></w:r></w:del><w:r><w:instrText>PAGE</w:instrText></w:r><w:r><w:t>new</w:t></w:r></w:p>"
    body += "<mc:AlternateContent><mc:Choice>" + word("box") + "</mc:Choice><mc:Fallback>" + word("box again") + "</mc:Fallback></mc:AlternateContent>"
    assert [line.text for line in tidy(read_word(docx(body)))] == ["Toe wave", "new", "box"]
    notes = "<text:tracked-changes><text:p>old</text:p></text:tracked-changes><text:p>new<office:annotation><text:p>remark</text:p></office:annotation></text:p>"
    assert [line.text for line in tidy(read_odt(odt(notes)))] == ["new"]


@pytest.mark.parametrize(("text", "dose"), [
    ("Do 3 sets of 10.", {"sets": "3", "reps": "10"}),
    ("3 x 12, 5 times a week", {"sets": "3", "reps": "12", "days": "5"}),
    ("Repeat 10 times on each side, 2 times a day.", {"reps": "10", "side": "both", "times": "2"}),
    ("Hold this for 20 seconds. Rest 60 sec.", {"hold": "20 s", "rest": "60 s"}),
    ("2 sets of 30 seconds", {"sets": "2"}),
    ("Sets: 2. Reps: 8", {"sets": "2", "reps": "8"}),
    ("Rest for 2 minutes", {"rest": "2 min"}),
    ("Do 8-12 repetitions, 2 to 3 sets", {}),
    ("10 – 12 reps, 1.5 sets, 2 or 3 days a week", {}),
    ("A few times a day, twice, every day", {}),
    ("Use a 2 x 4 cm block", {}),
    ("Call 555-0100 on 12.10.2026", {}),
    ("Do 10 times a day", {"times": "10"}),
])  # fmt: skip
def test_only_a_literal_dose_is_taken(text: str, dose: dict[str, str]) -> None:
    """Numbers that the text says with their unit; no range, no word for a number, no guess."""
    assert find_dose([text]).values == dose


def test_two_numbers_are_left_to_a_person() -> None:
    """A field for which the document says two numbers is not chosen."""
    found = find_dose(["3 sets of 10", "Later 4 sets of 10"])
    assert (found.values, found.disputed) == ({"reps": "10"}, ("sets",))


def test_places_of_headings() -> None:
    """Usual headings are known with and without their colon; others are not."""
    assert [place_of(each) for each in ("Why:", "HOW TO DO IT", "Starting position", "What you should feel", "Stop if", "Ankle pump")] == ["why", "steps", "before", "feel", "stop", ""]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("1. Slide down and count to\n10. Then stand up.", ["1. Slide down and count to 10. Then stand up."]),
        ("1. Slide down.\n10. Then stand up.", ["1. Slide down.", "2. 10. Then stand up."]),
        ("1. Slide down.\n2. Stand up.\n3. Rest.", ["1. Slide down.", "2. Stand up.", "3. Rest."]),
        ("3. Slide down.\n4. Stand up.", ["1. 3. Slide down.", "2. 4. Stand up."]),
    ],
)
def test_a_number_that_is_not_the_next_stays_in_the_text(text: str, steps: list[str]) -> None:
    """A reviewer sees every number that the document had."""
    taken = take_in_document(tidy(read_text(f"# Wall slide\n\nSteps\n\n{text}\n".encode())), "leaflet.txt")
    body = taken.files["exercises/wall-slide.md"].decode().split("## How to do it")[1]
    assert body.split("\n")[2 : 2 + len(steps)] == steps


def bomb(levels: int = 9) -> str:
    """Entities that would unfold to a thousand million words."""
    entities = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, levels))
    return f'<!DOCTYPE d [<!ENTITY e0 "word">{entities}]><w:document {W}><w:body><w:p><w:r><w:t>&e{levels - 1};</w:t></w:r></w:p></w:body></w:document>'


HOSTILE: dict[str, tuple[Callable[[bytes], list[SourceLine]], Callable[[], bytes], str]] = {
    "entity bomb": (read_word, lambda: archive("word/document.xml", bomb()), "it declares a document type"),
    "outside entity": (read_odt, lambda: archive("content.xml", '<!DOCTYPE d SYSTEM "file:///etc/passwd"><d/>'), "it declares a document type"),
    "zip bomb": (read_word, lambda: archive("word/document.xml", b" " * (MOST_BYTES * 4)), "its text is larger than 8 MiB"),
    "too many members": (read_word, lambda: archive("word/document.xml", "<d/>", **{f"m{n}": b"" for n in range(5001)}), "it packs more than 5,000 files"),
    "not a zip": (read_word, lambda: b"PK\x03\x04 no zip", "it is damaged, or not what its name says"),
    "cut off": (read_word, lambda: LEAFLET[".docx"][:-60], "it is damaged, or not what its name says"),
    "no text inside": (read_word, lambda: archive("other.xml", "<d/>"), "it holds no 'word/document.xml'"),
    "not well-formed": (read_word, lambda: archive("word/document.xml", "<w:document>"), "its text is not well-formed XML"),
    "deep": (read_odt, lambda: archive("content.xml", "<a>" * 5000 + "</a>" * 5000), f"its elements stand more than {MOST_DEPTH} deep"),
    "not a pdf": (read_pdf, lambda: b"%PDF-1.4\nnothing", "it is damaged, locked with a password, or not a PDF"),
    "pdf without text": (read_pdf, pdf, "it holds no text, only pictures of it"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_documents_are_refused(name: str) -> None:
    """Each with its reason, before anything grows."""
    read, make, reason = HOSTILE[name]
    with pytest.raises(DocumentError, match=re.escape(reason)):
        tidy(read(make()))


def test_a_member_that_lies_about_its_size() -> None:
    """The size in the directory is not believed: what is unpacked is counted."""
    data = bytearray(archive("word/document.xml", b" " * (MOST_BYTES * 2)))
    for mark, at in ((b"PK\x01\x02", 24), (b"PK\x03\x04", 22)):
        place = data.index(mark) + at
        data[place : place + 4] = (10).to_bytes(4, "little")
    with pytest.raises(DocumentError):
        read_word(bytes(data))


def test_too_much_text_is_refused() -> None:
    """More lines or characters than a document of exercises has."""
    with pytest.raises(DocumentError, match="more than 5,000 lines"):
        tidy(read_text(b"a\n" * 6000))
    with pytest.raises(DocumentError, match="more than 400,000 characters"):
        tidy(read_text((b"a" * 3000 + b"\n") * 200))


@given(st.sampled_from([read_word, read_odt, read_html, read_text, read_pdf]), st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(read: Callable[[bytes], list[SourceLine]], data: bytes) -> None:
    """No format falls over on bytes of any kind."""
    with contextlib.suppress(DocumentError):
        take_in_document(tidy(read(data)), "any")


@given(st.lists(st.builds(SourceLine, st.sampled_from(LineKind), st.text(max_size=60), st.integers(1, 3)), max_size=12))
def test_any_lines_give_files_that_can_be_read(lines: list[SourceLine]) -> None:
    """No text of a document breaks out of its remark or its value: the draft's keys are those that were placed."""
    taken = take_in_document(tidy(lines), "any.txt")
    for path, data in taken.files.items():
        _, problems = read_exercise(data, path, "any")
        rules = {each.rule for each in problems}
        assert not rules & {"yaml", "unknown-key", "front-matter", "repeated-key"}, (data, [show_problem(each) for each in problems])


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Several documents at once, each a draft; a taken name and an unknown format are refused; check asks for the gaps."""
    library = write(tmp_path / "lib")
    files = []
    for kind in (".docx", ".txt"):
        files.append(tmp_path / f"leaflet{kind}")
        files[-1].write_bytes(LEAFLET[kind])
    files[-1].write_bytes(LEAFLET[".txt"].replace(b"Toe wave", b"Heel slide"))
    assert main(["import", *map(str, files), str(library)]) == 1
    said = capsys.readouterr()
    assert said.out == f"2 exercises written to {library / 'exercises'}. Next: handouts check {library}\n"
    assert said.err.count("[document-gaps]") == 2
    assert main(["import", str(files[0]), str(library)]) == 1
    assert "there is an exercise 'toe-wave' already, so it is left out." in capsys.readouterr().err
    assert main(["check", str(library), TODAY]) == 1
    assert "lib/exercises/toe-wave.md" in capsys.readouterr().err
    (tmp_path / "old.doc").write_bytes(b"x")
    assert main(["import", str(tmp_path / "old.doc"), str(library)]) == 2
    assert "'.doc' is none of .csv, .tsv, .xlsx, .docx, .odt" in capsys.readouterr().err
    assert main(["import", str(files[0])]) == 2
    assert "name a table or documents" in capsys.readouterr().err


def double_flate(count: int) -> bytes:
    """A page whose content is packed twice: a few kB that unfold to ``count`` times four bytes."""
    inner = zlib.compressobj(9, zlib.DEFLATED, -15)
    block = inner.compress(b"q Q " * 250_000) + inner.flush(zlib.Z_FULL_FLUSH)
    stream = zlib.compress(b"\x78\xda" + block * (count // 250_000) + b"\x03\0", 9)  # the same block again and again; nobody gets to the sum at the end
    head = b"%%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 9 9]/Contents 4 0 R>>endobj\n4 0 obj<</Length %d/Filter[/FlateDecode/FlateDecode]>>stream\n" % len(stream)
    return head + stream + b"\nendstream endobj\ntrailer<</Root 1 0 R>>\n"


def test_reading_is_bounded(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that would take all memory or time is given up and named, and the other files of the call are read."""
    monkeypatch.setattr(take_in, "BOUNDS", Bounds(processor_seconds=3, wall_seconds=30.0, memory_bytes=1024**3))
    library = write(tmp_path / "lib")
    bomb_file, good = tmp_path / "bomb.pdf", tmp_path / "good.txt"
    bomb_file.write_bytes(double_flate(400_000_000))
    assert bomb_file.stat().st_size < 20_000
    good.write_bytes(LEAFLET[".txt"])
    assert main(["import", str(bomb_file), str(good), str(library)]) == 2
    said = capsys.readouterr()
    assert "bomb.pdf' cannot be read, because " in said.err
    assert "Traceback" not in said.err
    assert said.out == f"1 exercise written to {library / 'exercises'}. Next: handouts check {library}\n"


@pytest.mark.parametrize("piece", ["<!--", "</a ", "<a ", "<![foo]>", "<![CDATA[", "<?x", "<a b=\"", "&#", "<script>", "<td>", "<a b=c ", "<!-- x -- "])
def test_html_that_grows_too_fast(piece: str) -> None:
    """Ten times the text takes ten times the time and not a hundred: counted in steps of the parser's own loop."""
    steps = [count_lines(lambda size=size: read_html((piece * (size // len(piece)) + "<p>Sit.").encode())) for size in (3_000, 30_000)]
    assert steps[1] < 20 * steps[0] + 1_000


def count_lines(task: Callable[[], object]) -> int:
    """Lines of Python that a task runs, and letters that it looks at in steps of the parser."""
    count = 0

    def trace(_frame: object, event: str, _argument: object) -> object:
        nonlocal count
        count += event == "line"
        return trace

    former = sys.gettrace()
    sys.settrace(trace)  # type: ignore[arg-type]
    try:
        task()
    finally:
        sys.settrace(former)
    return count


@pytest.mark.parametrize(
    ("html", "shown"),
    [
        ("<h1>Sit</h1><p>One<!-- two --> three</p>", ["Sit", "One three"]),
        ("<p>One</p><!-- never closed <p>two</p>", ["One"]),
        ("<p><![foo]>One</p>", ["One"]),
        ("<!doctype html><p>One</p><?php x ?><p>Two</p>", ["One", "Two"]),
        ("<p>One 3 < 4</p>", ["One 3 < 4"]),
        ("<p>One</p><a href='x", ["One"]),
    ],
)
def test_comments_and_declarations(html: str, shown: list[str]) -> None:
    """They are left out as in a browser; what follows a tag that nothing closes is too."""
    assert [line.text for line in tidy(read_html(html.encode()))] == shown


def test_a_packing_that_no_word_processor_uses() -> None:
    """Only stored and deflated members are read."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_BZIP2) as packed:
        packed.writestr("word/document.xml", b" " * 100)
    with pytest.raises(DocumentError, match="it is packed as no word processor does"):
        read_word(out.getvalue())


def test_a_reader_that_stumbles(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever it is, it is said in a line, and no draft is written."""
    library = write(tmp_path / "lib")
    (tmp_path / "odd.xml.docx").write_bytes(b"PK\x05\x06" + bytes(18))
    assert main(["import", str(tmp_path / "odd.xml.docx"), str(library)]) == 2
    assert "odd.xml.docx' cannot be read, because " in capsys.readouterr().err


WARNINGS = [
    ("Pain above 3 out of 10.", "stop rule or caution"), ("Stop if you feel dizzy.", "stop rule or caution"), ("Call 911 if your chest hurts.", "stop rule or caution"),
    ("Do not do this exercise if you had surgery.", "stop rule or caution"), ("Never bend past 90 degrees.", "stop rule or caution"), ("WARNING: hold on to something.", "stop rule or caution"),
    ("Ask your physiotherapist before you begin.", "stop rule or caution"), ("Your calf is swollen, red or warm.", "stop rule or caution"), ("You get short of breath.", "stop rule or caution"),
    ("Repeat 10 times.", "dose"), ("3 sets of 10.", "dose"), ("Hold for 5 seconds.", "dose"), ("Do this twice a day.", "dose"), ("Do three sets of ten.", "dose"), ("2 x 15", "dose"),
    ("Rest 60 seconds between sets.", "dose"), ("Start with 5 repetitions.", "dose"), ("Sets: 3", "dose"), ("8. Pain above 3 out of 10.", "stop rule or caution"), ("9. Repeat 10 times.", "dose"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "kind"), WARNINGS)
@pytest.mark.parametrize("suffix", [".txt", ".docx", ".csv"])
def test_a_warning_or_a_dose_is_never_a_step(line: str, kind: str, suffix: str) -> None:
    """It waits for a person in a place of its own, whatever the file is, and the steps around it stay."""
    if suffix == ".csv":
        rows = io.StringIO()
        csv.writer(rows).writerows([["title", "steps"], ["Wall slide", f"Stand at a wall.\n{line}\nSlide down."]])
        taken = take_in_table(read_csv(rows.getvalue().encode(), "s.csv"), "s.csv")
    elif suffix == ".txt":
        taken = take_in_document(tidy(read_text(f"# Wall slide\n\nSteps\n\n1. Stand at a wall.\n2. {line}\n3. Slide down.\n".encode())), "leaflet.txt")
    else:
        body = word("Wall slide", "Heading1") + word("Steps", "Heading2") + "".join(word(text, item=True) for text in ("Stand at a wall.", line, "Slide down."))
        taken = take_in_document(tidy(read_word(docx(body))), "leaflet.docx")
    text = taken.files["exercises/wall-slide.md"].decode()
    head, _, body = text.partition("---\n## ")
    assert body.split("\n")[2:4] == ["1. Stand at a wall.", "2. Slide down."]
    said = re.sub(r"^[89]\. ", "", line)
    assert said not in body
    waits = head.partition("# WAITS FOR A PERSON: these sentences read like a stop rule, a caution or a dose, so no step was made of them.\n")[2]
    assert re.search(rf"#   {kind}: (?:[0-9]\. )?{re.escape(said)}\n", waits)
    problems = [show_problem(each) for each in taken.problems if each.rule == "import-safety"]
    like = "read like a stop rule, a caution or a dose, so no step was made of them"
    what = f"sentences {like}: '{said}' (row 2)" if suffix == ".csv" else f"1 sentence among the steps of 'Wall slide' {like}"
    mend = "Read them in the remarks of the draft: name cautions in 'cautions:', write numbers into 'dose:'."
    assert [re.sub(r"'[89]\. ", "'", each.partition(": ")[2]) for each in problems] == [f"error: {what}. {mend} [import-safety]"]


@pytest.mark.parametrize(
    "line",
    ["Stand tall behind a chair.", "Hold the counter with both hands.", "Lift one foot 5 cm off the floor.", "Lower slowly and stop at the bottom.", "Bend your knee to 90 degrees.", "Rest your hands on your hips.", "Do one leg, then the other."],
)
def test_a_step_stays_a_step(line: str) -> None:
    """Movement is no warning, also where it has a number."""
    assert part_line(line) == (line, [])


def test_a_line_of_both() -> None:
    """The movement stays a step, the rest waits."""
    assert part_line("Lift your leg. Repeat 10 times. Stop if it hurts.") == ("Lift your leg.", ["dose: Repeat 10 times.", "stop rule or caution: Stop if it hurts."])
