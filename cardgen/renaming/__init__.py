"""Give a thing of a job another name, at every place of the text that mentions it."""

from cardgen.renaming.renamed_text import CannotRename, RenamedText, edited_with_names

__all__ = ["CannotRename", "RenamedText", "edited_with_names"]
