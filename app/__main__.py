"""``python -m app``."""

import sys

from app.cli import main

if __name__ == "__main__":  # a process that is started beside it loads this module again
    sys.exit(main())
