"""Tell about every fault of the program: as the terminal shows it."""

from __future__ import annotations

from textwrap import fill, indent

from cardgen import faults

WIDTH = 80
_GAP = "    "


def explain(code: str) -> str | None:
    """What the terminal shows about a code; None if there is none of that name."""
    fault = faults.ALL.get(code)
    if fault is None:
        return None
    return "\n\n".join(
        (
            fill(f"{fault.verdict} {fault.code}: {fault.title}", WIDTH),
            fill(fault.why, WIDTH),
            fill(fault.fix, WIDTH),
            "Reported:\n\n" + indent(fault.wrong, _GAP),
            "Fine:\n\n" + indent(fault.right, _GAP),
        )
    )


def list_of_faults() -> str:
    """All codes in order of the alphabet, a line each."""
    return "\n".join(
        f"{fault.code:28} {fault.verdict:8} {fault.title}"
        for _, fault in sorted(faults.ALL.items())
    )
