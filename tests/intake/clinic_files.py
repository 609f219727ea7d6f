"""An invented clinic's own material: a workbook of 25 rows and five leaflets, as a secretary would have them.

Written here, so that every byte is known: names of columns, doses and words are those of daily use, not ours.
"""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from xml.sax.saxutils import escape

HEAD = ("No.", "Exercise name", "Body part", "Starting position", "What you need", "Goal", "What to do", "How many", "Frequency", "Tips",
        "You should feel", "Good for", "Common mistakes", "Stop if", "Last checked", "Comment")  # fmt: skip
# title, body part, position, needs, goal, what to do, how many, frequency, tips, feel, good for, mistakes, stop if
_ROWS = """\
Chair stand|knee, thigh|sitting on chair|firm chair|daily life|1. Sit near the front. 2. Lean forward. 3. Stand up. 4. Sit down slowly.|3x10|2x/week|Push the floor away. Look ahead.|You feel your thighs work.|You get up from a chair with ease.|Your knees fall in. -> Point them over your toes.|You feel a sharp pain.
Mini bend|Knee|standing|none|strengthening|Stand at a counter. Bend your knees a little. Stand tall again.|3 x 10|2x/week|Keep your heels down.|You feel your thighs work.|You sit down with control.|Your heels lift. -> Bend less.|You feel a sharp pain.
Knee straightening|knee|Seated|Firm chair|strengthening|Sit tall. Lift one foot. Straighten your knee. Lower it slowly.|3x10 each side|2x/week|Sit tall.|You feel the front of your thigh.|Strong thighs help you on stairs.|You lean back. -> Stay tall.|You feel a sharp pain.
Heel raise|lower leg|standing|none|strengthening|Stand at a counter. Rise onto your toes. Lower your heels slowly.|3x12|3x/week|Rise straight up.|You feel your calves work.|You walk with more push.|You lean forward. -> Stand tall.|Your calf swells or hurts.
Toe raise|lower leg|standing|none|strengthening|Stand with your back at a wall. Lift your toes. Lower them.|2x12|3x/week|Keep your knees straight.|You feel your shins work.|You trip less.|You bend your hips. -> Lean on the wall.|You feel a sharp pain.
Side step|hip|standing|none|strengthening|Stand tall. Step to the side. Bring your feet together.|2x10 each side|3x/week|Take small steps.|You feel the side of your hip.|You stand firmly on one leg.|You sway. -> Step less far.|You feel dizzy.
Leg lift to the side|hip|standing|firm chair|strengthening|Hold the back of a chair. Lift one leg to the side. Lower it.|2x10 each side|3x/week|Keep your toes forward.|You feel the side of your hip.|You walk with less sway.|You lean over. -> Lift less high.|You feel a sharp pain.
Leg lift to the back|hip|standing|firm chair|strengthening|Hold the back of a chair. Lift one leg to the back. Lower it.|2x10 each side|3x/week|Stand tall.|You feel your buttock.|You climb stairs with ease.|You bend forward. -> Lift less high.|You feel a sharp pain.
March on the spot|hip|standing|none|daily life|Stand tall. Lift one knee. Put the foot down. Change legs.|2 x 1 min|daily|Lift each knee.|You breathe a little faster.|You walk further.|You lean back. -> Lift less high.|You are out of breath.
Weight shift|ankle|standing|none|balance|Stand tall. Lean to the left. Lean to the right.|2x10 each side|daily|Keep both feet down.|You feel your feet work.|You stand firmly.|You bend at the hip. -> Move as one.|You feel dizzy.
Stand feet together|ankle|standing|none|balance|Stand at a counter. Put your feet together. Stand still.|3 x 30 sec|daily|Look ahead.|Your feet work to hold you.|You stand firmly.|You hold your breath. -> Breathe on.|You feel dizzy.
Heel to toe stand|ankle|standing|none|balance|Stand at a counter. Put one foot before the other. Stand still.|3 x 30 sec each side|daily|Look ahead.|Your feet work to hold you.|You turn with ease.|You look down. -> Look ahead.|You feel dizzy.
Step up|knee / thigh|standing|step|daily life|Stand before a step. Step up. Step down.|2x10 each leg|3x/week|Push through your heel.|You feel your thighs work.|You climb stairs with ease.|Your knee falls in. -> Point it over your toes.|You feel a sharp pain.
Sit and reach|back|sitting on chair|firm chair|mobility|Sit tall. Slide your hands down your legs. Come up.|1x10|daily|Breathe out as you bend.|You feel a stretch in your back.|You put on your shoes.|You bounce. -> Move slowly.|Your back hurts more.
Pelvic tilt|back|lying on back|mat|mobility|Lie down. Flatten your back. Let go.|2x10|daily|Breathe on.|You feel your belly work.|Your back moves with ease.|You push with your feet. -> Push less.|Your back hurts more.
Bridge up|hip and back|lying on back|mat|strengthening|Lie down. Bend your knees. Lift your hips. Lower them.|3x8|3x/week|Push through your heels.|You feel your buttocks work.|You turn in bed.|You arch your back. -> Lift less high.|You feel a sharp pain.
Heel slide|knee|lying on back|mat|mobility|Lie down. Slide one heel to you. Slide it back.|2x10 each side|daily|Move slowly.|You feel your knee bend.|Your knee bends with ease.|You lift your foot. -> Let it slide.|You feel a sharp pain.
Straight leg lift|thigh|lying on back|mat|strengthening|Lie down. Bend one knee. Lift the other leg. Lower it.|3x8 each side|3x/week|Keep your knee straight.|You feel the front of your thigh.|Strong thighs help you walk.|Your knee bends. -> Lift less high.|You feel a sharp pain.
Open book|back|lying on side|mat|mobility|Lie on your side. Open your top arm. Close it.|2x8 each side|daily|Let your head follow.|You feel a stretch in your chest.|You turn with ease.|Your knees slide. -> Turn less far.|Your back hurts more.
Arm raise|shoulder|sitting on chair|firm chair|mobility|Sit tall. Lift both arms. Lower them.|2x10|daily|Keep your shoulders low.|You feel your shoulders move.|You reach a shelf.|You shrug. -> Lift less high.|You feel a sharp pain.
Wall press|shoulder|standing|none|strengthening|Stand at a wall. Put your hands on it. Bend your arms. Push away.|3x10|3x/week|Keep your body straight.|You feel your arms and chest.|You push a door open.|Your hips sag. -> Stand closer.|You feel pain or pressure in your chest.
Band pull|upper back|sitting on chair|theraband|strengthening|Sit tall. Hold the band. Pull your elbows back. Let go slowly.|3x10, RPE 4-6|3x/week|Keep your shoulders low.|You feel between your shoulder blades.|You sit tall for longer.|You lean back. -> Use less pull.|You feel a sharp pain.
Curl with weights|arm|sitting on chair|dumbbell|strengthening|Sit tall. Bend your elbows. Lower your hands.|3x10, 2 kg|3x/week|Keep your elbows still.|You feel your upper arms.|You carry bags.|You swing. -> Use less weight.|You feel a sharp pain.
Ankle circles|ankle|sitting on chair|firm chair|mobility|Sit tall. Lift one foot. Draw circles with it.|1x15 each side|daily|Draw big circles.|You feel your ankle move.|Your ankle moves with ease.|Your knee moves. -> Hold it still.|Your calf swells or hurts.
Hall walk|thigh|standing|none|daily life|Stand tall. Walk along the hall. Turn. Walk back.|10 min|daily|Swing your arms.|You breathe a little faster.|You walk to the shop.|You look down. -> Look ahead.|You are out of breath."""


