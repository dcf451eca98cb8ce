"""Values that know their hash: results are kept by value, so hashes are asked for often."""

from typing import TypeVar

C = TypeVar("C")


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
