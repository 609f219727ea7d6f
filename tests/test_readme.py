"""What the papers for readers say holds: commands, options, links and pictures exist, and the tutorial gives its sheet."""

from __future__ import annotations

import argparse
import os
import re
import shlex
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from configparser import ConfigParser
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image

from handouts.cli import COMMANDS, main, make_parser
from tests.test_layers import LEVELS
from tests.test_wheel import build
from tests.write_pictures import MOST_BYTES, NAMES

ROOT = Path(__file__).parents[1]
FILES_OF_A_LIBRARY = ("clinic.yaml", "ledger.yaml", "published.yaml", "score.yaml")
PAPERS = ("README.md", "HOSTING.md", "OPERATIONS.md", "DEVELOPERS.md", "CHANGELOG.md")


def text_of(name: str) -> str:
    """A paper."""
    return (ROOT / name).read_text(encoding="utf-8")


def anchors(text: str) -> set[str]:
    """The names of a paper's headings, as a reader's link has them."""
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in re.findall(r"^#+ (.*)", text, re.MULTILINE)}


@pytest.mark.parametrize("name", PAPERS)
def test_links_hold(name: str) -> None:
    """Each link of a paper leads to a file or a heading that exists."""
    text = text_of(name)
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        file, _, heading = target.partition("#")
        assert not file or (ROOT / file).exists(), target
        assert not heading or heading in anchors(text_of(file) if file else text), target


def test_pictures() -> None:
    """The README shows every picture that is made and no other, with words for who cannot see it, none large."""
    shown = re.findall(r"!\[([^\]]*)\]\((tests/pictures/[^)]+)\)", text_of("README.md"))
    assert sorted(path for _, path in shown) == sorted(f"tests/pictures/{name}.png" for name in NAMES)
    assert {path.name for path in (ROOT / "tests/pictures").iterdir()} == {f"{name}.png" for name in NAMES}
    for words, path in shown:
        assert len(words.split()) >= 7, path
        assert (ROOT / path).stat().st_size <= MOST_BYTES
        with Image.open(ROOT / path) as picture:
            assert picture.width >= 700 and picture.height >= 700


def leaves(parser: argparse.ArgumentParser, words: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], argparse.ArgumentParser]]:
    """Each command with its words: ``words collect``."""
    inner = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
    if not inner:
        yield words, parser
    for action in inner:
        for name, each in action.choices.items():
            yield from leaves(each, (*words, name))


KNOWN = dict(leaves(make_parser()))


def options_of(parser: argparse.ArgumentParser) -> set[str]:
    """The options of a command."""
    return {name for action in parser._actions for name in action.option_strings}


def commands_in(text: str) -> list[list[str]]:
    """What follows ``handouts`` or ``./run`` in blocks and in code within sentences, as words."""
    blocks = re.findall(r"^```\w*\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    lines = [line for block in blocks for line in block.split("\n")]
    lines += re.findall(r"`([^`\n]+)`", re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL))
    found = []
    for line in lines:
        match = re.match(r"\s*(?:handouts|\./run) (.+)", line)
        if match:
            command = re.split(r"\s{3,}| …", match[1])[0]
            found.append(shlex.split(command))
    return found


@pytest.mark.parametrize("name", PAPERS)
def test_commands_of_papers_exist(name: str) -> None:
    """Each command and each option that a paper names is one of the program's, or of the set-up script's."""
    script = set(re.findall(r"^  *(\w+)(?: \| \w+)*\)", text_of("run"), re.MULTILINE))
    for words in commands_in(text_of(name)):
        if words[0] in script and words[0] not in COMMANDS:
            continue
        assert words[0] in COMMANDS, words
        path = tuple(words[:2]) if tuple(words[:2]) in KNOWN else (words[0],)
        parsers = [parser for each, parser in KNOWN.items() if each[: len(path)] == path]
        assert parsers, words
        options = set().union(*map(options_of, parsers))
        for word in words:
            assert not word.startswith("--") or word.split("=")[0] in options, words


def test_every_command_is_explained() -> None:
    """Each command stands in the README, each option says what it does, and each example of the help is a real one."""
    readme = text_of("README.md")
    for words, parser in KNOWN.items():
        assert re.search(rf"(?:handouts|\./run) {' '.join(words)}\b", readme), words
        assert all(action.help for action in parser._actions), words
    for name, (says, examples) in COMMANDS.items():
        assert says and examples
        for example in examples.split("\n"):
            program, *words = shlex.split(example)
            assert program == "handouts"
            make_parser().parse_args(words)
        assert examples.startswith(f"handouts {name}")


