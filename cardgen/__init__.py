"""One job file in; checked, printed, scannable tags for irrigation valve wiring out.

Other programs call `cardgen.load`, `cardgen.check` and `cardgen.print_job`; what these raise is
`cardgen.JobErrors` and `cardgen.UserError`.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # checkers take it as true; at run time nothing is imported before its use
if TYPE_CHECKING:
    from cardgen.library import JobErrors, UserError, check, load, print_job

__all__ = ["JobErrors", "UserError", "check", "load", "print_job"]
__version__ = "0.1.0"


def __getattr__(name: str) -> object:
    if name not in __all__:
        raise AttributeError(f"module 'cardgen' has no attribute '{name}'")
    found: object = getattr(import_module("cardgen.library"), name)
    return found
