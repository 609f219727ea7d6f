"""A clinician's minute at human speed: ``python tests/long/minute.py [SITE]``, on the demo's site, ``build/site`` by default.

Clicks and types in Chromium from the site's home to the print dialog, each step as long as the keystroke-level model
says (tests/clinician/minute.py), with the page's own time on top.  Prints actions, the model's seconds and the seconds
that passed; ends with 1 where these are 60 or more.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.clinician.minute import Clinician, Words, hand_over
from tests.site.browser import PRINTED, a_browser

DEMO = Words(programme="Back to the hill path", search="stretch", number=("sets-95EE", "2"), limit="limit-hip-posterior", finding="Hip", language="es")
MOST_SECONDS = 60


def main(arguments: list[str]) -> int:
    """Replays the minute once."""
    site = Path(arguments[0] if arguments else "build/site").resolve()
    if not (site / "en/bundle/index.html").is_file():
        print(f"there is no site in {site}: build the demo first, handouts build", file=sys.stderr)
        return 2
    with a_browser() as browser:
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        context.add_init_script(PRINTED)
        page = context.new_page()
        page.goto((site / "en/index.html").as_uri())
        hands = Clinician(page, human=True)
        begun = time.perf_counter()
        hand_over(hands, DEMO)
        passed = time.perf_counter() - begun
        context.close()
    print(f"{hands.actions} actions; {hands.seconds:.1f} s by the keystroke-level model; {passed:.1f} s passed")
    return int(passed >= MOST_SECONDS)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
