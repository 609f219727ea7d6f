"""Every hostile library: ``python tests/long/hostile.py [NAME]``; ends with 1 where one does not hold.

What is tried and what must hold: ``tests/hostile``.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.hostile.run import main_of_hostile

if __name__ == "__main__":
    sys.exit(main_of_hostile(sys.argv[1:]))
