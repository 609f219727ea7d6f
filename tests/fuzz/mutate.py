"""Cases from a seed: files of the corpus with accidents and tricks put into them.  The same seed gives the same bytes."""

from __future__ import annotations

from pathlib import Path
from random import Random

CORPUS = Path(__file__).parents[1] / "corpus"
WORDS = (CORPUS / "words.txt").read_text(encoding="utf-8").splitlines()
"""Pieces that formats give a meaning to, one a line, with Python's escapes."""
PIECES = tuple(word.encode("latin-1", "backslashreplace").decode("unicode_escape").encode("utf-8", "surrogatepass") for word in WORDS if word)


def seeds(target: str) -> tuple[bytes, ...]:
    """The files of a target's corpus, in the order of their names."""
    return tuple(path.read_bytes() for path in sorted((CORPUS / target).iterdir()))


def mutate(data: bytes, random: Random) -> bytes:
    """A few accidents: bytes changed, cut, doubled, swapped, pieces put in, lines moved or repeated."""
    for _ in range(random.choice((1, 1, 1, 2, 3, 6))):
        data = random.choice(_ACCIDENTS)(data, random)
    return data[:100_000]


def _at(data: bytes, random: Random) -> int:
    return random.randint(0, len(data))


def _change(data: bytes, random: Random) -> bytes:
    at = _at(data, random)
    return data[:at] + bytes([random.randrange(256)]) + data[at + 1 :]


def _insert(data: bytes, random: Random) -> bytes:
    at = _at(data, random)
    return data[:at] + random.choice(PIECES) * random.choice((1, 1, 1, 2, 40)) + data[at:]


def _replace_word(data: bytes, random: Random) -> bytes:
    words = data.split(b" ")
    words[random.randrange(len(words))] = random.choice(PIECES)
    return b" ".join(words)


def _cut(data: bytes, random: Random) -> bytes:
    first, last = sorted((_at(data, random), _at(data, random)))
    return data[:first] + data[last:] if random.random() < 0.5 else data[:first] + data[first + random.randrange(9) :]


def _lines(data: bytes, random: Random) -> bytes:
    lines = data.split(b"\n")
    one, other = random.randrange(len(lines)), random.randrange(len(lines))
    kind = random.randrange(4)
    if kind == 0:
        lines[one], lines[other] = lines[other], lines[one]
    elif kind == 1:
        lines.insert(one, lines[other])
    elif kind == 2:
        del lines[one]
    else:
        lines[one] = b" " * random.choice((1, 2, 4)) + lines[one]
    return b"\n".join(lines)


def _repeat(data: bytes, random: Random) -> bytes:
    first, last = sorted((_at(data, random), _at(data, random)))
    return data[:last] + data[first:last] * random.choice((1, 2, 30)) + data[last:]


_ACCIDENTS = (_change, _insert, _insert, _replace_word, _cut, _lines, _lines, _repeat)
