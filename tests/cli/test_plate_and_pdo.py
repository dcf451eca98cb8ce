"""`plate` and `pdo`: what is typed on the line, or comes from standard input.

The words are those of FIXED 9 V 3 A and of the independent SPR AVS sample (see
`tests/reference/test_standards_pd_words.py`); here only the way in and out is looked at.
"""

import json

import pytest
from tests.cli.calls import Call, Done, fault, subprocessed

PLATE = "DC IN 9V⎓ 300mA ⊖–C–⊕"
SHOWN = f"plate '{PLATE}' reads: in 9 V d.c. 0.3 A; centre positive\n"


def test_a_plate_on_the_line_and_from_standard_input(sinkside: Call) -> None:
    assert sinkside("plate", PLATE).told == (0, SHOWN, "")
    assert sinkside("plate", "-", stdin=PLATE.encode()).told == (0, SHOWN, "")
    assert sinkside("plate", "-", stdin=b"\xef\xbb\xbf" + PLATE.encode()).told == (0, SHOWN, "")


def test_a_plate_in_several_words(sinkside: Call) -> None:
    """As it comes from a shell when nobody has put quotes around it."""
    assert sinkside("plate", *PLATE.split()).told == (0, SHOWN, "")
    assert (
        sinkside("plate", "--json", *PLATE.split()).told == sinkside("plate", PLATE, "--json").told
    )
    # A dash among other words is a dash.
    assert sinkside("plate", "9V", "-", "12V").out.startswith("plate '9V - 12V' reads: ")


def test_a_plate_as_json_is_one_document(sinkside: Call) -> None:
    done = sinkside("plate", PLATE, "--json")
    assert (done.status, done.err) == (0, "")
    assert done.document["centre"] == "positive"
    assert sinkside("plate", "--json", "-", stdin=PLATE.encode()).told == done.told


@pytest.mark.parametrize("text", ["", " ", "\n", "\0", "no figures at all"])
def test_a_plate_that_says_nothing(sinkside: Call, text: str) -> None:
    done = sinkside("plate", "-", stdin=text.encode())
    assert (done.status, done.err) == (0, "")
    assert done.out.endswith("reads: nothing\n")
    assert done.out.count("\n") == 1


def test_a_plate_that_begins_with_a_dash(sinkside: Call) -> None:
    assert sinkside("plate", "--", "-9V⎓").out.startswith("plate '-9V⎓' reads: out -9 V d.c.")


def test_a_plate_of_several_lines_shows_as_one(sinkside: Call) -> None:
    done = sinkside("plate", "INPUT 230V~\r\nOUTPUT 9V⎓ 1A\r\n")
    assert done.out.splitlines()[0] == (
        "plate 'INPUT 230V~ OUTPUT 9V⎓ 1A' reads: in 230 V a.c.; out 9 V d.c. 1 A"
    )


def both(sinkside: Call, *arguments: str, stdin: bytes = b"") -> tuple[Done, Done]:
    return sinkside(*arguments, stdin=stdin), sinkside(*arguments, "--json", stdin=stdin)


def test_a_plate_that_is_too_long(sinkside: Call) -> None:
    people, machine = both(sinkside, "plate", "-", stdin=b"9V " * 2000)
    wrong, right = (
        "a plate of 6000 characters",
        "give at most 4000 characters, the ratings among them",
    )
    assert people.told == (2, "", f"{wrong}; {right}\n")
    assert (machine.status, machine.err) == (2, "")
    assert machine.document == {"faults": [fault("plate-too-long", wrong, right)]}


def test_a_plate_that_is_no_utf_8(sinkside: Call) -> None:
    people, machine = both(sinkside, "plate", "-", stdin="9V é".encode("latin-1"))
    wrong, right = "standard input: byte 3 is not UTF-8", "save it as UTF-8"
    assert people.told == (2, "", f"{wrong}; {right}\n")
    assert machine.document == {"faults": [fault("not-utf-8", wrong, right)]}


@pytest.mark.parametrize("encoding", ["utf-8:strict", "utf-8:surrogateescape"])
@pytest.mark.parametrize("more", [[], ["--json"]])
def test_bytes_on_the_line_that_are_no_utf_8(encoding: str, more: list[str]) -> None:
    # POSIX lets any byte into an argument; what comes out has to be UTF-8 all the same.
    text = b"9V\xe9\xff".decode("utf-8", "surrogateescape")
    done = subprocessed("plate", text, *more, env={"PYTHONIOENCODING": encoding})
    wrong = "Invalid value for 'TEXT...': '9V\\xe9\\xff' is not UTF-8"
    if more:
        assert (done.returncode, done.stderr) == (2, b"")
        assert json.loads(done.stdout.decode("utf-8")) == {"faults": [fault("call", wrong)]}
    else:
        told = f"{wrong}\n".encode()
        assert (done.returncode, done.stdout, done.stderr) == (2, b"", told)


OBJECT = {
    "reserved": 0,
    "voltage_mv": 9000,
    "current_ma": 3000,
    "peak_current": 0,
    "epr_capable": False,
    "unchunked": False,
    "dual_role_data": False,
    "usb_communications": False,
    "unconstrained": False,
    "usb_suspend": False,
    "dual_role_power": False,
}
DOCUMENT = {
    "sinkside": "pdo",
    "objects": [
        {"position": 1, "word": "0x0002D12C", "kind": "fixed supply (source)", "fields": OBJECT}
    ],
    "remarks": [],
}
TEXT = "1  0x0002D12C  fixed supply (source)\n     voltage_mv = 9000\n     current_ma = 3000\n"


