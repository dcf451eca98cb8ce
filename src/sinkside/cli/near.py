"""What to say after a word that is not known."""

from collections.abc import Iterable

MOST = 12


def suggestion(word: str, known: Iterable[str]) -> str:
    """The known word that is nearest, or the first of all of them.

    Parameters
    ----------
    word
        What was given; capitals and blanks around it make no difference.
    known
        The words that would be right.
    """
    close = nearest(word, known)
    if close is not None:
        return f"did you mean {close!r}?"
    words = list(known)
    more = f" and {len(words) - MOST} more" if len(words) > MOST else ""
    return f"known are {', '.join(words[:MOST])}{more}"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that is nearest, if one is near."""
    from difflib import get_close_matches

    plain = {name.casefold(): name for name in known}
    close = get_close_matches(word.strip().casefold(), list(plain), n=1)
    return plain[close[0]] if close else None
