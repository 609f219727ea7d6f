"""Folding: the shared vectors, and the same result as the browser's side for every character."""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path
from typing import Any

import pytest

from handouts.site.folding import fold, forms_of, split_words
from tests.scripts.node import ask_script

VECTORS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "folding_vectors.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("vector", VECTORS, ids=lambda vector: vector["text"].strip())
def test_vectors(vector: dict[str, Any]) -> None:
    """Each shared vector gives its words and their forms."""
    words = split_words(vector["text"], for_query=True)
    assert list(words) == vector["words"]
    assert [list(forms_of(word, vector["language"])) for word in words] == vector["forms"]
    assert list(split_words(vector["text"])) == vector.get("index", vector["words"])


def test_vectors_in_the_browsers_language() -> None:
    """The script gives the same for each shared vector."""
    for vector, got in zip(VECTORS, ask_script("foldedWords", VECTORS), strict=True):
        assert got == {"words": vector["words"], "forms": vector["forms"], "index": vector.get("index", vector["words"])}


def test_every_character_folds_alike() -> None:
    """Every character that this Python knows is folded and split alike on both sides."""
    texts = [f"a{chr(point)}b" for point in range(0x20, 0x2FFFF)
             if unicodedata.category(chr(point)) not in ("Cn", "Cs", "Co")]
    got = ask_script("folded", texts)
    unlike = [(text, mine, theirs) for text, theirs in zip(texts, got, strict=True)
              if (mine := [fold(text), list(split_words(text))]) != theirs]
    assert len(texts) > 90_000
    assert unlike == []


@pytest.mark.parametrize("text", ["Step-up", "الرُّكبة", "膝盖", "Straße"])
def test_folding_twice_changes_nothing(text: str) -> None:
    """A folded text is its own folding."""
    assert fold(fold(text)) == fold(text)
