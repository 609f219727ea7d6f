"""WeasyPrint, loaded when this module is imported: where processes are forked that will lay out sheets (``Workers.prepare``).

Where it cannot be loaded, the first sheet says so.
"""

from contextlib import suppress

from handouts.paper.writer.load import load_writer
from handouts.problems import PaperUnavailableError

with suppress(PaperUnavailableError):
    load_writer()