def rows() -> list[tuple[str, ...]]:
    """The rows below the names; 46279 is the day 2026-09-14 as a workbook counts."""
    made = []
    for number, line in enumerate(_ROWS.split("\n"), 1):
        title, part, position, needs, goal, steps, many, often, tips, feel, good, mistakes, stop = line.split("|")
        made.append((str(number), title, part, position, needs, goal, steps, many, often, tips, feel, good, mistakes, stop, "46279", "ask Dana" if number == 7 else ""))
    return made


def workbook(head: tuple[str, ...] = HEAD, body: list[tuple[str, ...]] | None = None) -> bytes:
    """A workbook as a spreadsheet program saves it: shared texts, days as numbers, a line above the names, a picture."""
    texts: list[str] = []

    def cell(at: int, row: int, text: str) -> str:
        name = f"{chr(ord('A') + at)}{row}"
        if not text:
            return ""
        if text.isdecimal():
            style = ' s="1"' if len(text) == 5 else ""
            return f'<c r="{name}"{style}><v>{text}</v></c>'
        texts.append(text)
        return f'<c r="{name}" t="s"><v>{len(texts) - 1}</v></c>'

    lines = [("Our exercises, spring",), head, *(rows() if body is None else body)]
    sheet = "".join(f'<row r="{at}">{"".join(cell(n, at, text) for n, text in enumerate(line))}</row>' for at, line in enumerate(lines, 1))
    main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
    links = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    files = {
        "xl/workbook.xml": f'<workbook {main} xmlns:r="{links}"><workbookPr/><sheets>'
        '<sheet name="old" sheetId="1" state="hidden" r:id="rId9"/><sheet name="Exercises" sheetId="2" r:id="rId1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        '<Relationship Id="rId9" Target="worksheets/sheet1.xml"/><Relationship Id="rId1" Target="worksheets/sheet2.xml"/></Relationships>',
        "xl/styles.xml": f'<styleSheet {main}><cellStyleXfs><xf numFmtId="0"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>',
        "xl/worksheets/sheet1.xml": f"<worksheet {main}><sheetData/></worksheet>",
        "xl/worksheets/sheet2.xml": f"<worksheet {main}><sheetData>{sheet}</sheetData></worksheet>",
        "xl/sharedStrings.xml": f"<sst {main}>{''.join(f'<si><t>{escape(text)}</t></si>' for text in texts)}</sst>",
    }
    return _packed({**{name: text.encode() for name, text in files.items()}, "xl/media/image1.png": b"\x89PNG"})


