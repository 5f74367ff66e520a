"""What every command that reads a job is told."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, kw_only=True)
class JobOptions:
    """Attributes:
    job: the job file.
    format: how problems are shown: `text`, `short` or `json`.
    """

    job_file: Path
    format: str


@dataclass(frozen=True, kw_only=True)
class ServerOptions:
    """Attributes:
    dir: folder that `cardgen record` has written.
    data: the file with what crews enter; None for the one beside `dir`.
    """

    dir: Path
    data: Path | None
