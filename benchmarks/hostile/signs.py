"""Characters, figures and shapes that break readers, and ways to spoil a text with them."""

import random
import string

Draw = random.Random

SIGNS = (
    # Order of writing, width, joining, surrogates, and what is no character.
    *("\u202e", "\u202d", "\u2066", "\u200f", "\u061c", "\ufeff", "\u200b", "\u200d", "\u00ad"),
    *("\udcff", "\ud800", "\udbff\udfff", "\ufffe", "\U0010ffff", "\ue000", "\U000e0041", "\ufe0f"),
    *("e\u0301", "a" + "\u0301" * 300, "\u0301", "\u1112\u1161\u11ab", "\u1161", "\u3164"),
    # Characters that grow or shrink when their case or form is changed.
    *(
        "İ",
        "ß",
        "ẞ",
        "ﬁ",
        "\ufdfa",
        "ǰ",
        "ŉ",
        "Σ",
        "ς",
        "K",
        "Å",
        "Ω",
        "㎃",
        "㎾",
        "㌂",
        "㍑",
        "㏂",
    ),
    # Digits and fractions that are none for most programs.
    *("１２", "١٢", "१२", "๑๒", "𝟗", "９．５", "²", "₂", "⑨", "❾", "½", "⅐", "Ⅻ", "九", "٫", "٬"),
    # Controls and line ends.
    *(
        "\0",
        "\a",
        "\b",
        "\x1b[2J",
        "\x7f",
        "\x85",
        "\u2028",
        "\u2029",
        "\t",
        "\r",
        "\n",
        "\v",
        "\f",
    ),
    # The trade's own signs, and those of other notations.
    *(
        "⎓",
        "⏦",
        "⊖–C–⊕",
        "⊕",
        "⊖",
        "±",
        "−",
        "–",
        "~",
        "∞",
        "µ",
        "μ",
        "Ω",
        "°C",
        "‰",
        "×",
        "…",
        "☉",
    ),
    *(
        "(",
        ")",
        "[",
        "]",
        "{",
        "}",
        "<",
        ">",
        "'",
        '"',
        "`",
        "#",
        ": ",
        "&a ",
        "*a",
        "!!",
        "%",
        "|",
    ),
    *(
        "\\",
        "$(x)",
        "%s",
        "{0}",
        "${x}",
        "<script>",
        "../..",
        "/dev/zero",
        "-",
        "--",
        "---\n",
        "💥",
    ),
    *("W", "V", "A", " max ", "PPS ", "AVS ", "C1+", "0x", "to", " or ", "/", "..", "@", "=", "_"),
)

FIGURES = (
    *(
        "0",
        "-0",
        "00",
        "1e400",
        "-1e400",
        "1e-400",
        "1e308",
        "-1e308",
        "4.9e-324",
        "1E5",
        "1e+",
        "e1",
    ),
    *(
        "1e9999999999",
        "nan",
        "NaN",
        "inf",
        "-inf",
        "Infinity",
        "0x1F",
        "0X1f",
        "0b1",
        "0o7",
        "1_000",
    ),
    *("9" * 30, "9" * 309, "9" * 4400, "0" * 4000 + "1", "1." + "0" * 3000, "0." + "0" * 400 + "1"),
    *("1.2.3", "1,2,3", "1.234,5", "1,234.5", "1'000", "1 000", ".5", "5.", ".", ",", "+9", "-9"),
    *(
        "１２",
        "١٢",
        "९",
        "½",
        "9½",
        "1/2",
        "1/0",
        "12:30",
        "010",
        "1..",
        "..1",
        "1...2",
        "2..1",
        "1..1",
    ),
    *("99999999", "123456789", "0.30000000000000004", "1e3", "9e-9", "1 e3", "1e 3", "3,3", "0,3"),
)

SIZES = (1, 2, 7, 24, 60, 300, 999, 1300, 3999)
LONG = 1_000_000


def any_sign(draw: Draw) -> str:
    """One character of the whole of Unicode, surrogates included, or one of the nasty ones."""
    if draw.random() < 0.5:
        return draw.choice(SIGNS)
    top = draw.choice((0x80, 0x2FF, 0x3000, 0xFFFF, 0x10FFFF))
    return chr(draw.randint(0, top))


def repeated(draw: Draw, pieces: tuple[str, ...], most: int = 4000) -> str:
    """A short row of pieces over and over: what makes a careless expression slow."""
    row = "".join(draw.choice(pieces) for _ in range(draw.randint(1, 4)))
    times = draw.choice(SIZES)
    return (row * times)[:most]


def nested(draw: Draw) -> str:
    """Brackets in brackets."""
    deep = draw.choice((3, 23, 24, 25, 90, 900, 5000, 50_000))
    opens, closes = draw.choice(
        (("[", "]"), ("{a: ", "}"), ("(", ")"), ("[{a: ", "}]"), ("- ", ""))
    )
    return opens * deep + draw.choice(("", "x", "x" + closes * deep))


def spoiled(draw: Draw, text: str, most: int = 4) -> str:
    """A text with some places flipped, cut, doubled, moved or filled with what nobody expects."""
    for _ in range(draw.randint(1, most)):
        a, b = sorted(draw.randint(0, len(text)) for _ in range(2))
        b = min(b, a + draw.choice((0, 1, 3, 40)))
        match draw.randrange(10):
            case 0:
                filling = ""
            case 1:
                filling = text[a:b] * draw.choice((2, 2, 2, 50))
            case 2:
                filling = draw.choice(SIGNS)
            case 3:
                filling = draw.choice(string.printable)
            case 4:
                filling = any_sign(draw)
            case 5:
                filling = text[a:b].swapcase()
            case 6:
                filling = text[a:b][::-1]
            case 7:
                filling = draw.choice(FIGURES)
            case 8:
                filling = repeated(draw, (text[a : a + 1] or "x", draw.choice(SIGNS)), 400)
            case _:
                filling = text[a:b].translate(FULL_WIDTH)
        text = text[:a] + filling + text[b:]
    if draw.random() < 0.04:
        text = text[: draw.randint(0, len(text))]
    return text * draw.choice((2, 30)) if draw.random() < 0.02 else text


FULL_WIDTH = {code: code + 0xFEE0 for code in range(0x21, 0x7F)} | {0x20: 0x3000}


def raw(draw: Draw, text: str) -> bytes:
    """A text as bytes, now and then in an encoding or with bytes that were not asked for."""
    if draw.random() < 0.97:
        return text.encode("utf-8", "surrogatepass" if draw.random() < 0.1 else "replace")
    if draw.random() < 0.5:
        encoding = draw.choice(("utf-8-sig", "utf-16", "utf-16-le", "utf-32", "latin-1", "cp1252"))
        return text.encode(encoding, "replace")
    found = bytearray(text.encode("utf-8", "replace")) or bytearray(b"\n")
    for _ in range(draw.choice((1, 5, 200))):
        found[draw.randrange(len(found))] = draw.randrange(256)
    return bytes(found)
