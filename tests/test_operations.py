"""What the operations paper promises: exit statuses by rule, quiet nights, JSON by its schema, two sites compared after an upgrade."""

from __future__ import annotations

import json
import re
from pathlib import Path

import jsonschema
import pytest

from handouts.cli import COMMANDS, main
from handouts.commands.guide import PAPERS
from tests.changes.test_changes import build, edit, published
from tests.small_library import TEXTS, texts_with
from tests.test_cli import write
from tests.test_work import texts as two_languages

ROOT = Path(__file__).parents[1]
SCHEMA = json.loads((ROOT / "templates/outputs.schema.json").read_text())
FOOT = "exercises/foot-lift.md"


def hold(text: str) -> dict[str, object]:
    """What a command printed, held to the schema: nothing that it does not name, nothing that it asks for and is not there."""
    told = json.loads(text)
    kinds = [each for each in SCHEMA["anyOf"] if each["properties"]["kind"]["const"] == told["kind"]]
    assert kinds, told["kind"]
    chosen = kinds[-1] if set(told) == {"kind", "format", "problems"} else kinds[0]
    jsonschema.Draft202012Validator({**chosen, "$defs": SCHEMA["$defs"]}).validate(told)
    return dict(told)


def test_the_schema_is_one() -> None:
    """Its kinds are commands that there are."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert {each["properties"]["kind"]["const"].split()[0] for each in SCHEMA["anyOf"]} <= set(COMMANDS)


def test_every_json_keeps_to_the_schema(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whole libraries, faulty ones and none."""
    folder = published(tmp_path, {path: text for path, text in two_languages().items() if path != "ledger.yaml"})
    lib, out, seen = str(folder / "lib"), f"--to={folder / 'out'}", set()
    ways = (["check", lib], ["build", lib, out, "--no-paper", "--jobs=1"], ["changes", lib, out], ["score", lib, out], ["words", "state", lib],
            ["changes", "--pages", str(folder / "out/site"), str(folder / "out/site")], ["build", lib, "--verify", "--no-paper"])  # fmt: skip
    for number in range(2):
        for words in ways[: len(ways) - number]:  # two builds to compare are made once
            capsys.readouterr()
            assert main([*words, "--json", *([] if words[0] == "words" else ["--today=2026-11-25"])]) == 0, words
            seen.add(hold(capsys.readouterr().out)["kind"])
        step = next(line for line in (folder / "lib/exercises/arm-lift.md").read_text().splitlines() if line.startswith("1. "))
        if "Now" not in step:
            edit(folder, "exercises/arm-lift.md", (step, step.replace("1. ", "1. Now ")))
    (folder / "lib/clinic.yaml").write_text("name: [")
    for words in ways[:5]:
        for place in (lib, str(tmp_path / "nowhere")):
            capsys.readouterr()
            assert main([*(place if word == lib else word for word in words), "--json"]) in (1, 2)
            assert hold(capsys.readouterr().out)["problems"]
    assert seen == {each["properties"]["kind"]["const"] for each in SCHEMA["anyOf"]} - {"base diff"}  # tests/bases


def test_status_by_rule(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """3 where a notice of the rule is given, from ``check`` and ``build``, also where nothing has changed since; errors stay 1."""
    write(tmp_path / "lib", texts_with(FOOT, ("on: 2026-09-14", "on: 2025-01-10")))
    for rules, status in (([], 0), (["--fail-on=review-lapsed"], 3), (["--fail-on=review-due"], 0), (["--fail-on=notice"], 3), (["--fail-on=review-due", "--fail-on=review-lapsed"], 3)):
        assert main(["check", str(tmp_path / "lib"), "--today=2026-11-25", *rules]) == status
        assert build(tmp_path, "2026-11-25", *rules) == status
    assert (tmp_path / "out/site/index.html").is_file()
    with pytest.raises(SystemExit, match="2"):
        build(tmp_path, "2026-11-25", "--fail-on", "Review lapsed")
    assert "is no rule; it stands in brackets behind its message" in capsys.readouterr().err
    (tmp_path / "lib" / FOOT).write_text("---\n---\n")
    assert build(tmp_path, "2026-11-25", "--fail-on=notice") == 1


def test_a_quiet_night(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is printed where nothing changed, so that no mail is sent."""
    write(tmp_path / "lib", TEXTS)
    assert build(tmp_path) == 0
    capsys.readouterr()
    assert build(tmp_path, "2026-11-25", "--quiet") == 0
    told = capsys.readouterr()
    assert told.out + told.err == ""


def test_two_sites_as_readers_see_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same words are none; another word is named with its page, a new page too; styles and scripts are only counted."""
    for name, files in (("a", TEXTS), ("b", TEXTS), ("c", texts_with(FOOT, ("Sit tall.", "Sit up.")))):
        write(tmp_path / name / "lib", files)
        assert build(tmp_path / name) == 0
    style = next((tmp_path / "b/out/site/assets").glob("screen.*.css"))
    data = style.read_bytes()
    style.unlink()  # a published file may be one name of many
    style.write_bytes(data + b"/* */")
    extra = tmp_path / "c/out/site/en/more/index.html"
    extra.parent.mkdir()
    extra.write_text("<p>More</p>")
    sites = {name: str(tmp_path / name / "out/site") for name in "abc"}
    capsys.readouterr()
    assert main(["changes", "--pages", sites["a"], sites["b"]]) == 0
    assert re.fullmatch(
        r"Nothing that readers see in words is different\.\n\d+ pages stand in both sites; 1 other files differ: styles, scripts, pictures, sheets\.\n", capsys.readouterr().out
    )
    assert main(["changes", "--pages", sites["a"], sites["c"]]) == 1
    told = capsys.readouterr().out
    assert "new: en/more/index.html" in told
    assert "\nen/exercises/foot-lift/index.html\n" in told and "  - Sit tall.\n" in told and "  + Sit up.\n" in told
    assert main(["changes", "--pages", sites["a"], str(tmp_path)]) == 2


@pytest.mark.parametrize("topic", PAPERS)
def test_guide(topic: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The papers as they stand."""
    assert main(["guide", topic]) == 0
    name = PAPERS[topic]
    assert capsys.readouterr().out == (ROOT / ("templates" if topic == "json" else "") / name).read_text(encoding="utf-8")


def test_the_rules_that_it_names_exist() -> None:
    """Every rule in the paper is one that the program gives."""
    paper = (ROOT / "OPERATIONS.md").read_text(encoding="utf-8")
    source = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "handouts").rglob("*.py"))
    named = set(re.findall(r"`([a-z]+-[a-z-]+[a-z])`", paper)) - {"sha256sum"}
    assert {"review-lapsed", "left-language", "not-approved"} <= named
    assert {rule for rule in named if f'"{rule}"' not in source} == set()
