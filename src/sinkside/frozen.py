"""Values that keep what was worked out of them: results are kept by value, and asked for often."""

from collections.abc import Callable
from typing import Any, Generic, TypeVar, overload

C = TypeVar("C")
V = TypeVar("V")


class once(Generic[V]):  # noqa: N801  # it stands where `property` would
    """A property of a frozen value that is worked out at its first use, and kept.

    `functools.cached_property` takes a lock at each first use (until Python 3.12); the same
    value worked out twice by two threads does no harm here.
    """

    def __init__(self, function: Callable[[Any], V]) -> None:
        self.function = function
        self.name = function.__name__
        self.__doc__ = function.__doc__

    @overload
    def __get__(self, instance: None, owner: type) -> "once[V]": ...
    @overload
    def __get__(self, instance: object, owner: type) -> V: ...
    def __get__(self, instance: object | None, owner: type) -> "V | once[V]":
        if instance is None:
            return self
        value = instance.__dict__[self.name] = self.function(instance)
        return value


def hash_once(cls: type[C]) -> type[C]:
    """Let a frozen dataclass compute its hash once, and keep it.

    Put it above `@dataclass(frozen=True)`; the class must not have slots.
    """
    plain = cls.__hash__

    def remembered(self: C) -> int:
        try:
            found: int = self.__dict__["_hash"]
        except KeyError:
            found = plain(self)
            object.__setattr__(self, "_hash", found)
        return found

    def without(self: C) -> dict[str, object]:
        # Hashes of texts differ from process to process: a remembered one must not travel.
        return {key: value for key, value in self.__dict__.items() if key != "_hash"}

    cls.__getstate__ = without  # type: ignore[method-assign, assignment]  # what a copy takes
    cls.__hash__ = remembered  # type: ignore[assignment]  # the same signature, remembered
    return cls
