"""Start the command line: `cardgen ...` or `python -m cardgen ...`."""

import sys
from io import TextIOWrapper

from cardgen.cli.main import main


def run() -> None:
    """Run what the command line says and leave with its exit code."""
    if isinstance(sys.stdout, TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a letter that the terminal lacks is a '?'
    sys.exit(main(sys.argv[1:]))


if __name__ == "__main__":
    run()
