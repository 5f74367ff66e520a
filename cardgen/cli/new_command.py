"""`cardgen new FILE`: write a commented job that checks clean, with a key nobody can guess."""

from __future__ import annotations

import argparse
import secrets

from cardgen.cli.telling import CLEAN, misused
from cardgen.job.starter import starter_job
from cardgen.output.writing import CannotWrite, write_new

# Digits and capitals without those that are misread: 0 O, 1 I L, 5 S, 8 B, U V.
_ALPHABET = "234679ACDEFGHJKMNPQRTWXYZ"
_LENGTH = 12  # 25^12: 56 bits; what is longer does not fit beside the code of a small tag


def run(options: argparse.Namespace) -> int:
    key = "".join(secrets.choice(_ALPHABET) for _ in range(_LENGTH))
    try:
        write_new(options.job, starter_job(key).encode())
    except CannotWrite as fault:
        return misused(fault.sentence, fault.help)
    print(f"{options.job} is written. Change it to your job, then: cardgen check {options.job}")
    return CLEAN
