"""What a command is at: what is done, of how much, and about how long it takes; on a terminal a bar, elsewhere a line now and then.

A wait of up to two seconds says nothing.  Everything goes to standard error; nothing is shown where quiet is asked.
"""

from __future__ import annotations

import sys
import threading
import time
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

SILENT_SECONDS = 2.0
"""A shorter wait needs no word (common practice, no source)."""
TICK_SECONDS = 0.25
LINE_SECONDS, LINE_GROWS, MOST_LINE_SECONDS = 5.0, 1.5, 60.0
"""Where the output is no terminal: the first pause between two lines, how it grows, and its end."""
RATE_SECONDS = 20.0
"""The time left is reckoned from what was done in so many seconds: what was kept from before goes much faster."""
BAR_LETTERS = 24


@dataclass(slots=True)
class Stage:
    """One part of the work; ``of`` 0: nobody knows how much it is."""

    what: str
    of: int = 0
    count: int = 0
    began: float = field(default_factory=time.monotonic)
    past: deque[tuple[float, int]] = field(default_factory=deque)
    """What was done at which time."""
    line_at: float = SILENT_SECONDS
    pause: float = LINE_SECONDS

    def done(self, count: int = 1) -> None:
        """So many parts more are done."""
        self.count += count

    def seconds(self) -> float:
        """Since it began."""
        return time.monotonic() - self.began

    def note(self) -> None:
        """Keep what is done now, for the rate."""
        now = self.seconds()
        self.past.append((now, self.count))
        while now - self.past[0][0] > RATE_SECONDS:
            self.past.popleft()

    def say(self, bar: bool) -> str:
        """One line."""
        if not self.of:
            return f"{self.what}: {say_seconds(self.seconds())} so far"
        share = min(1.0, self.count / self.of)
        drawn = f" [{'#' * int(share * BAR_LETTERS):-<{BAR_LETTERS}}]" if bar else ":"
        return f"{self.what}{drawn} {self.count} of {self.of}{self._say_left()}"

    def _say_left(self) -> str:
        if len(self.past) < 2:
            return ""
        (first, before), (last, now) = self.past[0], self.past[-1]
        if now <= before or self.count >= self.of:
            return ""
        return f", about {say_seconds((self.of - now) * (last - first) / (now - before))} left"


def say_seconds(seconds: float) -> str:
    """A length of time, as exactly as anyone wants to know it."""
    if seconds < 60:
        return f"{max(1, round(seconds))} s"
    if seconds < 3600:
        return f"{round(seconds / 60)} min"
    return f"{seconds / 3600:.1f} h"


class Progress:
    """Shows the stage that was begun last."""

    def __init__(self, quiet: bool = False) -> None:
        self._shown = not quiet
        self._stages: list[Stage] = []
        self._lock = threading.Lock()
        self._width = 0

    @contextmanager
    def stage(self, what: str, of: int = 0) -> Iterator[Stage]:
        """A part of the work, shown while the block runs; what is printed after it stands on a line of its own."""
        stage = Stage(what, of)
        if not self._shown:
            yield stage
            return
        with self._lock:
            self._stages.append(stage)
        ended, ticker = threading.Event(), None
        if len(self._stages) == 1:
            ticker = threading.Thread(target=self._tick, args=(ended,), daemon=True)
            ticker.start()
        try:
            yield stage
        finally:
            with self._lock:
                self._stages.remove(stage)
            if ticker is not None:
                ended.set()
                ticker.join()
                self._clear()

    def tell(self, line: str) -> None:
        """One line for a person, now."""
        if self._shown:
            with self._lock:
                self._clear()
                print(line, file=sys.stderr, flush=True)

    def _tick(self, ended: threading.Event) -> None:
        while not ended.wait(TICK_SECONDS):
            with self._lock:
                if self._stages:
                    self._show(self._stages[-1])

    def _show(self, stage: Stage) -> None:
        stage.note()
        if sys.stderr.isatty():
            if stage.seconds() >= SILENT_SECONDS or self._width:
                text = stage.say(bar=True)
                print(f"\r{text:<{self._width}}", end="", file=sys.stderr, flush=True)
                self._width = len(text)
        elif stage.seconds() >= stage.line_at:
            print(stage.say(bar=False), file=sys.stderr, flush=True)
            stage.line_at = stage.seconds() + stage.pause
            stage.pause = min(stage.pause * LINE_GROWS, MOST_LINE_SECONDS)

    def _clear(self) -> None:
        if self._width:
            print(f"\r{'':<{self._width}}\r", end="", file=sys.stderr, flush=True)
            self._width = 0


SILENT = Progress(quiet=True)
"""Shows nothing."""
