"""JSON Schemas of the file kinds, for editors: made from the declarations that the reader uses, and the library's own names."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from handouts.library.base_shapes import OWN_KEYS
from handouts.library.declare import FILES
from handouts.library.names import SINGLE_FILES
from handouts.model import Library

DIALECT = "https://json-schema.org/draft/2020-12/schema"
NAMED = {
    "tier": "tiers", "regions": "regions", "purpose": "purposes", "position": "positions", "positions": "positions", "equipment": "equipment",
    "purposes": "purposes", "band": "bands", "demands": "demands", "cautions": "cautions", "after": "exercises", "exercise": "exercises",
    "pace words": "paces", "when": "occasions", "exercises": "exercises", "easier": "exercises", "harder": "exercises", "programme": "programmes",
}  # fmt: skip
"""Keys whose values are names that the library declares, and which of its lists they are from."""
Names = Mapping[str, Mapping[str, str]]
"""The names of each list, each with its words."""


def schema_of(kind: str, definitions: Mapping[str, Mapping[str, Any]], names: Names | None = None) -> dict[str, Any]:
    """The schema of one file kind; ``definitions`` holds what other rooms declare, such as the figure."""
    schema: dict[str, Any] = {"$schema": DIALECT, **FILES[kind].schema()}
    if "#/$defs/" in json.dumps(schema):
        schema["$defs"] = {name: dict(inner) for name, inner in definitions.items()}
    if names:
        schema = json.loads(json.dumps(schema))
        for key, inner in _properties({name: part for name, part in schema.items() if name != "$defs"}):
            known = names.get(NAMED.get(key, ""))
            for each in _names_in(inner) if known else ():
                each["enum"], each["enumDescriptions"] = list(known or ()), list((known or {}).values())
    return schema


def schema_files(
    definitions: Mapping[str, Mapping[str, Any]], library: Library | None = None, *, on_base: bool = False
) -> dict[str, bytes]:
    """Every schema as a file: ``schema/KIND.schema.json``, with the names of a library where it can be read.

    ``on_base``: for one that will stand on a base; like one that does, it need not write what the base has.
    """
    names = names_of(library) if library else None
    schemas = {kind: schema_of(kind, definitions, names) for kind in FILES}
    if on_base or (library and library.base):
        for kind in SINGLE_FILES.values():
            schemas[kind]["required"] = [key for key in schemas[kind]["required"] if kind == "clinic" and key in OWN_KEYS]
    return {f"schema/{kind}.schema.json": (json.dumps(schema, indent=2) + "\n").encode() for kind, schema in schemas.items()}


def names_of(library: Library) -> Names:
    """What a library declares, by list."""
    lists = library.vocabulary
    kinds = ("regions", "positions", "equipment", "purposes", "bands", "demands", "paces", "occasions")
    terms = {name: {term.slug: str(term.name) for term in getattr(lists, name)} for name in kinds}
    return {
        **terms,
        "tiers": {tier.slug: str(tier.name) for tier in library.tiers},
        "cautions": {item.slug: str(item.when) for item in library.cautions},
        "exercises": {name: str(item.title) for item in library.exercises for name in (item.slug, item.code)},
        "programmes": {item.slug: str(item.title) for item in library.programmes},
    }


def _properties(schema: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every key of every mapping in a schema, with the schema of its value."""
    if isinstance(schema, dict):
        for name, inner in schema.get("properties", {}).items():
            yield name, inner
        for inner in schema.values():
            yield from _properties(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from _properties(inner)


def _names_in(schema: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Where a name may stand: as the value itself, as one of several shapes, or in a list."""
    if schema.get("type") == "string" and "pattern" in schema:
        yield schema
    for inner in (*schema.get("anyOf", ()), *([schema["items"]] if isinstance(schema.get("items"), dict) else ())):
        yield from _names_in(inner)
