"""What an editor is told: the library's own names to choose from, a description at each key, renewed by ``check``.

Held by a JSON Schema validator (``jsonschema``, draft 2020-12) over the schemas that a language server reads, and where one
is installed (``yaml-language-server`` of npm, on the path or named by ``HANDOUTS_YAML_SERVER``) by a real one.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from threading import Timer
from typing import Any

import jsonschema
import pytest
import yaml

from handouts.cli import main
from handouts.commands.editor import from_editor, from_server, keys_only, kind_of, read_message, write_message
from handouts.figure import figure_schemas
from handouts.library.read import read_library
from handouts.library.schema import schema_files
from handouts.source.files import read_folder

KINDS = {"clinic.yaml": "clinic", "tiers.yaml": "tiers", "vocabulary.yaml": "vocabulary", "cautions.yaml": "cautions", "limits.yaml": "limits", "conditions.yaml": "conditions"}
FOLDERS = {"exercises": "exercise", "programmes": "programme", "bundles": "bundle"}
DEMO = Path(__file__).parents[2] / "content"


class _Texts(yaml.SafeLoader):
    """YAML 1.2 as editors have it, as far as a schema needs it: whole and other numbers, everything else a text."""


_Texts.yaml_implicit_resolvers = {}
_Texts.add_implicit_resolver("tag:yaml.org,2002:int", __import__("re").compile(r"^-?[0-9]+$"), list("-0123456789"))
_Texts.add_implicit_resolver("tag:yaml.org,2002:float", __import__("re").compile(r"^-?[0-9]+\.[0-9]+$"), list("-0123456789"))


def errors_of(kind: str, schemas: dict[str, bytes], text: str) -> list[jsonschema.ValidationError]:
    """What a validator says of the keys of a file."""
    validator = jsonschema.Draft202012Validator(json.loads(schemas[f"schema/{kind}.schema.json"]))
    return list(validator.iter_errors(yaml.load(text.split("\n---\n", maxsplit=1)[0], Loader=_Texts)))


@pytest.fixture(scope="module")
def demo() -> tuple[dict[str, bytes], dict[str, bytes]]:
    """The demo's files, and the schemas with its names."""
    files, _ = read_folder(DEMO, "content")
    library, _ = read_library(files, "content")
    assert library is not None
    return files, schema_files(figure_schemas(), library)


def test_names_of_the_library_are_offered_and_no_other_is_taken(demo: tuple[dict[str, bytes], dict[str, bytes]]) -> None:
    """A wrong tier, region, caution, exercise or purpose is an error where it stands, and the right ones are listed with their words."""
    files, schemas = demo
    text = files["exercises/sit-to-stand.md"].decode()
    for right, wrong, path in (
        ("tier: build", "tier: biuld", ["tier"]), ("regions: [thigh", "regions: [tigh", ["regions", 0]), ("purpose: function", "purpose: fun", ["purpose"]),
        ("cautions: [chest-pain", "cautions: [chestpain", ["cautions", 0]), ("position: seated", "position: sitting", ["position"]),
    ):  # fmt: skip
        assert not [each for each in errors_of("exercise", schemas, text) if list(each.path) == path]
        assert [list(each.path) for each in errors_of("exercise", schemas, text.replace(right, wrong))].count(path) == 1, wrong
    tier = json.loads(schemas["schema/exercise.schema.json"])["properties"]["tier"]
    assert dict(zip(tier["enum"], tier["enumDescriptions"], strict=True))["carry"] == "Add load"


def test_every_file_of_the_demo_fits_its_schema(demo: tuple[dict[str, bytes], dict[str, bytes]]) -> None:
    """No editor marks what the program takes."""
    files, schemas = demo
    count = 0
    for path, data in files.items():
        kind = KINDS.get(path) or FOLDERS.get(path.partition("/")[0])
        if kind:
            count += 1
            assert [(path, list(each.path), each.message[:200]) for each in errors_of(kind, schemas, data.decode())] == []
    assert count > 50


