"""Start the command line: `cardgen ...` or `python -m cardgen ...`."""

import sys

from cardgen.cli.main import main


def run() -> None:
    """Run what the command line says and leave with its exit code."""
    sys.exit(main(sys.argv[1:]))


if __name__ == "__main__":
    run()
