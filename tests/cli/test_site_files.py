"""How the commands that take a site file read it, whatever is in the place of one."""

import os
from pathlib import Path

import pytest
from tests.cli.calls import FAULTY, FITS, OPEN, Call, fault, subprocessed

FAULTS = [
    ("unknown-key", 6, 5, "unknown key 'plaet'", "did you mean 'plate'?"),
    (
        "no-basis",
        10,
        21,
        "'200 mA' says nothing of what it rests on",
        "add (measured), (datasheet) or (plate), or give a range",
    ),
]
GIVE = "; give the path of a site file, such as my-site.yaml"
TOLD = "".join(f"site.yaml:{line}:{column}: {a}; {b}\n" for _, line, column, a, b in FAULTS)


@pytest.fixture(autouse=True)
def in_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.fixture(params=["check", "plan", "papers"])
def call(request: pytest.FixtureRequest, sinkside: Call) -> Call:
    """One of the commands that read a site file."""

    def made(*arguments: str, stdin: bytes = b"") -> object:
        more = ["-o", "plan.pdf"] if request.param == "papers" else []
        return sinkside(request.param, *arguments, *more, stdin=stdin)

    return made  # type: ignore[return-value]  # what sinkside gives


def test_every_fault_is_told_at_its_place(call: Call) -> None:
    Path("site.yaml").write_text(FAULTY, encoding="utf-8")
    assert call("site.yaml").told == (2, "", TOLD)


@pytest.mark.parametrize("command", ["check", "plan"])
def test_every_fault_is_told_as_json(sinkside: Call, command: str) -> None:
    Path("site.yaml").write_text(FAULTY, encoding="utf-8")
    done = sinkside(command, "site.yaml", "--json")
    assert (done.status, done.err) == (2, "")
    assert done.document == {
        "faults": [
            fault(code, wrong, right, "site.yaml", line, column)
            for code, line, column, wrong, right in FAULTS
        ]
    }


def test_standard_input_is_named_in_the_places(call: Call) -> None:
    told = TOLD.replace("site.yaml", "standard input")
    assert call("-", stdin=FAULTY.encode()).told == (2, "", told)


def test_standard_input_reads_as_the_file_does(sinkside: Call) -> None:
    Path("site.yaml").write_text(OPEN, encoding="utf-8")
    for command in ("check", "plan"):
        for more in ([], ["--json"]):
            file = sinkside(command, "site.yaml", *more)
            assert file.status == 0
            assert sinkside(command, "-", *more, stdin=OPEN.encode()).told == file.told


@pytest.mark.parametrize(
    "spelt",
    [
        b"\xef\xbb\xbf" + FITS.encode(),
        FITS.replace("\n", "\r\n").encode(),
        b"\xef\xbb\xbf" + FITS.replace("\n", "\r\n").encode(),
        FITS.replace("\n", "\r").encode(),
        FITS.rstrip("\n").encode(),
        b"---\n" + FITS.encode() + b"...\n",
        b"%YAML 1.2\n---\n" + FITS.encode(),
    ],
    ids=["BOM", "CRLF", "BOM and CRLF", "CR", "no last newline", "marks", "directive"],
)
def test_other_spellings_of_a_text_file_read_the_same(sinkside: Call, spelt: bytes) -> None:
    plain = sinkside("check", "-", stdin=FITS.encode())
    assert plain.status == 0
    assert sinkside("check", "-", stdin=spelt).told == plain.told


def test_places_are_the_same_with_a_byte_order_mark_and_other_line_ends(call: Call) -> None:
    raw = b"\xef\xbb\xbf" + FAULTY.replace("\n", "\r\n").encode()
    Path("site.yaml").write_bytes(raw)
    assert call("site.yaml").told == (2, "", TOLD)


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"\xff\xfe" + FITS.encode("utf-16-le"), "byte 0 is not UTF-8; save it as UTF-8"),
        (FITS.encode("utf-8")[:60] + b"\xe9", "byte 60 is not UTF-8; save it as UTF-8"),
        ("site: {name: Café}".encode("latin-1"), "byte 16 is not UTF-8; save it as UTF-8"),
    ],
    ids=["UTF-16", "cut off", "Latin-1"],
)
def test_what_is_no_utf_8_is_told_at_its_byte(call: Call, raw: bytes, told: str) -> None:
    Path("site.yaml").write_bytes(raw)
    assert call("site.yaml").told == (2, "", f"site.yaml: {told}\n")
    assert call("-", stdin=raw).told == (2, "", f"standard input: {told}\n")


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"", "1:1: the file is empty; see the README for its shape"),
        (b"# nothing\n", "1:1: the file is empty; see the README for its shape"),
        (
            b"hello\n",
            "1:1: 'the file' holds 'hello'; a mapping {key: value, …} is wanted here",
        ),
        (b"site: {name: x}\ndevices: {}\n", "2:1: there is no device; add one under devices:"),
        (b"site: &a {name: x}\n", "1:7: an anchor or alias; write the value out"),
        (b"a: 1\n---\nb: 2\n", "2:1: a second document; give one per file"),
        (b"a: \0\n", "1:4: not YAML: control characters are not allowed"),
        (b"[" * 100, "1:25: nested deeper than 24"),
    ],
    ids=["empty", "comment", "text", "no device", "anchor", "documents", "NUL", "deep"],
)
def test_what_is_no_site_file_is_told(call: Call, raw: bytes, told: str) -> None:
    assert call("-", stdin=raw).told == (2, "", f"standard input:{told}\n")