@pytest.mark.parametrize(
    "arguments",
    [["0x0002D12C"], ["2d12c"], ["0X0002d12C"], ["--encode", "9V⎓3A"], ["--encode", "9 V 3 A"]],
)
def test_a_word_taken_apart_and_put_together(sinkside: Call, arguments: list[str]) -> None:
    people, machine = both(sinkside, "pdo", *arguments)
    assert people.told == (0, TEXT, "")
    assert (machine.status, machine.err) == (0, "")
    assert machine.document == DOCUMENT


def test_a_list_of_words_and_a_request_of_it(sinkside: Call) -> None:
    of = "0x0001912C 0x0002D12C"
    done = sinkside("pdo", "--side", "request", "--of", of, "0x2003E92C")
    assert done.told == (
        0,
        "1  0x2003E92C  request for a fixed or variable supply\n     position = 2\n"
        "     operating_current_ma = 2500\n     limit_current_ma = 3000\n",
        "",
    )


def test_what_is_odd_about_a_list_is_noted(sinkside: Call) -> None:
    done = sinkside("pdo", "0x0002D12C", "0x0001912C")
    assert done.status == 0
    assert [line for line in done.out.splitlines() if line.startswith("note: ")] != []


WRONG = [
    (["zz"], "'zz' is no 32-bit word", "write it like 0x0001912C"),
    (["123456789"], "'123456789' is no 32-bit word", "write it like 0x0001912C"),
    (["0x"], "'0x' is no 32-bit word", "write it like 0x0001912C"),
    (["٣"], "'٣' is no 32-bit word", "write it like 0x0001912C"),
    (
        ["9V⎓3A"],
        "'9V⎓3A' is no 32-bit word",
        "write it like 0x0001912C; printed offers need --encode",
    ),
    (
        ["--encode", "--side", "sink", "9V⎓3A"],
        "--encode makes the words of a source",
        "leave --side out",
    ),
    (
        ["--encode", "--of", "0x0001912C", "9V⎓3A"],
        "--of is for a request alone",
        "add --side request, or leave it out",
    ),
    (
        ["--of", "0x0001912C", "0x0001912C"],
        "--of is for a request alone",
        "add --side request, or leave it out",
    ),
    (
        ["--side", "request", "0x2003E92C"],
        "a request means nothing without the list that it asks of",
        'give --of "0x0001912C 0x0002D12C"',
    ),
    (
        ["--side", "request", "--of", "0x0001912C", "0x2003E92C"],
        "the request is for position 2",
        "the list has 1 to 1",
    ),
    (["--encode", "9V"], "'9V': 9 V has no current", "write it like 9V⎓3A"),
    (["--encode", ""], "'' lists no offer", "write it like 5V⎓3A 9V⎓3A"),
    (
        ["--encode", "9.03V⎓3A"],
        "fixed supply (source): voltage_mv is 9030",
        "0 to 51150 mV in steps of 50 mV",
    ),
    (
        ["--encode", "9V⎓3.333A"],
        "fixed supply (source): current_ma is 3333",
        "0 to 10230 mA in steps of 10 mA",
    ),
    (
        ["--encode", "PPS 3.3-11V⎓3A", "--revision", "2.0"],
        "programmable supply (source): there is none in R2.0",
        "it came with R3.0",
    ),
    (
        ["--encode", "AVS 9-20V⎓3A"],
        "AVS 9-20V is no object by itself",
        "give it as a word: an AVS object holds more than one range or a power",
    ),
]


@pytest.mark.parametrize(("arguments", "wrong", "right"), WRONG)
def test_words_that_are_wrong(sinkside: Call, arguments: list[str], wrong: str, right: str) -> None:
    people, machine = both(sinkside, "pdo", *arguments)
    assert people.told == (2, "", f"{wrong}; {right}\n")
    assert (machine.status, machine.err) == (2, "")
    [only] = machine.document["faults"]
    assert (only["wrong"], only["right"], only["file"]) == (wrong, right, None)


@pytest.mark.parametrize("text", ["0A", "-9V⎓3A", "9V⎓-3A", "9V⎓0A", "0V⎓3A", "1e9V⎓3A"])
def test_offers_that_no_source_makes(sinkside: Call, text: str) -> None:
    done = sinkside("pdo", "--encode", "--", text)
    assert (done.status, done.out) == (2, "")
    assert done.err.count("\n") == 1


def test_what_is_encoded_as_a_list_is_held_against_the_order_of_a_list(sinkside: Call) -> None:
    # USB PD 6.4.1 (from memory): 5 V first, fixed before programmable.
    done = sinkside("pdo", "--encode", "PPS 3.3-11V⎓3A", "5V⎓3A")
    words = [line.split()[1] for line in done.out.splitlines() if line[0].isdigit()]
    notes = [line for line in done.out.splitlines() if line.startswith("note: ")]
    assert words == ["0x0001912C", "0xC0DC213C"] or notes
