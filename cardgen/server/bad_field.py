"""Say that a field of a form cannot be taken as it is, in a text for a crew."""

from __future__ import annotations


class BadField(Exception):
    """Attributes:
    name: of the text `entries.wrong NAME` in the catalogue.
    values: what stands in it.
    """

    def __init__(self, name: str, **values: str) -> None:
        super().__init__(name)
        self.name, self.values = name, values
