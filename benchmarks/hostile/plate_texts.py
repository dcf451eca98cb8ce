"""Rating plates: of every language of the vocabulary, spoiled, and shapes that never end."""

from functools import cache
from pathlib import Path

import yaml

from hostile.calls import Call
from hostile.signs import FIGURES, LONG, SIGNS, Draw, any_sign, nested, raw, repeated, spoiled
from sinkside.plates.vocabulary import STEMS, UNITS, WORDS

CORPORA = Path(__file__).parents[2] / "tests" / "reference"
SHORT = (
    *(
        "9",
        "12",
        "100",
        "240",
        "0,5",
        "V",
        "A",
        "mA",
        "W",
        "VA",
        "Hz",
        "V⎓",
        "~",
        "-",
        "–",
        "/",
        ",",
    ),
    *(
        " ",
        "\n",
        "(",
        ")",
        "+",
        "=",
        ":",
        ".",
        "..",
        "1/",
        "9V/",
        "9V-",
        "1 ",
        "C1+",
        "C1/",
        "USB-C ",
    ),
    *(
        "PPS ",
        "OUTPUT ",
        "INPUT:",
        "DC ",
        "AC ",
        "max ",
        "peak ",
        "⊕",
        "⊖",
        "(+)",
        "(-)",
        "-C-",
        "● ",
    ),
    *(
        "center ",
        "+ ",
        "- ",
        "or ",
        "and ",
        "x",
        "T2A",
        "MODEL ",
        "电",
        "出力",
        "センター",
        "é",
        "·",
    ),
)


@cache
def texts() -> tuple[str, ...]:
    """The plates of the test corpora."""
    found: list[str] = []
    for file in sorted(CORPORA.glob("plates_corpus*.yaml")):
        found += [entry["text"] for entry in yaml.load(file.read_bytes(), Loader=yaml.CSafeLoader)]
    return tuple(found)


@cache
def words() -> tuple[str, ...]:
    """Every word, beginning of a word and unit that the reader knows, in every language."""
    lists = [words for languages in WORDS.values() for words in languages.values()]
    found = [word.strip() for words in (*lists, *STEMS.values()) for word in words.split(",")]
    return (*found, *UNITS)


def text(draw: Draw) -> str:
    """The text of a plate."""
    match draw.randrange(20):
        case 0 | 1 | 2 | 3 | 4 | 5 | 6:
            return spoiled(draw, draw.choice(texts()))
        case 7 | 8:
            joiner = draw.choice((" ", "\n", "", " / ", ", "))
            return spoiled(draw, joiner.join(draw.choices(texts(), k=draw.randint(2, 6))), 12)
        case 9 | 10 | 11 | 12:
            return in_many_tongues(draw)
        case 13 | 14:
            return repeated(draw, SHORT)
        case 15:
            return repeated(draw, (*SIGNS, *FIGURES))
        case 16:
            return "".join(any_sign(draw) for _ in range(draw.choice((1, 20, 300, 3000))))
        case 17:
            pieces = draw.choice(texts()).split() + list(SIGNS)
            return " ".join(draw.choices(pieces, k=draw.choice((5, 30, 400))))
        case 18:
            return nested(draw)[:4000]
        case _:
            long = draw.choice(texts()) + draw.choice(SHORT) * draw.choice((3990, 4001, 20_000))
            return draw.choice(SHORT) * LONG if draw.random() < 0.02 else long


def in_many_tongues(draw: Draw) -> str:
    """Words of the vocabulary, figures, units and signs in any order, close or apart."""
    found = []
    for _ in range(draw.choice((3, 8, 30, 200))):
        source = draw.choice((words(), words(), SHORT, ("9", "12", "0.5", "1,500"), SIGNS, FIGURES))
        piece = draw.choice(source)
        found.append(draw.choice((piece, piece, piece.upper(), piece.swapcase())))
        found.append(draw.choice(("", " ", " ", " ", "\n")))
    return "".join(found)


def call(draw: Draw) -> Call:
    """A plate on the line or by standard input."""
    plate = text(draw)
    if draw.random() < 0.5 or len(plate) > 100_000:
        return Call(arguments=("plate", "-"), stdin=raw(draw, plate))
    # No program can be given a NUL, and what is no UTF-8 comes as lone surrogates.
    given = plate.replace("\0", "").encode("utf-8", "surrogatepass")
    words_given = given.decode("utf-8", "surrogateescape")
    if draw.random() < 0.1:
        return Call(arguments=("plate", *words_given.split()[:200]))
    return Call(
        arguments=("plate", words_given) if draw.random() < 0.1 else ("plate", "--", words_given)
    )
