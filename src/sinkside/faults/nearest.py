"""What to say after a word that is not known."""

from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from functools import lru_cache

# More than all keys of any one mapping; what people name themselves may be thousands.
LISTED = 24
# Among more names than these a likeness takes too long: they are looked up by one slip.
MANY = 200
# A longer word is no slip of the pen.
LONGEST = 80


def nearest(word: str, allowed: Iterable[str]) -> str:
    """What to say after an unknown word: the nearest known one, or the first of all of them.

    Parameters
    ----------
    word
        What was given.
    allowed
        The words that would be right, in the order in which they are told.

    Notes
    -----
    Among many names only one that is a slip away is called near: a letter too many, too few or
    wrong, or two changed over.
    """
    return _nearest(word, tuple(allowed))


@lru_cache(maxsize=1024)
def _nearest(word: str, allowed: tuple[str, ...]) -> str:
    """The same, kept: one slip is often made all over a file."""
    close: list[str] = []
    if len(word) <= LONGEST and len(allowed) <= MANY:
        close = get_close_matches(word, allowed, n=1, cutoff=0.6)
    elif len(word) <= LONGEST:
        slips = _slips(allowed)
        close = [slips[s] for s in _without_one(word) if s in slips][:1]
    if close:
        return f"did you mean {close[0]!r}?"
    more = f" and {len(allowed) - LISTED} more" if len(allowed) > LISTED else ""
    return f"known are {', '.join(allowed[:LISTED])}{more}"


@lru_cache(maxsize=4)
def _slips(allowed: tuple[str, ...]) -> dict[str, str]:
    """Every name by itself and by what is left of it without one letter."""
    short = [name for name in reversed(allowed) if len(name) <= LONGEST]
    return {slip: name for name in short for slip in _without_one(name)}


def _without_one(word: str) -> Iterator[str]:
    yield word
    for i in range(len(word)):
        yield word[:i] + word[i + 1 :]
