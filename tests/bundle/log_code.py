"""The code of a log written and read a second time, by the tables of its specification alone; and random logs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Any
from zlib import crc32

DIGITS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Log:
    """What the code of a log holds beside its plan; sets in halves."""

    from_first: bool
    today: int
    all: int
    sessions: tuple[tuple[int, int | None, int | None, tuple[int, ...]], ...]
    """Day, effort, pain, half sets by exercise."""


def read_code(text: str, sets: Sequence[int]) -> tuple[str, Log]:
    """The plan and the log of a code, whose plan has exercises of so many sets each."""
    body, check = text[:-7], text[-7:]
    assert sum(DIGITS.index(digit) * 32 ** (6 - at) for at, digit in enumerate(check)) == crc32(body.encode())
    assert body[:2] == "Z3"
    bits = "".join(f"{DIGITS.index(digit):05b}" for digit in body[2:])
    at = 0

    def take(count: int) -> int:
        nonlocal at
        at += count
        assert at <= len(bits)
        return int(bits[at - count : at], 2)

    plan = "".join(DIGITS[take(5)] for _ in range(take(9)))
    from_first, today, given, every = take(1) == 1, take(10), take(7), take(10)
    sessions, day = [], 0
    for _ in range(given):
        day += take(10) if take(1) else take(2)
        effort = take(4) if take(1) else None
        pain = take(4) if take(1) else None
        done = tuple(2 * asked if take(1) else take(5) if take(1) else 0 for asked in sets)
        sessions.append((day, effort, pain, done))
    assert len(bits) - at < 5 and "1" not in bits[at:]
    return plan, Log(from_first, today, every, tuple(sessions))


def random_log(random: Random, sets: Sequence[int]) -> Log:
    """A log such as a phone may have: any days, answers and sets, with none answered and nothing done among them."""
    count = random.choice((0, 1, 2, random.randint(3, 30), random.randint(90, 100)))
    day, sessions = 0, []
    for _ in range(count):
        day += random.choice((0, 1, 1, 2, 3, 4, random.randint(5, 9)))
        done = [random.choice((2 * asked, 2 * asked, 0, random.randint(0, 2 * asked))) for asked in sets]
        if not any(done):
            done[random.randrange(len(done))] = 1
        sessions.append((day, *(random.choice((None, *range(11))) for _ in range(2)), tuple(done)))
    more = random.choice((0, 0, random.randint(1, 900))) if count == 100 else 0
    return Log(random.random() < 0.3, day + random.choice((0, 1, 9)), count + more, tuple(sessions))


def log_json(log: Log) -> dict[str, Any]:
    """A log as the browser holds it."""
    sessions = [{"day": day, "effort": effort, "pain": pain, "sets": [done / 2 for done in halves]} for day, effort, pain, halves in log.sessions]
    return {"fromFirst": log.from_first, "today": log.today, "all": log.all, "sessions": sessions}
