"""`cardgen new FILE`: write a commented job that checks clean, with a key nobody can guess."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from cardgen.address import new_record_key
from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN
from cardgen.job.starter import starter_job
from cardgen.output.writing import write_new


@dataclass(frozen=True, kw_only=True)
class Options:
    job_file: Path


def run(options: Options) -> int:
    write_new(options.job_file, starter_job(new_record_key()).encode())
    name = options.job_file
    print(f"{name} is written. Change it to your job, then: cardgen check {pasted(name)}")
    return CLEAN
