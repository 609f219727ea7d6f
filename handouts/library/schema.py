"""JSON Schemas of the file kinds, for editors: made from the declarations that the reader uses."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from handouts.library.declare import FILES

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(kind: str, definitions: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """The schema of one file kind; ``definitions`` holds what other rooms declare, such as the figure."""
    schema: dict[str, Any] = {"$schema": DIALECT, **FILES[kind].schema()}
    if "#/$defs/" in json.dumps(schema):
        schema["$defs"] = {name: dict(inner) for name, inner in definitions.items()}
    return schema


def schema_files(definitions: Mapping[str, Mapping[str, Any]]) -> dict[str, bytes]:
    """Every schema as a file: ``schema/KIND.schema.json``."""
    return {
        f"schema/{kind}.schema.json": (json.dumps(schema_of(kind, definitions), indent=2) + "\n").encode()
        for kind in FILES
    }
