"""The command line as ``python -m handouts``."""

import sys

from handouts.cli import main

if __name__ == "__main__":
    sys.exit(main())
