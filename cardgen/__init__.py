"""One job file in; checked, printed, scannable tags for irrigation valve wiring out.

Other programs call `cardgen.load`, `cardgen.check` and `cardgen.print_job`; what these raise is
`cardgen.JobErrors` and `cardgen.UserError`.
"""

from __future__ import annotations

from importlib import import_module

__all__ = ["JobErrors", "UserError", "check", "load", "print_job"]
__version__ = "0.1.0"

TYPE_CHECKING = False  # checkers take it as true
if TYPE_CHECKING:
    from cardgen.library import JobErrors, UserError, check, load, print_job
else:

    def __getattr__(name: str) -> object:
        """Import what is asked for when it is asked for."""
        if name not in __all__:
            raise AttributeError(f"module 'cardgen' has no attribute '{name}'")
        return getattr(import_module("cardgen.library"), name)
