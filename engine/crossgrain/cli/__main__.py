"""Run the command line as ``python -m crossgrain.cli``."""

import sys

from crossgrain.cli import main

if __name__ == "__main__":
    sys.exit(main())
