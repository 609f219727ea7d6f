"""Pseudo-languages change every word and nothing else."""

from __future__ import annotations

from handouts.words.pseudo import change_text

TEXT = "Hold **30 seconds**, see [our page](https://x.example/abc) {name}."


def test_lengthened() -> None:
    """Accents, a third longer; marks, addresses and placeholders stay."""
    assert change_text(TEXT, "en-XA") == "Hóld hóld **30 séçóñds**, séé [óúr óúr págé](https://x.example/abc) {name}."
    plain = "one two three four five six seven eight nine"
    assert 1.2 < len(change_text(plain, "en-XA")) / len(plain) < 1.5


def test_mirrored() -> None:
    """Each word runs from right to left; every override is closed."""
    changed = change_text(TEXT, "ar-XB")
    assert changed.count("\u202e") == changed.count("\u202c") == 5
    assert "](https://x.example/abc) {name}." in changed
