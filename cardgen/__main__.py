"""Start the command line: `cardgen ...` or `python -m cardgen ...`."""

import gc
import sys

from cardgen.cli.main import main
from cardgen.cli.plain_output import plainly


def run() -> None:
    """Run what the command line says and leave with its exit code."""
    plainly((sys.stdout, sys.stderr))
    code = main(sys.argv[1:])
    gc.freeze()  # the process ends with all of it, so nobody need look what can be thrown away
    sys.exit(code)


if __name__ == "__main__":
    run()
