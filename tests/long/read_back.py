"""Reads back the sheet of every exercise of the demo in every language, alone and with the source beside it: ``python tests/long/read_back.py [SLUG…]``.

Says how many were read and which say something else than they were made from; ends with 1 where one does.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.paper.plan import sheet_document
from handouts.paper.two_languages import beside_sheet
from tests.paper.test_read_back import a_setting, compare
from tests.words.demo import LANGUAGES


def main(wanted: list[str]) -> int:
    """Every sheet, or those of some exercises."""
    read, bad = 0, list[str]()
    source = a_setting("en")
    with tempfile.TemporaryDirectory() as folder:
        for language in ("en", *LANGUAGES):
            own = a_setting(language)
            for exercise in own.library.exercises:
                if wanted and exercise.slug not in wanted:
                    continue
                made = {"alone": sheet_document(own, exercise)}
                if language != "en":
                    made["beside its source"] = beside_sheet(own, source, exercise)
                for how, document in made.items():
                    read += 1
                    try:
                        compare(document, Path(folder), language)
                    except AssertionError as error:
                        bad.append(f"{language}/{exercise.slug} {how}: {str(error).splitlines()[0][:200]}")
                        print(bad[-1], flush=True)
    print(f"{read} sheets read back, {len(bad)} say something else")
    return bool(bad) or not read


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
