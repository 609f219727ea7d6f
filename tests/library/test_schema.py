"""The schemas for editors accept what the reader accepts."""

from __future__ import annotations

from pathlib import Path

import jsonschema
import pytest
import yaml

from handouts.commands.start import starter_files
from handouts.figure import figure_schemas
from handouts.library.declare import FILES
from handouts.library.names import FOLDERS, SINGLE_FILES
from handouts.library.schema import schema_of

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "content"


class EditorLoader(yaml.SafeLoader):
    """YAML as an editor's language server reads it (1.2 core schema): 'no', '1:30' and dates stay text."""


EditorLoader.yaml_implicit_resolvers = {
    key: [(tag, pattern) for tag, pattern in rows if tag in ("tag:yaml.org,2002:int", "tag:yaml.org,2002:float")]
    for key, rows in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def keys_of(path: Path) -> object:
    """The front matter of a file, or the whole of a YAML file."""
    text = path.read_text(encoding="utf-8")
    return yaml.load(text.split("\n---\n")[0].removeprefix("---\n") if path.suffix == ".md" else text, EditorLoader)


def demo_files() -> list[tuple[str, Path]]:
    """Every file of the demo library with its kind."""
    found = [(kind, DEMO / name) for name, kind in SINGLE_FILES.items() if (DEMO / name).exists()]
    for folder, (ending, kind) in FOLDERS.items():
        found += [(kind, path) for path in sorted((DEMO / folder).glob(f"*{ending}"))]
    return found


@pytest.mark.parametrize("kind", FILES)
def test_schema_is_a_schema(kind: str) -> None:
    """Each schema is valid JSON Schema 2020-12 and describes each key."""
    schema = schema_of(kind, figure_schemas())
    jsonschema.Draft202012Validator.check_schema(schema)
    assert all(item.get("description") for item in schema["properties"].values())


def test_demo_fits_its_schemas() -> None:
    """Every file of the demo library is accepted by the schema of its kind."""
    validators = {kind: jsonschema.Draft202012Validator(schema_of(kind, figure_schemas())) for kind in FILES}
    faults = [
        f"{path.name}: {error.json_path}: {error.message}"
        for kind, path in demo_files()
        for error in validators[kind].iter_errors(keys_of(path))
    ]
    assert faults == []


def test_schema_refuses_what_the_reader_refuses() -> None:
    """An unknown key and a missing one are faults for the editor too."""
    validator = jsonschema.Draft202012Validator(schema_of("bundle", {}))
    assert [error.validator for error in validator.iter_errors({"titel": "x"})].count("required") == 5
    assert any(error.validator == "additionalProperties" for error in validator.iter_errors({"titel": "x"}))


def test_starter_names_its_schemas() -> None:
    """Each file of the starter library carries the editor line, and the schema it names is written beside it."""
    files = starter_files()
    for path, data in files.items():
        if path.endswith((".yaml", ".md")):
            (line,) = [line for line in data.decode().split("\n") if line.startswith("# yaml-language-server: $schema=")]
            target = line.split("=", 1)[1].removeprefix("../")
            assert target in files, (path, target)
