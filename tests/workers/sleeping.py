"""A task for the workers of a test, which find it as this process does."""

from __future__ import annotations

import os
import signal
import time


def nap(what: float | str) -> int:
    """So many seconds of rest; or the end of the process that does it."""
    if isinstance(what, str):
        os.kill(os.getpid(), signal.SIGKILL)
    else:
        time.sleep(what)
    return os.getpid()
