"""Calls that no command takes, files in the place of a site that are none, and pages to print."""

from hostile.calls import HERE, Call, Tree
from hostile.pd_words import as_given
from hostile.signs import FIGURES, SIGNS, Draw, any_sign, spoiled
from hostile.site_files import SMALL, plan_call

COMMANDS = ("demo", "check", "plan", "plate", "pdo", "charger", "papers")
WORDS = (
    *("-", "--", "---", "-h", "--help", "--version", "--json", "--json=yes", "--why", "--strict"),
    *(
        "-o",
        "--output",
        "-o-",
        "--revision",
        "--date",
        "--to",
        "--root",
        "--name",
        "--of",
        "--side",
    ),
    *("--sidee", "-x", "-hh", "--=", "=", "@file", "*", "?", "~", "$HOME", "a b", "2>&1", "|", "&"),
)
FILES: Tree = {
    "site.yaml": SMALL.encode(),
    "empty.yaml": b"",
    "folder.yaml": None,
    "ring.yaml": ">ring.yaml",
    "gone.yaml": ">nowhere",
    "zero.yaml": ">/dev/zero",
    "socket.yaml": "@",
    "huge.yaml": 10**12,
    "binary.yaml": bytes(range(256)) * 40,
    "shut.yaml": b"site: {}\n",
    "a\nb.yaml": SMALL.encode(),
}


def call(draw: Draw) -> Call:
    """A call."""
    names = [f"{HERE}/{name}" for name in FILES] + [HERE, f"{HERE}/sit.yaml", f"{HERE}/site.yaml/x"]
    closed = ("shut.yaml",) if draw.random() < 0.3 else ()
    if draw.random() < 0.5:
        return Call(arguments=("check", draw.choice(names)), files=FILES, closed=closed)
    command = (
        draw.choice(COMMANDS) if draw.random() < 0.8 else spoiled(draw, draw.choice(COMMANDS), 1)
    )
    words = [command]
    for _ in range(draw.choice((0, 1, 1, 2, 3, 40))):
        source = draw.choice((WORDS, WORDS, names, FIGURES, SIGNS))
        words.append(any_sign(draw) if draw.random() < 0.1 else draw.choice(source))
    if command not in COMMANDS or command in ("check", "plate", "pdo", "charger") or len(words) > 2:
        given = words
    else:
        given = [command, *words[1:], "--no-such-option"]  # a whole plan is another kind's work
    # The demo writes where it is told, and the line of no program holds a NUL.
    given = [w.replace("\0", "") for w in given if w not in ("-o-",)]
    if "demo" in given[:1] or "papers" in given[:1]:
        given = [given[0], *given[1:], "--no-such-option"]
    return Call(arguments=tuple(map(as_given, given)), files=FILES, closed=closed)


def page_call(draw: Draw) -> Call:
    """A page of a hostile site, with what nobody prints on it, into a file of an odd name."""
    odd = [as_given(any_sign(draw).replace("\0", "")) or "x" for _ in range(3)]
    names = (
        *FILES,
        "plan.pdf",
        "plan.pdf",
        "plan.pdf",
        "a/b/c.pdf",
        odd[0],
        "x" * 300,
        "site.yaml/x",
    )
    output = draw.choice(("-", *(f"{HERE}/{name}" for name in names)))
    if draw.random() < 0.1:
        return Call(arguments=("demo", "--to", output), files=FILES)
    site = plan_call(draw).stdin if draw.random() < 0.8 else SMALL.encode()
    said = ("--revision", odd[1], "--date", odd[2]) if draw.random() < 0.5 else ()
    return Call(arguments=("papers", "-", "-o", output, *said), stdin=site, files=FILES)
