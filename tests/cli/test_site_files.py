"""How the commands that take a site file read it, whatever is in the place of one."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from tests.cli.calls import FAULTY, FITS, OPEN, Call, fault

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

    def refused(self: Path) -> bytes:
        raise PermissionError(13, "Permission denied", str(self))

    # Whoever runs the tests may be allowed to read everything.
    monkeypatch.setattr(Path, "read_bytes", refused)
    assert call("site.yaml").told == (2, "", f"site.yaml: Permission denied{GIVE}\n")


@contextmanager
def size_limit(size: int) -> Iterator[None]:
    """No file may grow beyond a size: the nearest thing to a full disk."""
    resource = pytest.importorskip("resource")
    signal = pytest.importorskip("signal")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)


def test_a_page_that_cannot_be_written(sinkside: Call) -> None:
    Path("site.yaml").write_text(FITS, encoding="utf-8")
    Path("folder").mkdir()
    for output, told in (
        ("folder", "folder: Is a directory"),
        ("site.yaml/plan.pdf", "site.yaml/plan.pdf: File exists"),
        ("x" * 300, f"{'x' * 300}: File name too long"),
    ):
        assert sinkside("papers", "site.yaml", "-o", output).told == (2, "", f"{told}\n")
    assert Path("site.yaml").read_text(encoding="utf-8") == FITS


@pytest.mark.skipif(os.name != "posix", reason="limits are POSIX's")
def test_a_page_on_a_full_disk(sinkside: Call) -> None:
    Path("site.yaml").write_text(FITS, encoding="utf-8")
    sinkside("papers", "site.yaml", "-o", "plan.pdf")
    whole = Path("plan.pdf").read_bytes()
    with size_limit(1000):
        done = sinkside("papers", "site.yaml", "-o", "plan.pdf")
    assert done.told == (2, "", "plan.pdf: File too large\n")
    assert whole.startswith(b"%PDF-")


def test_a_page_is_written_into_folders_that_are_made(sinkside: Call) -> None:
    done = sinkside("papers", "-", "-o", "a/b/plan.pdf", stdin=FITS.encode())
    assert done.told == (0, "wrote a/b/plan.pdf\n", "")
    assert Path("a/b/plan.pdf").read_bytes().startswith(b"%PDF-")
