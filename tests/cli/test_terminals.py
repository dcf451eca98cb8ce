"""Terminals at the standard streams, pipes that do not wait, and whoever interrupts."""

import json
import os
import signal
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from tests.cli.calls import FITS, OPEN, PROGRAM, subprocessed

fcntl = pytest.importorskip("fcntl", reason="terminals as files are POSIX's")
pty = pytest.importorskip("pty", reason="terminals as files are POSIX's")


@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_an_output_that_does_not_wait_gets_everything(unbuffered: str) -> None:
    read, write = os.pipe()
    fcntl.fcntl(write, fcntl.F_SETFL, fcntl.fcntl(write, fcntl.F_GETFL) | os.O_NONBLOCK)
    size = fcntl.fcntl(write, fcntl.F_SETPIPE_SZ, 4096) if hasattr(fcntl, "F_SETPIPE_SZ") else 65536
    environment = {**os.environ, "PYTHONUNBUFFERED": unbuffered}
    plain = subprocessed("plan", "-", "--json", input=OPEN.encode()).stdout
    assert len(plain) > size
    with subprocess.Popen(
        [str(PROGRAM), "plan", "-", "--json"],
        stdin=subprocess.PIPE,
        stdout=write,
        stderr=subprocess.PIPE,
        env=environment,
    ) as running:
        os.close(write)
        assert running.stdin is not None
        running.stdin.write(OPEN.encode())
        running.stdin.close()
        with open(read, "rb") as stream:
            got = stream.read()
        assert running.wait(timeout=60) == 0
    assert got == plain


@contextmanager
def typed(*arguments: str, **how: Any) -> Iterator[tuple[subprocess.Popen[bytes], int]]:
    """The program with a terminal at standard input and standard error, and that terminal."""
    ours, theirs = pty.openpty()
    settings: dict[str, Any] = {"stdin": theirs, "stdout": subprocess.PIPE, "stderr": theirs}
    # A shell switches interrupts off for what it runs in the background, such as these tests.
    settings |= {"preexec_fn": lambda: signal.signal(signal.SIGINT, signal.SIG_DFL), **how}
    with subprocess.Popen(
        [str(PROGRAM), *arguments], start_new_session=True, **settings
    ) as running:
        os.close(theirs)
        try:
            yield running, ours
        finally:
            running.kill()
            os.close(ours)


def shown_until(terminal: int, end: bytes) -> bytes:
    """What a terminal shows up to an end."""
    seen = b""
    while not seen.endswith(end):
        seen += os.read(terminal, 1)
    return seen


HINT = b"reading from the keyboard; Ctrl-D on a line of its own ends it\r\n"


def test_whoever_types_the_input_is_told_how_to_end_it() -> None:
    with typed("plate", "-") as (running, terminal):
        assert shown_until(terminal, b"\n") == HINT
        os.write(terminal, b"9V DC 1A\n\x04")
        told = b"plate '9V DC 1A' reads: out 9 V d.c. 1 A\n"
        assert running.communicate(timeout=60)[0] == told
        assert running.returncode == 0


@pytest.mark.parametrize("more", [[], ["--json"]])
def test_an_interrupt_ends_it_without_a_word(more: list[str]) -> None:
    with typed("plan", "-", *more) as (running, terminal):
        assert shown_until(terminal, b"\n") == HINT
        running.send_signal(signal.SIGINT)
        assert running.communicate(timeout=60)[0] == b""
        # Ended by the signal, so that a loop in a shell ends as well.
        assert running.returncode == -signal.SIGINT


def test_an_interrupt_that_is_switched_off_stays_so() -> None:
    """As a shell switches it off for what runs in the background."""
    ignored = {"preexec_fn": lambda: signal.signal(signal.SIGINT, signal.SIG_IGN)}
    with typed("plate", "-", **ignored) as (running, terminal):
        assert shown_until(terminal, b"\n") == HINT
        running.send_signal(signal.SIGINT)
        os.write(terminal, b"9V DC 1A\n\x04")
        told = b"plate '9V DC 1A' reads: out 9 V d.c. 1 A\n"
        assert running.communicate(timeout=60)[0] == told
        assert running.returncode == 0


def test_a_page_is_not_thrown_at_a_terminal() -> None:
    ours, theirs = pty.openpty()
    done = subprocessed(
        "papers", "-", "-o", "-", input=FITS.encode(), stdout=theirs, stderr=subprocess.PIPE
    )
    os.close(theirs)
    os.close(ours)
    told = b"standard output: a terminal shows no PDF; add > plan.pdf, or name a file\n"
    assert (done.returncode, done.stderr) == (2, told)


@pytest.mark.parametrize(
    ("encoding", "shown"), [("ascii", b'"9V\\u2393"'), ("utf-8", '"9V⎓"'.encode())]
)
def test_json_on_a_terminal_is_escaped_where_it_has_to_be(encoding: str, shown: bytes) -> None:
    ours, theirs = pty.openpty()
    environment = {"PYTHONIOENCODING": encoding}
    done = subprocessed(
        "pdo", "9V⎓", "--json", stdout=theirs, stderr=subprocess.PIPE, env=environment
    )
    os.close(theirs)
    seen = shown_until(ours, b"\n}\r\n")
    os.close(ours)
    assert (done.returncode, done.stderr) == (2, b"")
    assert shown.strip(b'"') in seen
    assert "9V⎓" in json.loads(seen.decode())["faults"][0]["wrong"]
