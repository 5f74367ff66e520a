"""Keep what a property has worked out with the object it belongs to."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, Self, TypeVar, overload

T = TypeVar("T")


class once(Generic[T]):  # noqa: N801  # a decorator, written small as `cached_property` is
    """`functools.cached_property` without its lock, which costs more than most of what is kept.

    Python 3.12 dropped the lock; two threads may work out the same value twice, which is the same.
    """

    def __init__(self, work: Callable[[Any], T]) -> None:
        self._work, self._name = work, work.__name__
        self.__doc__ = work.__doc__

    @overload
    def __get__(self, instance: None, owner: type) -> Self: ...
    @overload
    def __get__(self, instance: object, owner: type) -> T: ...
    def __get__(self, instance: object | None, owner: type) -> Self | T:
        if instance is None:
            return self
        value = instance.__dict__[self._name] = self._work(instance)
        return value
