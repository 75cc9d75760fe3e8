"""`python -m hangtrue` is the command `hangtrue`."""

import sys

from hangtrue.cli import main

if __name__ == "__main__":
    sys.exit(main())
