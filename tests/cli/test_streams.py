"""Standard streams that are closed, full, or know few letters: an end without a traceback."""

import json
import os
import subprocess
from pathlib import Path

import pytest
from tests.cli.calls import FAULTY, FITS, OPEN, subprocessed

POSIX = pytest.mark.skipif(os.name != "posix", reason="pipes and /dev/full are POSIX's")
FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="has no /dev/full")


def closed_pipe() -> int:
    """The writing end of a pipe that nobody reads."""
    read, write = os.pipe()
    os.close(read)
    return write


@POSIX
@pytest.mark.parametrize(
    "arguments",
    [["--help"], ["plate", "9V⎓"], ["plan", "-"], ["plan", "-", "--json"], ["check", "-"]],
)
def test_nobody_reads_the_output_any_more(arguments: list[str]) -> None:
    write = closed_pipe()
    try:
        done = subprocessed(*arguments, input=FITS.encode(), stdout=write, stderr=subprocess.PIPE)
    finally:
        os.close(write)
    assert (done.returncode, done.stderr) == (0, b"")


@POSIX
def test_nobody_reads_the_faults_any_more() -> None:
    write = closed_pipe()
    try:
        done = subprocessed(
            "check", "-", input=FAULTY.encode(), stdout=subprocess.PIPE, stderr=write
        )
    finally:
        os.close(write)
    assert (done.returncode, done.stdout) == (2, b"")


@FULL
@pytest.mark.parametrize(
    ("arguments", "stdin"),
    [
        (["plate", "9V⎓"], FITS),
        (["plate", "9V⎓", "--json"], FITS),
        (["--help"], FITS),
        (["check", "-", "--json"], FAULTY),
        (["plan", "-"], FITS),
    ],
)
def test_the_output_goes_to_a_full_disk(arguments: list[str], stdin: str) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocessed(*arguments, input=stdin.encode(), stdout=full, stderr=subprocess.PIPE)
    told = b"standard output: No space left on device\n"
    assert (done.returncode, done.stderr) == (2, told)


@POSIX
@pytest.mark.parametrize("arguments", [["check", "-"], ["plan", "-"], ["plate", "-"]])
def test_standard_input_is_closed(arguments: list[str]) -> None:
    done = subprocessed(*arguments, stdin=None, preexec_fn=lambda: os.close(0))
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"standard input: ")
    assert done.stderr.count(b"\n") == 1


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
@pytest.mark.parametrize("arguments", [["plate", "9V⎓ ⊖–C–⊕"], ["plan", "-"], ["check", "-"]])
def test_a_terminal_that_knows_few_letters(encoding: str, arguments: list[str]) -> None:
    done = subprocessed(*arguments, input=FITS.encode(), env={"PYTHONIOENCODING": encoding})
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.endswith(b"\n")


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_json_is_utf_8_whatever_the_terminal_knows(encoding: str) -> None:
    # RFC 8259, 8.1 (read): JSON between systems is UTF-8.
    environment = {"PYTHONIOENCODING": encoding}
    done = subprocessed("plate", "9V⎓ ⊖–C–⊕ ?é", "--json", env=environment)
    assert (done.returncode, done.stderr) == (0, b"")
    json.loads(done.stdout.decode("utf-8"))


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_fault_on_a_terminal_that_knows_few_letters(encoding: str) -> None:
    done = subprocessed("pdo", "--encode", "9V⎓", env={"PYTHONIOENCODING": encoding})
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"has no current" in done.stderr
    assert done.stderr.count(b"\n") == 1


def test_what_a_terminal_without_our_signs_shows() -> None:
    plate = "9V⎓ 300mA ⊖–C–⊕"
    shown = [
        subprocessed("plate", plate, env={"PYTHONIOENCODING": encoding}).stdout
        for encoding in ("ascii", "cp1252", "utf-8")
    ]
    reads = " reads: out 9 V d.c. 0.3 A; centre positive\n"
    assert shown == [
        b"plate '9V DC 300mA (-)-C-(+)'" + reads.encode(),
        b"plate '9V DC 300mA (-)\x96C\x96(+)'" + reads.encode(),
        f"plate '{plate}'{reads}".encode(),
    ]


def test_help_on_a_terminal_that_knows_few_letters() -> None:
    done = subprocessed("pdo", "--help", env={"PYTHONIOENCODING": "ascii"})
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"printed offers, such as 9V DC 3A." in done.stdout


@FULL
def test_no_help_for_a_full_disk_behind_standard_error() -> None:
    with open("/dev/full", "wb") as full:
        done = subprocessed("plate", stdout=subprocess.PIPE, stderr=full)
    assert (done.returncode, done.stdout) == (2, b"")


def closed(*descriptors: int) -> dict[str, object]:
    """How to call a program with standard streams closed."""

    def close() -> None:
        for descriptor in descriptors:
            os.close(descriptor)

    return {"preexec_fn": close, "stdin": None}


@POSIX
def test_standard_output_is_closed() -> None:
    done = subprocessed("plate", "9V⎓", **closed(1))
    assert (done.returncode, done.stderr) == (2, b"standard output: closed\n")


@POSIX
def test_standard_error_is_closed() -> None:
    done = subprocessed("plan", "-", stderr=subprocess.DEVNULL, stdout=subprocess.PIPE, **closed(2))
    assert (done.returncode, done.stdout) == (2, b"")
    good = subprocessed("plate", "9V⎓", **closed(2))
    assert (good.returncode, good.stdout) == (0, "plate '9V⎓' reads: out 9 V d.c.\n".encode())


@POSIX
def test_every_standard_stream_is_closed(tmp_path: Path) -> None:
    """The first file that is opened gets a free number: it must not be a standard stream's."""
    site, page = tmp_path / "site.yaml", tmp_path / "plan.pdf"
    site.write_text(FITS, encoding="utf-8")
    done = subprocessed("papers", str(site), "-o", str(page), **closed(0, 1, 2))
    assert done.returncode == 2  # it could not say that it is done
    assert page.read_bytes().startswith(b"%PDF-")
    assert page.read_bytes().rstrip().endswith(b"%%EOF")
    assert site.read_text(encoding="utf-8") == FITS


@POSIX
def test_nobody_reads_a_page() -> None:
    write = closed_pipe()
    try:
        done = subprocessed(
            "papers", "-", "-o", "-", input=FITS.encode(), stdout=write, stderr=subprocess.PIPE
        )
    finally:
        os.close(write)
    assert (done.returncode, done.stderr) == (0, b"")


@POSIX
def test_the_status_of_a_plan_stays_when_nobody_reads_on() -> None:
    write = closed_pipe()
    try:
        done = subprocessed(
            "plan", "-", "--strict", input=OPEN.encode(), stdout=write, stderr=subprocess.PIPE
        )
    finally:
        os.close(write)
    assert (done.returncode, done.stderr) == (1, b"")
