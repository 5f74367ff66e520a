"""Names of whose a conductor or an end is: a station by its id, else `COM-A`, `terminal 3 of A`."""

from __future__ import annotations

_COMMON = "COM-"
_TERMINAL = "terminal "


def common_of(controller: str) -> str:
    return f"{_COMMON}{controller}"


def is_common(owner: str) -> bool:
    return owner.startswith(_COMMON)


def controller_of(common: str) -> str:
    """The controller whose common it is; any other owner is returned as it is."""
    return common.removeprefix(_COMMON)


def terminal_of(controller: str, terminal: str) -> str:
    """A terminal that belongs to nobody else."""
    return f"{_TERMINAL}{terminal} of {controller}"


def is_terminal(owner: str) -> bool:
    return owner.startswith(_TERMINAL)


def path_of(controller: str, side: object) -> str:
    """One side of a two-wire path, as a flag has it."""
    return f"PATH-{controller}{side}"


def owner_in_words(owner: str) -> str:
    """As a sentence names it: `COM-A` is the common of A."""
    return f"the common of {controller_of(owner)}" if is_common(owner) else owner
