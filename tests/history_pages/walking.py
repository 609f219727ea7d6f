"""A few exercises of the demo as a clinic's library that is published twice, with a year's upkeep between."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from handouts.build.loading import load
from handouts.build.pipeline import edition_of
from handouts.build.settings import Settings
from handouts.bundle.code import encode_bundle
from handouts.bundle.past import catalogue_with_past
from handouts.bundle.values import PickedBundle
from handouts.cli import main
from handouts.model import Pick, Ref
from handouts.problems import Place
from handouts.site.old_sheets import sheet_address

CONTENT = Path(__file__).parents[2] / "content"
FIRST, LATER = date(2026, 10, 14), date(2026, 11, 25)
EXERCISES = ("ankle-pump", "towel-calf-stretch", "seated-heel-raise", "wall-calf-stretch", "arm-swing")
TIERS = "tiers:\n  - {tier: wake, enter when: You can take 4 steps on the foot. We have checked that nothing is broken., exercises: [%s]}\n"


@dataclass(frozen=True, slots=True)
class Sheets:
    """What patients took home on the first day: addresses of sheets by name, as in their QR codes, and bundle codes."""

    addresses: dict[str, str]
    codes: dict[str, str]


def begin(library: Path) -> Path:
    """The library as it is first published, in English and Spanish."""
    vocabulary = (CONTENT / "vocabulary.yaml").read_text()
    _write(library / "vocabulary.yaml", re.sub(r"^substitutes:\n(?:[ #].*\n)*", "", vocabulary[: vocabulary.index("\nsearch words:") + 1], flags=re.MULTILINE))  # both name other exercises
    for name in ("tiers.yaml", "cautions.yaml", "limits.yaml", "words/es.po", "words/glossary.yaml"):
        _write(library / name, (CONTENT / name).read_text())
    _write(library / "clinic.yaml", re.sub(r"also: \[.*?\]", "also: [es]", (CONTENT / "clinic.yaml").read_text()))
    for slug in EXERCISES:
        text = (CONTENT / f"exercises/{slug}.md").read_text()
        text = re.sub(r"^tier: .*", "tier: wake", text, flags=re.MULTILINE)
        _write(library / f"exercises/{slug}.md", re.sub(r"^after: .*\n", "", text, flags=re.MULTILINE))
    programme = (CONTENT / "programmes/back-to-the-hill-path.md").read_text()
    tiers = TIERS % "ankle-pump, towel-calf-stretch, seated-heel-raise"
    _write(
        library / "programmes/back-to-the-hill-path.md",
        re.sub(r"^tiers:\n(?:  .*\n)+", tiers, programme, flags=re.MULTILINE),
    )
    ankle = (CONTENT / "bundles/ankle-first-two-weeks.yaml").read_text()
    listed = "exercises: [ankle-pump, towel-calf-stretch, seated-heel-raise]\n"
    _write(library / "bundles/ankle-first-two-weeks.yaml", re.sub(r"^exercises:\n(?:  .*\n)+leaflets: .*\n", listed, ankle, flags=re.MULTILINE))
    arm = (CONTENT / "bundles/shoulder-sore-and-stiff.yaml").read_text()
    arm = re.sub(r"^(?:programme|tier): .*\n", "", arm, flags=re.MULTILINE)
    _write(
        library / "bundles/shoulder-sore-and-stiff.yaml", re.sub(r"exercises: \[.*\]", "exercises: [arm-swing]", arm)
    )
    return library


def publish(library: Path, out: Path, on: date) -> None:
    """Build and write down, as an author does."""
    assert main(["build", str(library), "--to", str(out), "--no-paper", "--jobs=1", f"--today={on}"]) == 0
    assert main(["ledger", "update", "--library", str(library), "--to", str(out), f"--today={on}"]) == 0


def take_sheets(library: Path, on: date) -> Sheets:
    """The addresses and codes that are printed on a day."""
    settings = Settings(library, today=on)
    loaded = load(settings)
    assert loaded.library is not None
    edition, site, catalogue = (
        edition_of(loaded, paper=False),
        loaded.library.clinic.site,
        catalogue_with_past(loaded.library, loaded.history),
    )
    items = ("exercises/ankle-pump", "exercises/towel-calf-stretch", "exercises/seated-heel-raise", "exercises/arm-swing",
             "programmes/back-to-the-hill-path", "bundles/ankle-first-two-weeks", "bundles/shoulder-sore-and-stiff")  # fmt: skip
    addresses = {
        f"{language}/{item}": sheet_address("", edition, f"{language}/{item}/index.html")
        for item in items
        for language in ("en", "es")
    }
    assert site == "https://quillmoor.example/"
    bundles = {
        "dose": ("seated-heel-raise",),
        "renamed": ("ankle-pump",),
        "replaced": ("ankle-pump", "towel-calf-stretch"),
        "withdrawn": ("arm-swing",),
    }
    codes = {}
    for name, slugs in bundles.items():
        picks = tuple(Pick(place=Place(""), exercise=Ref(slug, Place(""))) for slug in slugs)
        code = encode_bundle(PickedBundle("es", "market-street", 2, picks), catalogue)
        assert isinstance(code, str)
        codes[name] = code
    return Sheets(addresses, codes)


def keep_up(library: Path, out: Path) -> None:
    """A year's work: a dose is changed, an exercise renamed, one replaced, one withdrawn, a bundle renamed, one withdrawn."""
    _edit(library / "exercises/seated-heel-raise.md", r"^(dose: \{sets: )\d", r"\g<1>4")
    _edit(library / "exercises/seated-heel-raise.md", r"^(dose range: \{sets: )\d-\d", r"\g<1>1-4")
    # a tempo that no clinician may move: so the former dose is known as the library's, and not as a clinician's change
    _edit(library / "exercises/seated-heel-raise.md", r"tempo: 2-1-2", "tempo: 2-1-3")
    (library / "exercises/ankle-pump.md").rename(library / "exercises/foot-pump.md")
    (library / "exercises/towel-calf-stretch.md").unlink()
    (library / "exercises/arm-swing.md").unlink()
    (library / "bundles/shoulder-sore-and-stiff.yaml").unlink()
    bundle = (library / "bundles/ankle-first-two-weeks.yaml").rename(library / "bundles/ankle-first-days.yaml")
    for file in (bundle, library / "programmes/back-to-the-hill-path.md"):
        _edit(file, r"ankle-pump, towel-calf-stretch", "foot-pump, wall-calf-stretch")
    why = 'why: "Many people lost their balance as they bent over.", translated: {es: "Muchas personas perdieron el equilibrio al agacharse."}'
    lines = {
        '"F47V"': '    replaced by: "85KB"\n',
        f'"{_code(library, "arm-swing")}"': f"    withdrawn: {{on: 2026-11-20, {why}}}\n",
        '"shoulder-sore-and-stiff"': '    withdrawn: {on: 2026-11-20, why: "Its only exercise was withdrawn."}\n',
    }
    for code, line in lines.items():
        _edit(library / "ledger.yaml", rf"^(  - code: {code}\n)", rf"\g<1>{line}")
    assert main(["words", "collect", "--library", str(library), "--to", str(out), "--jobs=1"]) == 0


def _code(library: Path, slug: str) -> str:
    found = re.search(rf'- code: "(\w+)"\n.*\n.*\n    slugs: \["{slug}"\]', (library / "ledger.yaml").read_text())
    assert found
    return found[1]


def _edit(file: Path, old: str, new: str) -> None:
    text, count = re.subn(old, new, file.read_text(), flags=re.MULTILINE)
    assert count == 1, (file, old, count)
    file.write_text(text)


def _write(file: Path, text: str) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text)
