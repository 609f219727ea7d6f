"""XLIFF read and written by another library: translate-toolkit (GPL, a tool of the tests only)."""

from __future__ import annotations

import pytest

from handouts.words.xliff import read_xliff, write_xliff
from tests.small_library import small_library
from tests.words.sample import untranslated

xliff2 = pytest.importorskip("translate.storage.xliff2", reason="translate-toolkit is not installed")


def test_independent_reader_and_writer() -> None:
    """Another library reads every unit, translates it, and what it writes comes back whole."""
    source = untranslated(small_library())
    store = xliff2.Xliff2File.parsestring(write_xliff(source, "en"))
    assert sorted(unit.source for unit in store.units) == sorted(entry.source for entry in source.entries)
    for unit in store.units:
        unit.target = unit.source.swapcase()
        unit.markfuzzy(False)
    back, problems, _ = read_xliff(bytes(store), "es.xlf", source)
    assert problems == []
    assert [entry.text for entry in back.entries] == [entry.source.swapcase() for entry in source.entries]
    assert all(entry.usable for entry in back.entries)
