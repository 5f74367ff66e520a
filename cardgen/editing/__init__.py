"""Change values in the text of a job and leave every other byte as a person wrote it."""

from cardgen.editing.edit import edited, edited_nodes, refusals
from cardgen.editing.text_changes import (
    CannotEdit,
    Change,
    NotReadYet,
    Path,
    Put,
    Remove,
    Rename,
    RepeatedElsewhere,
    Value,
)

__all__ = [
    "CannotEdit",
    "Change",
    "NotReadYet",
    "Path",
    "Put",
    "Remove",
    "Rename",
    "RepeatedElsewhere",
    "Value",
    "edited",
    "edited_nodes",
    "refusals",
]