def _packed(files: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in files.items():
            packed.writestr(name, data)
    return out.getvalue()


def leaflets() -> dict[str, bytes]:
    """Five leaflets by name; the first holds two exercises, and no style of it says what is a heading."""
    return {"knees.docx": _word(), "neck.odt": _odt(), "calf.html": _HTML, "grip.txt": _TEXT.encode("cp1252"), "wall.pdf": _pdf()}


def picture() -> bytes:
    """A grey PNG of 320 x 200 pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    lines = b"".join(b"\x00" + bytes(180 for _ in range(320)) for _ in range(200))
    head = struct.pack(">IIBBBBB", 320, 200, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(lines)) + chunk(b"IEND", b"")


def _word() -> bytes:
    space = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'

    def line(text: str, bold: bool = False, size: int = 22, item: bool = False) -> str:
        marks = "<w:numPr/>" if item else ""
        look = ("<w:b/>" if bold else "") + f'<w:sz w:val="{size}"/>'
        return f"<w:p><w:pPr>{marks}</w:pPr><w:r><w:rPr>{look}</w:rPr><w:t>{escape(text)}</w:t></w:r></w:p>"

    body = line("Exercises after a knee injury", True, 36) + line("Do these at home.")
    for number, (title, steps, dose, why) in enumerate(
        (("Towel squeeze", ("Put a towel under your knee.", "WeasyPrintParts the knee down.", "Let go."), "Dose: 3 x 10 each side, daily", "Your thigh wakes up."),
         ("Seated slide", ("Sit tall.", "Slide your foot back.", "Slide it forward."), "Dose: 2 sets of 12, 2x/day", "Your knee bends with ease.")), 1
    ):  # fmt: skip
        words = "A person on a chair presses one knee down on a rolled towel." if number == 1 else ""
        drawn = (
            '<w:p><w:r><w:drawing><wp:inline xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing">'
            f'<wp:docPr id="{number}" descr="{words}"/><a:blip xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
            f'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" r:embed="rId{number}"/></wp:inline></w:drawing></w:r></w:p>'
        )
        body += line(f"{number}. {title}", True, 28) + drawn + line("Why", True) + line(why) + line("How to do it", True)
        body += "".join(line(step, item=True) for step in steps) + line(dose) + line("You should feel", True) + line("You feel your thigh work.")
        body += line("Tips", True) + line("Move slowly.", item=True) + line("Common mistakes", True) + line("Your foot lifts. -> Let it slide.")
        body += line("Stop if you feel a sharp pain.") + line("Equipment: firm chair")
    links = '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">' + "".join(
        f'<Relationship Id="rId{number}" Target="media/image{number}.png"/>' for number in (1, 2)
    ) + "</Relationships>"
    styles = f'<w:styles {space}><w:docDefaults><w:rPrDefault><w:rPr><w:sz w:val="22"/></w:rPr></w:rPrDefault></w:docDefaults></w:styles>'
    return _packed({
        "word/document.xml": f"<w:document {space}><w:body>{body}</w:body></w:document>".encode(), "word/styles.xml": styles.encode(),
        "word/media/image1.png": picture(), "word/media/image2.png": picture(), "word/_rels/document.xml.rels": links.encode(),
    })  # fmt: skip


def _odt() -> bytes:
    names = (("office", "urn:oasis:names:tc:opendocument:xmlns:office:1.0"), ("text", "urn:oasis:names:tc:opendocument:xmlns:text:1.0"),
             ("style", "urn:oasis:names:tc:opendocument:xmlns:style:1.0"), ("fo", "urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0"),
             ("draw", "urn:oasis:names:tc:opendocument:xmlns:drawing:1.0"), ("svg", "urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0"),
             ("xlink", "http://www.w3.org/1999/xlink"))  # fmt: skip
    spaces = " ".join(f'xmlns:{short}="{name}"' for short, name in names)
    styles = '<style:style style:name="P1"><style:text-properties fo:font-weight="bold" fo:font-size="18pt"/></style:style>'
    styles += '<style:style style:name="P2"><style:text-properties fo:font-weight="bold"/></style:style>'

    def line(text: str, style: str = "P0") -> str:
        return f'<text:p text:style-name="{style}">{escape(text)}</text:p>'

    items = "".join(f"<text:list-item>{line(step)}</text:list-item>" for step in ("Sit tall.", "Turn your head slowly to one side.", "Come back to the middle."))
    body = line("Head turn", "P1")
    body += '<text:p><draw:frame><draw:image xlink:href="Pictures/a.png"/><svg:desc>head</svg:desc></draw:frame></text:p>'
    body += line("Why", "P2") + line("You look over your shoulder with ease.") + line("Steps", "P2") + f"<text:list>{items}</text:list>"
    body += line("How often", "P2") + line("1x10 each side, twice a day") + line("You should feel", "P2") + line("You feel a light stretch in your neck.")
    body += line("Tips", "P2") + line("Keep your chin level.") + line("Mistakes", "P2") + line("You lean over. → Turn less far.") + line("Stop if", "P2") + line("You feel dizzy.")
    body += line("Equipment", "P2") + line("firm chair")
    content = f"<office:document-content {spaces}><office:automatic-styles>{styles}</office:automatic-styles><office:body><office:text>{body}</office:text></office:body></office:document-content>"
    return _packed({"content.xml": content.encode(), "Pictures/a.png": picture()})


_HTML = b"""<!doctype html><html><head><title>Leaflet 7</title></head><body><h2>Calf stretch</h2><img src="a.png" alt="">
<ol><li>Stand at a wall.</li><li>Put one foot back.</li><li>Lean forward.</li></ol>
<p>Dose: 3 x 30 sec hold each leg, daily</p><p>What you should feel: A stretch in your calf.</p><p><b>Why</b></p><p>You walk with longer steps.</p>
<p><b>Tips</b></p><ul><li>Keep your heel down.</li></ul><p><b>Common mistakes</b></p><p>Your heel lifts. -&gt; Stand closer.</p>
<p>Pain above 3 out of 10.</p><p>Stop if your calf swells or hurts.</p><p>You need: nothing</p></body></html>"""

_TEXT = """\
Grip squeeze

Why: It helps you open jars \x96 and hold a rail.

How to do it
1. Sit at a table.
2. Hold a rolled towel.
3. Squeeze it.
4. Let go.

Dose: 2 sets of 10 reps, 5 s hold, each hand, daily

You should feel:
Your forearm works.

Tips:
Breathe on.

Mistakes:
Your shoulder lifts. -> Let it hang.

Stop if:
Your hand goes numb.

Equipment: rolled towel
""".replace("\x96", "–")


def _pdf() -> bytes:
    lines = [
        (20, "F2", "Wall slide"), (12, "F2", "Why"), (11, "F1", "You get up from low seats."), (12, "F2", "How to do it"), (11, "F1", "1. Stand with your back at a wall."),
        (11, "F1", "2. Slide down a little."), (11, "F1", "3. Slide up again."), (11, "F1", "Dose: 2 x 8, rest 60 seconds, 3 x/week"), (12, "F2", "You should feel"),
        (11, "F1", "Your thighs work."), (12, "F2", "Tips"), (11, "F1", "Keep your back on the wall."), (12, "F2", "Common mistakes"),
        (11, "F1", "Your knees fall in. -> Point them over your toes."), (11, "F1", "Stop if you feel a sharp pain."), (11, "F1", "Do not do it in the first 6 weeks after a new hip."),
        (11, "F1", "Equipment: none"),
    ]  # fmt: skip
    shown = "BT 72 720 Td 24 TL " + " ".join(f"/{font} {size} Tf ({text}) Tj T*" for size, font, text in lines) + " ET"
    objects = [
        "<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>",
        "<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F1 5 0 R/F2 6 0 R>>>>>>",
        f"<</Length {len(shown)}>>stream\n{shown}\nendstream", "<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>", "<</Type/Font/Subtype/Type1/BaseFont/Helvetica-Bold>>",
    ]  # fmt: skip
    body, places = "%PDF-1.4\n", []
    for number, each in enumerate(objects, 1):
        places.append(len(body))
        body += f"{number} 0 obj{each}endobj\n"
    table = "".join(f"{place:010} 00000 n \n" for place in places)
    return (body + f"xref\n0 7\n0000000000 65535 f \n{table}trailer<</Root 1 0 R/Size 7>>\nstartxref\n{len(body)}\n%%EOF").encode("latin-1")
