"""Stage 2: turn nodes into the Job, which is what the file says, each thing with its place."""

from cardgen.job.job_loader import load, load_text, schema

__all__ = ["load", "load_text", "schema"]
