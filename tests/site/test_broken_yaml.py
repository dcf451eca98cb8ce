"""A site file that is no YAML is told where it is broken, not where the parser noticed.

No outside source: the program's own promise. How often it is kept is measured by
`benchmarks/bench_mutated.py`.
"""

import random

import pytest

from sinkside import demo
from sinkside.faults import Faulty, Place
from sinkside.faults.nearest import LISTED, MANY, nearest
from sinkside.site.read import read

GOOD = """\
site:
  name: T
devices:
  radio:
    use: ordinary
    inlet:
      plug: 5.5x2.1
      ground: negative (measured)
    draws: {steady: 0.2..0.3 A, peak: 0.4..0.5 A}
    words: "by the door"
  clock:
    use: ordinary
    inlet: {plug: usb-c}
groups:
  - name: evening
    together: [radio]
  - name: night
    together: [clock]
"""


def told(old: str, new: str) -> list[str]:
    assert GOOD.count(old) == 1
    with pytest.raises(Faulty) as error:
        read(GOOD.replace(old, new), "s.yaml")
    return str(error.value).split("\n")


def places(text: str) -> list[Place | None]:
    try:
        read(text, "s.yaml")
    except Faulty as error:
        return [fault.place for fault in error.faults]
    return []


def test_it_is_good() -> None:
    assert len(read(GOOD, "s.yaml").devices) == 2


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        (
            "0.5 A}",
            "0.5 A",
            "9:5: not YAML: did not find expected ',' or '}'; "
            "a bracket that is opened in line 9 is not closed",
        ),
        (
            'door"',
            "door",
            "10:5: not YAML: found unexpected end of stream; "
            "a quote that is opened here is not closed in this line",
        ),
        (
            "words: ",
            "words ",
            "10:5: not YAML: could not find expected ':'; write key: value",
        ),
        (
            "  clock:",
            "  clock",
            "11:3: not YAML: could not find expected ':'; write key: value",
        ),
        (
            "      plug: 5.5x2.1",
            "    plug: 5.5x2.1",
            "7:5: not YAML: mapping values are not allowed in this context; "
            "it is set in by 4, line 8 by 6",
        ),
        (
            "    inlet:\n",
            "  inlet:\n",
            "6:3: not YAML: did not find expected key; it is set in by 2, line 9 by 4",
        ),
        (
            "      plug: 5.5x2.1",
            "         plug: 5.5x2.1",
            "7:10: not YAML: did not find expected key; it is set in by 9, line 8 by 6",
        ),
        (
            "    draws:",
            "     draws:",
            "9:6: not YAML: did not find expected key",
        ),
        (
            "  - name: evening",
            " - name: evening",
            "15:2: not YAML: mapping values are not allowed in this context; "
            "it is set in by 1, line 16 by 4",
        ),
        (
            "    draws:",
            "\tdraws:",
            "9:1: not YAML: found a tab character that violates indentation; use spaces, not tabs",
        ),
    ],
)
def test_where_it_is_broken(old: str, new: str, fault: str) -> None:
    assert told(old, new) == [f"s.yaml:{fault}"]


def test_a_comma_that_is_missing_at_the_end_of_a_line() -> None:
    assert told("steady: 0.2..0.3 A, peak", "steady: 0.2..0.3 A\n      peak") == [
        "s.yaml:9:5: not YAML: did not find expected ',' or '}'; "
        "a comma is missing at the end of this line"
    ]


def test_a_key_given_twice_hides_nothing_else() -> None:
    assert told("    words: ", "    use: alarm\n    wordz: ") == [
        "s.yaml:10:5: 'use' is given twice; it stands on line 5 already; keep one",
        "s.yaml:11:5: unknown key 'wordz'; did you mean 'words'?",
    ]


def test_a_section_that_is_set_in_too_far() -> None:
    assert (
        "s.yaml:3:3: 'devices' is missing; it stands here, inside 'site': set it in less"
        in told("devices:", "  devices:")
    )


def test_an_entry_without_what_it_is() -> None:
    text = "groups:"
    assert told(text, f"shelf:\n  a: {{iz: charger}}\n  b: {{like: []}}\n{text}") == [
        "s.yaml:15:7: unknown key 'iz'; write is: with what it is, or like: with the name of a "
        "part",
        "s.yaml:16:13: 'like' holds '[]'; the name of a part is wanted here",
    ]


def test_whatever_is_broken_has_a_place() -> None:
    draw = random.Random(3)
    text = demo.text()
    for _ in range(150):
        at = draw.randrange(len(text))
        junk = draw.choice(
            ("", "\n", "\t", "{", "]", "'", '"', ":", "- ", "\n \t\n", "#", "\u00a0")
        )
        assert None not in places(text[:at] + junk + text[at + draw.randrange(3) :])


@pytest.mark.parametrize(
    ("word", "right"),
    [
        ("device-13", "did you mean 'device-13'?"),
        ("device1500", "did you mean 'device-1500'?"),
        ("dveice-7", "did you mean 'device-7'?"),
        ("lamp", f"known are {', '.join(f'device-{i}' for i in range(LISTED))} and 1976 more"),
    ],
)
def test_among_many_names_one_slip_is_found(word: str, right: str) -> None:
    names = [f"device-{i}" for i in range(2000)]
    assert len(names) > MANY
    assert nearest(word, names) == right


def test_a_very_long_word_is_near_nothing() -> None:
    assert nearest("x" * 100_000, ["x" * 99_999, "y"]).startswith("known are ")
