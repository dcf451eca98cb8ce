"""Power data objects as words: out of field, odd, of another revision, too many, or no words."""

from hostile.calls import Call
from hostile.plate_texts import texts
from hostile.signs import FIGURES, SIGNS, Draw, any_sign, spoiled

REVISIONS = ("2.0", "3.0", "3.1", "3.2")
# Words of the standards and of their edges; the first is the 5 V that every list starts with.
KNOWN = (
    *(0x0001912C, 0x0002D12C, 0x0003C12C, 0x0004B12C, 0x000641F4, 0xC0DC213C, 0xC1A43264),
    *(0x92C2D12C, 0x4F01906C, 0xE404B1F4, 0xD7C096F0, 0, 0xFFFFFFFF, 0x80000000, 0x7FFFFFFF),
    *(0x3FFFFFFF, 0x40000000, 0xC0000000, 0xD0000000, 0xE0000000, 0xF0000000, 0x2003E92C),
)
LISTS = (
    *("5V⎓3A 9V⎓3A 15V⎓2A", "PPS 3.3-11V⎓3A", "AVS 9-15V⎓3A", "AVS 15-28V⎓5A", "9V⎓3A", "65 W"),
    *("5V/3A", "5V 3A, 9V 2A", "5V⎓0A", "-5V⎓3A", "5V⎓-3A", "102.4V⎓3A", "5V⎓10.24A", "5.01V⎓3A"),
    *("PPS 0-30V⎓6.4A", "PPS 11-3.3V⎓3A", "AVS 9-20V⎓3A", "240 W", "0x0001912C", "5V⎓3.005A"),
)
NO_WORDS = (
    *(
        "",
        " ",
        "0x",
        "0X",
        "0x0x1",
        "0xG",
        "-1",
        "-0x1",
        "+1",
        "0b11",
        "1_0",
        "0x1FFFFFFFF",
        "0x123",
    ),
    *(
        "1" * 9,
        "F" * 400,
        "0x" + "0" * 100_000,
        "０ｘ１２",
        "١٢",
        "1.5",
        "1e3",
        "nan",
        "5V",
        "--",
        "-",
    ),
    *("--of", "--side", "--revision=9", "--encode", "-h", "0x0001912C,0x0002D12C", "0x 1", "@file"),
)


def word(draw: Draw) -> str:
    """One word, one in three no good one."""
    return a_word(draw) if draw.random() < 0.7 else no_word(draw)


def no_word(draw: Draw) -> str:
    """What is no word, or hardly one."""
    match draw.randrange(4):
        case 0:
            return draw.choice(NO_WORDS)
        case 1:
            return draw.choice(FIGURES)
        case 2:
            return any_sign(draw)
        case _:
            return spoiled(draw, f"0x{draw.getrandbits(32):08X}", 2)


def a_word(draw: Draw) -> str:
    """A word of 32 bits, in one of the ways that people write them."""
    match draw.randrange(8):
        case 4 | 5:
            # A known kind of object with one field at its edge.
            low = draw.randrange(30)
            field = draw.choice((0, 1, 0x3FF, 0x7F, 0xFF)) << low
            value = (draw.choice(KNOWN) ^ field) & 0xFFFFFFFF
        case 6 | 7:
            value = draw.choice(KNOWN)
        case 8:
            value = draw.getrandbits(32) & 0xF0FFFFFF
        case _:
            value = draw.getrandbits(32)
    return draw.choice(("0x{:08X}", "{:08x}", "0X{:X}", "{:X}")).format(value)


def call(draw: Draw) -> Call:
    """Words of any side and revision, offers to be encoded, or a request of a list."""
    side = draw.choice(("source", "source", "sink", "request", "encode"))
    count = draw.choice((1, 1, 2, 5, 7, 8, 11, 12, 40))
    if draw.random() < 0.005:
        count = 4000
    # Of many words one bad one is enough to have them all refused.
    drawn = draw.choice((word, a_word, a_word))
    words = [drawn(draw) for _ in range(count)]
    if draw.random() < 0.5:
        words[0] = "0x0001912C"
    asked: list[str] = []
    match side:
        case "encode":
            asked = ["--encode"]
            lists = (*LISTS, *SIGNS) if draw.random() < 0.8 else texts()
            words = [draw.choice(lists) for _ in words[: draw.choice((1, 3, 40))]]
            words = [w if draw.random() < 0.8 else spoiled(draw, w, 2) for w in words]
        case "request":
            position = draw.randint(0, 15)
            words = [f"0x{(position << 28) | draw.getrandbits(28):08X}" for _ in words[:3]]
            offers = draw.choice((" ", ",", ", ", "\n")).join(drawn(draw) for _ in range(count))
            asked = ["--side", "request", "--of", offers]
        case _:
            asked = ["--side", side]
    if draw.random() < 0.02:
        asked = draw.choice(
            (["--side", "both"], ["--of", "0x0001912C"], ["--side"], ["--encode"] * 2)
        )
    asked += ["--revision", draw.choice(REVISIONS if draw.random() < 0.98 else SIGNS)]
    divided = ["--"] if draw.random() < 0.9 else []
    given = [w.replace("\0", "") for w in (*asked, *divided, *words)]
    return Call(arguments=("pdo", *map(as_given, given)))


def as_given(text: str) -> str:
    """A text as a program gets it on the line: bytes that are no UTF-8 are lone surrogates."""
    return text.encode("utf-8", "surrogatepass").decode("utf-8", "surrogateescape")
