"""`python -m rigdsl`: the same as the command `rigdsl`."""

import sys

from rigdsl.cli import main

if __name__ == "__main__":
    sys.exit(main())
