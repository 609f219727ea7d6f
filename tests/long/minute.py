"""A clinician's minute at human speed: ``python tests/long/minute.py [SITE]``, on the demo's site, ``build/site`` by default.

Clicks and types in Chromium from the site's home to the print dialog, each step as long as the keystroke-level model
says (tests/clinician/minute.py), with the page's own time on top: by way of a programme, by three complaints (four exercises,
two doses changed, one side chosen), and by a plan that is typed.  Prints actions, the model's seconds and the seconds that passed; ends with 1
where these are 60 or more, or the actions more than the aim.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.clinician.minute import Clinician, Words, by_complaint, by_sentence, hand_over
from tests.site.browser import PRINTED, a_browser

DEMO = Words(programme="Back to the hill path", search="stretch", number=("sets-95EE", "2"), limit="limit-no-weight", finding="Non-weight-bearing", language="es")
MOST_SECONDS = 60
COMPLAINTS = (("weak knees",), ("stiff shoulder",), ("tight calf", "calf"))
"""Each with what is typed next where it finds fewer than four exercises."""
SENTENCE = ("sit to stand 3x8, bridge 2x10 hold 5, heel raise, step up left, 4 weeks, Spanish", 4)
MOST_ACTIONS = {"complaint": 12, "sentence": 4}
"""Aims of the page."""


def main(arguments: list[str]) -> int:
    """Replays each way once."""
    site = Path(arguments[0] if arguments else "build/site").resolve()
    if not (site / "en/bundle/index.html").is_file():
        print(f"there is no site in {site}: build the demo first, handouts build", file=sys.stderr)
        return 2
    ways = [("programme", "", lambda hands: hand_over(hands, DEMO))]
    ways += [("complaint", ", ".join(each), lambda hands, each=each: by_complaint(hands, each)) for each in COMPLAINTS]
    ways += [("sentence", SENTENCE[0], lambda hands: by_sentence(hands, *SENTENCE))]
    failed = False
    with a_browser() as browser:
        for way, words, walk in ways:
            context = browser.new_context(viewport={"width": 1280, "height": 900})
            context.add_init_script(PRINTED)
            page = context.new_page()
            page.goto((site / "en/index.html").as_uri())
            hands = Clinician(page, human=True)
            begun = time.perf_counter()
            walk(hands)
            passed = time.perf_counter() - begun
            context.close()
            failed |= passed >= MOST_SECONDS or hands.actions > MOST_ACTIONS.get(way, hands.actions)
            print(f"{way} {words}: {hands.actions} actions; {hands.seconds:.1f} s by the keystroke-level model; {passed:.1f} s passed")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
