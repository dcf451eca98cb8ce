"""The standard streams, whatever state they are in: closed, full, broken, or poor in letters.

What is written for people is spelled in the letters that their terminal knows. A document is
UTF-8, as RFC 8259, 8.1 asks between systems; a terminal of another encoding gets the escapes of
JSON, which mean the same.
"""

import os
import sys
from contextlib import suppress
from typing import Any, TextIO

from sinkside.cli.answer import Answer
from sinkside.cli.spellings import spelled
from sinkside.faults import Fault, Faulty

UTF_8 = "utf-8"
# ECMA-48: carriage return, then erase to the end of the line (from memory).
FRESH_LINE = b"\r\x1b[K"


def keep_descriptors() -> None:
    """Put something harmless in the place of standard streams that are closed.

    Otherwise the next file that is opened gets the number of a standard stream, and whatever
    a library prints there ends up in the file.
    """
    for descriptor in range(3):
        try:
            os.fstat(descriptor)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # takes the lowest number that is free


def put_out(answer: Answer) -> None:
    """Write an answer on standard output.

    Raises
    ------
    Faulty
        It cannot be written. That nobody reads any further is no fault.
    """
    raw = _encoded(answer, sys.stdout)
    if not raw:
        return
    if sys.stdout is None:
        raise _unwritten("closed")
    if answer.file and not answer.lines and is_terminal(sys.stdout):
        raise _unwritten("a terminal shows no PDF", "add > plan.pdf, or name a file")
    try:
        _write(sys.stdout, raw)
    except BrokenPipeError:
        return
    except OSError as error:
        raise _unwritten(error.strerror or str(error)) from None


def _unwritten(why: str, right: str = "") -> Faulty:
    return Faulty([Fault(code="not-written", wrong=f"standard output: {why}", right=right)])


def put_err(text: str, *, fresh: bool = False) -> None:
    """Write a text on standard error; if that fails there is nobody to be told.

    Parameters
    ----------
    fresh
        In the place of what stands on the terminal's line.
    """
    if sys.stderr is not None:
        with suppress(OSError):
            _write(sys.stderr, FRESH_LINE * fresh + _spelled(text, sys.stderr))


def read_in(most: int) -> bytes:
    """Read standard input to its end, or to one byte more than may be read.

    Raises
    ------
    OSError
        It cannot be read.
    """
    if sys.stdin is None:
        raise OSError(None, "closed")
    if is_terminal(sys.stdin) and is_terminal(sys.stderr):
        end = "Ctrl-Z and Enter" if os.name == "nt" else "Ctrl-D on a line of its own"
        put_err(f"reading from the keyboard; {end} ends it\n")
    return sys.stdin.buffer.read(most + 1)


def is_terminal(stream: TextIO | None) -> bool:
    """Whether a person sits at the other end of a stream."""
    return stream is not None and stream.isatty()


def _encoded(answer: Answer, stream: TextIO | None) -> bytes:
    shown = is_terminal(stream)
    if answer.document is not None:
        in_ascii = shown and _encoding(stream) != UTF_8
        return _json(answer.document, in_ascii=in_ascii).encode(UTF_8, "replace")
    if answer.file and not (shown and answer.lines):
        return answer.file
    return _spelled("".join(f"{line}\n" for line in answer.lines), stream)


def _json(document: Any, *, in_ascii: bool) -> str:
    import json

    return json.dumps(document, ensure_ascii=in_ascii, indent=2, allow_nan=False) + "\n"


def _spelled(text: str, stream: TextIO | None) -> bytes:
    encoding = _encoding(stream)
    return spelled(text, encoding).encode(encoding)


def _encoding(stream: TextIO | None) -> str:
    name = (stream and stream.encoding) or UTF_8
    return UTF_8 if name.lower().replace("_", "-") in ("utf-8", "utf8") else name


def _write(stream: TextIO, raw: bytes) -> None:
    """Write everything past the buffers, so that nothing is left for the interpreter's end."""
    sink = getattr(stream.buffer, "raw", stream.buffer)
    rest = memoryview(raw)
    while rest:
        written = sink.write(rest)
        if written is None:  # somebody has set the stream not to wait
            import select

            select.select([], [sink], [])
        rest = rest[written or 0 :]
