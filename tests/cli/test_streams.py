"""Standard streams that are closed, full, or know few letters: an end without a traceback."""

import json
import os
import subprocess
from pathlib import Path

import pytest
from tests.cli.calls import FAULTY, FITS, subprocessed

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
