"""The one way in which a request is refused: a status, and the name of its texts."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_NONE: Mapping[str, str] = MappingProxyType({})


class HttpError(Exception):
    """The request is answered with a page that says why nothing was done, and the way out.

    Attributes:
        name: of its three texts, `refusal.NAME`, with ` title` and ` help` behind it.
        values: what stands in those texts.
        headers: sent with it.
    """

    def __init__(
        self, status: int, name: str, *, headers: Mapping[str, str] = _NONE, **values: object
    ) -> None:
        super().__init__(name)
        self.status, self.name, self.headers, self.values = status, name, headers, values
