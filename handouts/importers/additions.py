"""Words and cautions that a person adds to a library while importing: lines below what its files have."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping

from handouts.importers.answers import ImportQuestion
from handouts.importers.table import slug_of

VOCABULARY, CAUTIONS = "vocabulary.yaml", "cautions.yaml"
EMPTY = {VOCABULARY: "", CAUTIONS: "cautions:\n"}
"""The files as they begin in a library that has what its base has."""
_MOST_SLUG = 40


def file_of(question: ImportQuestion) -> str:
    """The file that an answer to a question may add to; empty where it may add to none."""
    if question.topic == "cautions":
        return CAUTIONS
    addable = question.topic == "terms" and question.about.partition(":")[0] != "tiers"
    return VOCABULARY if addable else ""


def asked_for(question: ImportQuestion) -> Mapping[str, tuple[str, ...]]:
    """What must be said of an addition, by key, with the values that it may have; none where any text may stand."""
    if question.topic == "cautions":
        return {"kind": ("stop", "care"), "do": (), "call": ("clinic", "emergency"), "source": ()}
    return {"level": ("floor", "chair", "standing")} if question.about.startswith("positions:") else {}


def add_to(text: str, question: ImportQuestion, said: Mapping[str, str]) -> tuple[str, str] | None:
    """The file with what is added, and its slug; None where the file is not written a word a line."""
    if question.topic == "cautions":
        slug = _free_slug(question.about, question.choices)
        values = {"kind": said["kind"], "when": question.about, "do": said["do"], "call": said["call"], "source": said["source"]}
        if said["kind"] != "stop":
            del values["call"]
        lines = [f"  - slug: {slug}", *(f"    {key}: {value if key in ('kind', 'call') else _quoted(value)}" for key, value in values.items())]
        is_list = re.search(r"^  - ", text, re.M) or text.strip() == EMPTY[CAUTIONS].strip()
        return (text.rstrip("\n") + "\n" + "\n".join(lines) + "\n", slug) if is_list and slug else None
    name, _, word = question.about.partition(": ")
    slug = _free_slug(word, question.choices)
    found = re.search(rf"^{re.escape(name)}:[ \t]*\n(?:[ \t]+.*\n|[ \t]*#.*\n)+", text, re.M)
    indent = re.search(r"^([ \t]+)- ", found[0], re.M) if found else None
    if not slug:
        return None
    if found and re.search(rf"slug: {re.escape(slug)}\b(?!-)", found[0]):
        return text, slug
    more = "".join(f", {key}: {value}" for key, value in said.items())
    if not found and not re.search(rf"^{re.escape(name)}:", text, re.M):
        return text.rstrip("\n") + f"\n{name}:\n  - {{slug: {slug}, name: {_quoted(word)}{more}}}\n", slug
    if not found or not indent:
        return None
    line = f"{indent[1]}- {{slug: {slug}, name: {_quoted(word)}{more}}}\n"
    return text[: found.end()] + line + text[found.end() :], slug


def _free_slug(words: str, taken: Mapping[str, str]) -> str:
    slug = slug_of(words)[:_MOST_SLUG].rpartition("-")[0] if len(slug_of(words)) > _MOST_SLUG else slug_of(words)
    return next((each for each in (slug, *(f"{slug}-{number}" for number in range(2, 100))) if each not in taken), "") if slug else ""


def _quoted(text: str) -> str:
    return text if re.fullmatch(r"[A-Za-z][A-Za-z0-9 -]*", text) else json.dumps(text, ensure_ascii=False)
