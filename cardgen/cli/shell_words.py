"""Write a path as it is pasted into the shell of this machine."""

from __future__ import annotations

import shlex
import subprocess
import sys
from pathlib import Path


def pasted(path: Path | str, *, windows: bool = sys.platform == "win32") -> str:
    """In quotes where it needs them; `windows`: in those that cmd and PowerShell both know."""
    text = str(path)
    if text.startswith("-"):
        text = f".\\{text}" if windows else f"./{text}"
    if not windows:
        return shlex.quote(text)
    # Signs that mean something to one of the two shells, besides what list2cmdline knows.
    quoted = subprocess.list2cmdline([text])
    return (
        f'"{quoted}"' if quoted == text and set(text) & set("&()[]{}^=;!'+,`~$@%|<>#") else quoted
    )
