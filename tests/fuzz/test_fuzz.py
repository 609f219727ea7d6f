"""The bounded part of fuzzing: the same cases in every run.  The long part: ``tests/long/fuzz.py``."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.library.read import read_exercise
from handouts.source.nodes import MOST_NAMED
from tests.fuzz.mutate import CORPUS, mutate, seeds
from tests.fuzz.targets import TARGETS

CASES = {"front-matter": 300, "library": 75, "bundle": 750}
"""Cases of a target where not 250; ``tests/long/fuzz.py`` tries as many as there is time for."""
bounded = settings(derandomize=True, deadline=None, database=None, max_examples=75)


@pytest.mark.parametrize("target", TARGETS)
def test_corpus(target: str) -> None:
    """The whole files from which the cases are bred."""
    assert seeds(target)
    for data in seeds(target):
        TARGETS[target](data)


def test_corpus_is_small() -> None:
    """It is read by people: less than 64 KiB in all."""
    assert sum(path.stat().st_size for path in CORPUS.rglob("*") if path.is_file()) < 64 * 1024
    assert {path.name for path in CORPUS.iterdir() if path.is_dir()} == set(TARGETS)


@pytest.mark.parametrize("target", TARGETS)
def test_mutants(target: str) -> None:
    """Accidents and tricks in whole files."""
    random, whole = Random(f"{target} 20261125"), seeds(target)
    for _ in range(CASES.get(target, 250)):
        data = mutate(random.choice(whole), random)
        try:
            TARGETS[target](data)
        except Exception as fault:
            fault.add_note(f"case: {data!r}")
            raise


@pytest.mark.parametrize("target", TARGETS)
@bounded
@given(data=st.one_of(st.binary(max_size=120), st.text(max_size=120).map(lambda text: text.encode("utf-8", "surrogatepass"))))
def test_any_bytes(target: str, data: bytes) -> None:
    """Bytes and texts of any kind."""
    TARGETS[target](data)


_SCALARS = st.one_of(
    st.text(st.characters(codec="utf-8", exclude_characters="\n\r"), max_size=12),
    st.sampled_from(["no", "1:30", "012", "2026-09-14", "1-4", "30 s", "[a, b]", "{a: b}", "~", "3", "heel-raise", '"a: b"', "5 min", "*a", "&a b", "!!int 3"]),
)
_KEYS = st.sampled_from(["code", "title", "tier", "regions", "purpose", "position", "equipment", "why", "dose", "dose range", "cues", "feel", "mistakes", "review", "figure", "sources"])


@bounded
@given(keys=st.lists(st.tuples(_KEYS, _SCALARS), max_size=12), body=st.lists(st.one_of(_SCALARS, st.just("## A"), st.just("1. b"), st.just("- c")), max_size=6))
def test_keys_with_any_value(keys: list[tuple[str, str]], body: list[str]) -> None:
    """Known keys with values of every form."""
    text = "---\n" + "".join(f"{key}: {value}\n" for key, value in keys) + "---\n" + "\n".join(body)
    TARGETS["front-matter"](text.encode("utf-8", "surrogatepass"))


_PIECES = st.sampled_from(["**", "*", "_", "[", "]", "(", ")", "](", "https://a.example", "javascript:x", "<b>", "&amp;", "`", "\\", "!", " ", "heel", "ß", "\u0301", "{", "}", "\u200e"])


@settings(bounded, max_examples=400)
@given(pieces=st.lists(_PIECES, max_size=24))
def test_marks_in_any_order(pieces: list[str]) -> None:
    """Inline marks put together at random are inert, and lose no letter where nothing was refused."""
    TARGETS["inline"]("".join(pieces).encode())
    TARGETS["markdown"](("## A\n\n" + "".join(pieces)).encode())


def test_faults_of_a_file_are_bounded() -> None:
    """A thousand forbidden characters are twenty problems."""
    assert len(read_exercise(b"\x07" * 1000, "x.md", "x")[1]) == MOST_NAMED
