"""`cardgen new FILE`: write a commented job that checks clean, with a key nobody can guess."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN
from cardgen.job.starter import starter_job
from cardgen.output.writing import write_new

# Digits and capitals without those that people misread, 0 O, 1 I L, 5 S, 8 B, U V, or OCR: 9 J Q.
ALPHABET = "23467ACDEFGHKMNPRTWXYZ"
_LENGTH = 12  # 22^12: 53 bits; what is longer does not fit beside the code of a small tag


@dataclass(frozen=True, kw_only=True)
class Options:
    job_file: Path


def run(options: Options) -> int:
    key = "".join(secrets.choice(ALPHABET) for _ in range(_LENGTH))
    write_new(options.job_file, starter_job(key).encode())
    name = options.job_file
    print(f"{name} is written. Change it to your job, then: cardgen check {pasted(name)}")
    return CLEAN