@pytest.mark.parametrize("raw", [b"[" * 100_000, b"{a: " * 100_000, b"- " * 100_000])
def test_what_nests_beyond_the_reach_of_the_parser_is_told(call: Call, raw: bytes) -> None:
    done = call("-", stdin=raw)
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith("standard input:1:")
    assert done.err.count("\n") == 1


def test_a_file_that_is_not_there(call: Call) -> None:
    assert call("gone.yaml").told == (2, "", f"gone.yaml: No such file or directory{GIVE}\n")


def test_a_folder_in_the_place_of_a_file(call: Call) -> None:
    Path("folder").mkdir()
    assert call("folder").told == (2, "", f"folder: Is a directory{GIVE}\n")


def test_a_name_that_is_too_long(call: Call) -> None:
    name = "x" * 300
    assert call(name).told == (2, "", f"{name}: File name too long{GIVE}\n")


def test_links_that_lead_to_each_other(call: Call) -> None:
    Path("a.yaml").symlink_to("b.yaml")
    Path("b.yaml").symlink_to("a.yaml")
    assert call("a.yaml").told == (2, "", f"a.yaml: Too many levels of symbolic links{GIVE}\n")


def test_a_file_that_may_not_be_read(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    file = Path("site.yaml")
    file.write_text(FITS, encoding="utf-8")

    def refused(self: Path, mode: str) -> None:
        raise PermissionError(13, "Permission denied", f"{self} {mode}")

    # Whoever runs the tests may be allowed to read everything.
    monkeypatch.setattr(Path, "open", refused)
    assert call("site.yaml").told == (2, "", f"site.yaml: Permission denied{GIVE}\n")


@pytest.mark.parametrize(
    ("name", "there", "told"),
    [
        ("siet.yaml", ["site.yaml", "other.yaml"], "did you mean site.yaml?"),
        ("site.yml", ["site.yaml"], "did you mean site.yaml?"),
        ("site", ["site.yaml"], "did you mean site.yaml?"),
        ("SITE.YAML", ["site.yaml"], "did you mean site.yaml?"),
        ("here/siet.yaml", ["here/site.yaml"], "did you mean here/site.yaml?"),
        ("x.yaml", ["site.yaml", "other.yaml"], GIVE.removeprefix("; ")),
        ("siet.yaml", ["site.txt"], GIVE.removeprefix("; ")),
        ("gone/site.yaml", ["site.yaml"], GIVE.removeprefix("; ")),
    ],
)
def test_a_site_file_of_nearly_that_name(
    call: Call, name: str, there: list[str], told: str
) -> None:
    for file in there:
        Path(file).parent.mkdir(exist_ok=True)
        Path(file).write_text(FITS, encoding="utf-8")
    assert call(name).told == (2, "", f"{name}: No such file or directory; {told}\n")


def test_a_folder_with_one_site_file(call: Call) -> None:
    Path("here").mkdir()
    Path("here/site.yaml").write_text(FITS, encoding="utf-8")
    Path("here/plan.pdf").touch()
    told = "here: Is a directory; did you mean here/site.yaml?\n"
    assert call("here").told == (2, "", told)
    Path("here/other.yaml").touch()
    assert call("here").told == (2, "", f"here: Is a directory{GIVE}\n")


@pytest.mark.parametrize(
    "raw",
    [
        b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
        b"\x7fELF\x02\x01\x01\0\xff",
        b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n" + b"stream\n\0\xff",
    ],
    ids=["picture", "program", "page"],
)
def test_a_file_that_is_no_text(call: Call, raw: bytes) -> None:
    Path("site.yaml").write_bytes(raw)
    assert call("site.yaml").told == (2, "", f"site.yaml: no text{GIVE}\n")
    assert call("-", stdin=raw).told == (2, "", f"standard input: no text{GIVE}\n")


def test_a_file_without_end(call: Call) -> None:
    if not Path("/dev/zero").exists():
        pytest.skip("has no /dev/zero")
    assert call("/dev/zero").told == (2, "", f"/dev/zero: more than 8 MiB{GIVE}\n")


def test_a_file_whose_name_is_a_dash(call: Call) -> None:
    Path("-").write_text(FAULTY, encoding="utf-8")
    assert call("./-").told == (2, "", TOLD.replace("site.yaml", "./-"))


def test_a_name_that_does_not_print(call: Call) -> None:
    name = "a\nb\x1b[31m.yaml"
    told = "a\\nb\\x1b[31m.yaml"
    assert call(name).told == (2, "", f"{told}: No such file or directory{GIVE}\n")
    Path(name).write_text(FAULTY, encoding="utf-8")
    assert call(name).told == (2, "", TOLD.replace("site.yaml", told))


@pytest.mark.skipif(os.name != "posix", reason="names in bytes are POSIX's")
def test_a_name_that_is_no_text(call: Call) -> None:
    name = os.fsdecode(b"\xff.yaml")
    assert call(name).told == (2, "", f"\\xff.yaml: No such file or directory{GIVE}\n")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with a name are POSIX's")
def test_a_pipe_in_the_place_of_a_file() -> None:
    """As a shell makes it of <(command)."""
    read, write = os.pipe()
    os.write(write, FITS.encode())
    os.close(write)
    done = subprocessed("check", f"/dev/fd/{read}", pass_fds=(read,))
    os.close(read)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.startswith(b"My bench: ")
