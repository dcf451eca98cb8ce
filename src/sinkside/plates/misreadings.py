"""Letters in the place of digits, as a hasty reader or a scan gives them: `1OO-24OV`, `I2V`.

The likeliest figure is read, and told as doubtful.
"""

import re

_DIGIT_LIKE = "OoIlQ"
# Bounded, so that a long row of such signs is searched in linear time.
_NUMBER = rf"[0-9{_DIGIT_LIKE}][0-9{_DIGIT_LIKE}.,]{{0,8}}"
_FIGURE = re.compile(
    rf"(?<![^\W_])(?=[0-9.,]{{0,8}}[{_DIGIT_LIKE}])(?=[{_DIGIT_LIKE}.,]{{0,8}}[0-9])"
    rf"({_NUMBER}(?:[-~/]{_NUMBER}){{0,2}}) ?(?:[Vv]|[Mm]?[Aa]|[Ww]|VA)(?:[AaDd][Cc])?(?![^\W_])"
)
_DIGITS = str.maketrans(_DIGIT_LIKE, "00110")

WHY = "letters where digits are expected"


def straightened(text: str) -> tuple[str, list[tuple[int, int]]]:
    """Put digits for letters that look like them, in figures with a unit.

    Parameters
    ----------
    text
        The mapped text.

    Returns
    -------
    tuple
        The text, as long as before, and the spans of the numbers that were changed.

    Notes
    -----
    A figure needs one digit at least beside the letters: `lOV` stays a word.
    """
    spans = [match.span(1) for match in _FIGURE.finditer(text)]
    for start, end in reversed(spans):
        text = text[:start] + text[start:end].translate(_DIGITS) + text[end:]
    return text, spans
