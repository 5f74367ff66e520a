"""Start the command line: `cardgen ...` or `python -m cardgen ...`."""

import gc
import sys
from io import TextIOWrapper

from cardgen.cli.main import main


def run() -> None:
    """Run what the command line says and leave with its exit code."""
    if isinstance(sys.stdout, TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a letter that the terminal lacks is a '?'
    code = main(sys.argv[1:])
    gc.freeze()  # the process ends with all of it, so nobody need look what can be thrown away
    sys.exit(code)


if __name__ == "__main__":
    run()