def properties(schema: Any) -> Iterator[tuple[str, Any]]:
    """Every key with its schema, but for those of the figure."""
    if isinstance(schema, dict):
        yield from schema.get("properties", {}).items()
        for name, inner in schema.items():
            if name != "$defs":
                yield from properties(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from properties(inner)


def test_every_key_has_a_description(demo: tuple[dict[str, bytes], dict[str, bytes]]) -> None:
    """What an editor shows beside a key."""
    _, schemas = demo
    for path, data in schemas.items():
        assert [name for name, inner in properties(json.loads(data)) if not inner.get("description")] == [], path


def test_check_renews_the_schemas(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A new word is offered after the next check, an old schema of another version too; a library without schemas gets none."""
    monkeypatch.chdir(tmp_path)
    assert main(["start", "lib"]) == 0
    schema = tmp_path / "lib/schema/exercise.schema.json"
    assert json.loads(schema.read_text())["properties"]["regions"]["items"]["enum"] == ["knee", "thigh"]
    vocabulary = tmp_path / "lib/vocabulary.yaml"
    vocabulary.write_text(vocabulary.read_text().replace("positions:", "  - {slug: hip, name: hip}\npositions:", 1))
    (tmp_path / "lib/schema/clinic.schema.json").write_text("{}")
    main(["check", "lib", "--today=2026-11-25"])
    assert json.loads(schema.read_text())["properties"]["regions"]["items"]["enum"] == ["knee", "thigh", "hip"]
    assert "properties" in json.loads((tmp_path / "lib/schema/clinic.schema.json").read_text())
    for path in (tmp_path / "lib/schema").iterdir():
        path.unlink()
    (tmp_path / "lib/schema").rmdir()
    main(["check", "lib", "--today=2026-11-25"])
    assert not (tmp_path / "lib/schema").exists()


def test_a_language_server_sees_the_keys_alone() -> None:
    """Each on its own line, with the schema of its kind; any other file and message goes through as it is."""
    text = "---\ncode: A222\ntier: wake\n---\n## How to do it\n\n1. Sit.\n"
    assert keys_only(text, "exercise") == "# yaml-language-server: $schema=../schema/exercise.schema.json\ncode: A222\ntier: wake\n"
    assert keys_only("---\ncode: A2", "exercise").endswith("\ncode: A2\n")
    assert keys_only("# no keys\n", "exercise") == ""
    assert [kind_of(f"file:///a%20b/lib/{path}") for path in ("exercises/a.md", "programmes/b.md", "bundles/c.yaml", "README.md", "exercises/a.yaml")] == ["exercise", "programme", "", "", ""]
    opened = {"method": "textDocument/didOpen", "params": {"textDocument": {"uri": "file:///lib/exercises/a.md", "languageId": "markdown", "text": text}}}
    assert from_editor(json.loads(json.dumps(opened)))["params"]["textDocument"] == {"uri": "file:///lib/exercises/a.md", "languageId": "yaml", "text": keys_only(text, "exercise")}
    other = {"method": "textDocument/didOpen", "params": {"textDocument": {"uri": "file:///lib/README.md", "text": text}}}
    assert from_editor(json.loads(json.dumps(other))) == other
    assert from_server({"id": 1, "result": {"capabilities": {"textDocumentSync": 2, "hoverProvider": True}}})["result"]["capabilities"]["textDocumentSync"]["change"] == 1
    assert from_server({"id": 2, "result": [1]}) == {"id": 2, "result": [1]}


SERVER = os.environ.get("HANDOUTS_YAML_SERVER") or shutil.which("yaml-language-server")


@pytest.mark.skipif(not SERVER, reason="yaml-language-server is not installed")
def test_a_real_language_server_completes_the_keys_of_a_markdown_file(tmp_path: Path) -> None:
    """Names with their words, the description at a key, an error at a wrong name and at nothing else, all on the lines of the file."""
    environment = {**os.environ, "PYTHONPATH": str(DEMO.parent)}
    subprocess.run([sys.executable, "-m", "handouts", "start", "lib"], cwd=tmp_path, env=environment, check=True, capture_output=True)
    file = tmp_path / "lib/exercises/sit-to-stand.md"
    text = file.read_text()
    line = next(at for at, each in enumerate(text.split("\n")) if each.startswith("tier: "))
    with subprocess.Popen([sys.executable, "-m", "handouts", "editor", "--server", str(SERVER)], env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        assert process.stdin and process.stdout
        timer = Timer(60, process.kill)
        timer.start()

        def send(**message: Any) -> None:
            write_message(process.stdin, {"jsonrpc": "2.0", **message})  # type: ignore[arg-type]

        def read(wanted: str | int) -> Any:
            """The next answer of a number, or the next message of a kind."""
            while (message := read_message(process.stdout)) is not None:  # type: ignore[arg-type]
                if message.get("method") == wanted:
                    return message["params"]
                if message.get("id") == wanted and "method" not in message:
                    return message["result"]
                if "id" in message:
                    asked = message.get("params", {}).get("items", [None]) if message["method"] == "workspace/configuration" else [None]
                    send(id=message["id"], result=[None] * len(asked))
            raise AssertionError("the server ended")

        place = {"textDocument": {"uri": file.as_uri()}}
        send(id=1, method="initialize", params={"processId": None, "rootUri": (tmp_path / "lib").as_uri(), "capabilities": {}})
        assert read(1)["capabilities"]["textDocumentSync"]["change"] == 1
        send(method="initialized", params={})
        send(method="textDocument/didOpen", params={"textDocument": {**place["textDocument"], "languageId": "markdown", "version": 1, "text": text}})
        send(id=2, method="textDocument/hover", params={**place, "position": {"line": line, "character": 2}})
        assert "its tier, from tiers.yaml" in read(2)["contents"]["value"]
        assert read("textDocument/publishDiagnostics")["diagnostics"] == []
        send(method="textDocument/didChange", params={"textDocument": {**place["textDocument"], "version": 2}, "contentChanges": [{"text": text.replace(text.split("\n")[line], "tier: b")}]})
        send(id=3, method="textDocument/completion", params={**place, "position": {"line": line, "character": len("tier: b")}})
        assert {(each["label"], each.get("documentation")) for each in read(3)["items"]} == {("begin", "Begin"), ("build", "Build")}
        (found,) = read("textDocument/publishDiagnostics")["diagnostics"]
        timer.cancel()
        process.terminate()
        assert (found["range"]["start"]["line"], "Valid values" in found["message"]) == (line, True)
