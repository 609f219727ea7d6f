"""Every kind of sheet of the demo as a photocopy of a photocopy, at a printer that trims, and in grey: ``python tests/long/copies.py SITE [PART OF A PATH]``.

SITE is a built site with its PDFs.  Says of each kind how many letters are read right at least, and, where tesseract is there (Debian:
``apt install tesseract-ocr tesseract-ocr-ara …``), how many words an ordinary reader reads on the copy of those that it reads on the clean
page.  Ends with 1 where a letter is lost at an edge, in grey, or where a page is not read.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pypdfium2
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.paper.copies import contrasts, copied, grey_page, ink_at_edges, letters_on, read_back

LEAST_READ, JOINED = 0.97, {"ar": 0.9, "zh": 0.95}
"""Share of the letters of a page; joined and crowded letters are told from one another less well."""
OCR = {"en": "eng", "es": "spa", "ar": "ara", "fr": "fra", "vi": "vie", "zh-Hans": "chi_sim"}


def read_words(picture: Image.Image, language: str, folder: Path) -> Counter[str]:
    """The words of a page as tesseract reads them; none without its data for the language."""
    listed = subprocess.run(["tesseract", "--list-langs"], capture_output=True, text=True, check=True).stdout.split()
    if OCR[language] not in listed:
        return Counter()
    picture.save(folder / "page.png", dpi=(200, 200))
    words = ["tesseract", str(folder / "page.png"), "-", "-l", OCR[language], "--psm", "3"]
    return Counter(re.findall(r"\w{2,}", subprocess.run(words, capture_output=True, text=True, check=True).stdout))


def main(site: Path, part: str = "") -> int:
    """Each PDF of the site's first paper whose path has the part."""
    least, faults, pages, kept, all_words = dict[str, float](), list[str](), 0, Counter[str](), Counter[str]()
    folder = Path("/tmp")
    for path in sorted(site.rglob("*.pdf")):
        name = str(path.relative_to(site))
        if part not in name:
            continue
        pdf, language = path.read_bytes(), name.partition("/")[0]
        document = pypdfium2.PdfDocument(pdf)
        count = len(document)
        document.close()
        for number in range(count):
            pages += 1
            grey, letters = grey_page(pdf, number), letters_on(pdf, number)
            copy = copied(grey)
            share = read_back(pdf, number, copy).share
            kind = f"{language} {'folded' if 'folded' in name else name.rpartition('-')[2].removesuffix('.pdf')}"
            least[kind] = min(share, least.get(kind, 1.0))
            if ink_at_edges(grey) or min(contrasts(grey, letters)) < 4.5 or share < JOINED.get(language[:2], LEAST_READ):
                faults.append(f"{name} page {number + 1}: {ink_at_edges(grey)} dots at the edges, {share:.4f} of the letters read")
                print(faults[-1], flush=True)
            if shutil.which("tesseract") and number == 0 and (clean := read_words(grey, language, folder)):
                all_words[kind] += clean.total()
                kept[kind] += (clean & read_words(copy, language, folder)).total()
    for kind, share in sorted(least.items()):
        ocr = f", {kept[kind] / all_words[kind]:.3f} of the words that tesseract reads on the clean page" if all_words[kind] else ""
        print(f"{kind}: at least {share:.4f} of the letters of a page{ocr}")
    print(f"{pages} pages, {len(faults)} with a fault")
    return bool(faults) or not pages


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), *sys.argv[2:3]))