def test_developers_paper_names_what_there_is() -> None:
    """Every module and folder that it names exists, and every room is named."""
    text = text_of("DEVELOPERS.md")
    scripts = ROOT / "templates/scripts/src"
    places = (ROOT, ROOT / "handouts", ROOT / "tests", scripts, *(ROOT / "handouts").glob("*/"), *(ROOT / "tests").glob("*/"), *scripts.glob("*/"))
    for name in re.findall(r"`([\w/.-]+(?:\.(?:py|html|css|js|po|md|yaml|json|toml)|/))(?=[`\s])", text):
        if not re.search(r"[A-Z]{4}", name) and name not in FILES_OF_A_LIBRARY:
            assert any((place / name).exists() for place in places), name
    rooms = {room for rooms in LEVELS for room in rooms if not room.startswith("__")}
    missing = {room for room in rooms if not re.search(rf"`(?:handouts/)?{room.replace('.', '/')}(?:\.py|/)", text)}
    assert missing == set()


def entry_point(folder: Path) -> Path:
    """The program as a wheel installs it: its folder on the path, and the command that its entry point names."""
    zipfile.ZipFile(build(folder)).extractall(folder / "site")
    (told,) = (folder / "site").glob("*.dist-info/entry_points.txt")
    points = ConfigParser()
    points.read(told)
    module, function = points["console_scripts"]["handouts"].split(":")
    script = folder / "bin/handouts"
    script.parent.mkdir()
    script.write_text(f"#!{sys.executable}\nimport sys\nfrom {module} import {function}\nif __name__ == '__main__':\n    sys.exit({function}())\n")
    script.chmod(0o755)
    return script


def test_tutorial(tmp_path: Path) -> None:
    """Its commands run as they stand, in order, and the sheet at the end says what the exercise says."""
    part = text_of("README.md").split("<!-- tutorial")[1].split("<!-- end of tutorial -->")[0]
    script = entry_point(tmp_path)
    work = tmp_path / "work"
    work.mkdir()
    env = {**os.environ, "PATH": f"{script.parent}:{os.environ['PATH']}", "PYTHONPATH": str(tmp_path / "site"), "SOURCE_DATE_EPOCH": "1795600800"}
    said = ""
    for before, kind, block in re.findall(r"([^\n]*)\n\n```(\w+)\n(.*?)^```", part, re.DOTALL | re.MULTILINE):
        if kind == "markdown":
            (name,) = re.findall(r"Save this as `([^`]+)`", before)
            (work / name).write_text(block)
        else:
            done = subprocess.run(["bash", "-e", "-c", block], cwd=work, env=env, capture_output=True, text=True, check=False)
            said += done.stdout + done.stderr
            assert done.returncode == 0, block + said
    assert "no programme uses this exercise" in said and "3 exercises, 1 programme, 1 bundle: no problems" in said
    assert (work / "half-squat.png").read_bytes().startswith(b"\x89PNG")
    (named,) = re.findall(r"`(build/\S+\.pdf)`", part)
    text = sheet_text(work / named)
    for words in ("Half squat in front of a chair", "Bend your hips and knees, as if to sit down.", "Your Clinic", "You feel a sharp pain", "Reach your seat back"):
        assert words in text, text
    assert "2 sets 8 times 1 minute rest 3 days a week" in text
    (printed,) = (work / "sheets").glob("*.pdf")
    assert "Knee straightening on a chair" in sheet_text(printed)
    assert '"half-squat"' in (work / "my-library/ledger.yaml").read_text()


def sheet_text(file: Path) -> str:
    """The text of a PDF in one line."""
    document = pypdfium2.PdfDocument(file)
    try:
        return " ".join(" ".join(page.get_textpage().get_text_range() for page in document).split())
    finally:
        document.close()


def test_unknown_command_is_no_command() -> None:
    """The check of papers can fail."""
    assert commands_in("Run `handouts publish --now` and `./run site`.") == [["publish", "--now"], ["site"]]
    with pytest.raises(SystemExit):
        main(["publish"])
