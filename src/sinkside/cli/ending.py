"""Every way out: what was answered is written, what is wrong is told, and the exit status says."""

import io
import signal
from collections.abc import Callable, Sequence
from contextlib import redirect_stdout
from typing import Any

import click

from sinkside.cli import calls, streams
from sinkside.cli.answer import DONE, OURS, WRONG, Answer
from sinkside.cli.spellings import printable
from sinkside.faults import Fault, Faulty, NotUnderstood


def run(call: Callable[[], Any], words: Sequence[str]) -> int:
    """Make a call and write its answer.

    Parameters
    ----------
    call
        Gives an `Answer`, or prints text and gives an exit status: help does.
    words
        What stands on the line, to see whether a fault has to be told as JSON.

    Returns
    -------
    int
        The exit status.
    """
    try:
        return _written(_answer(call))
    except Exception as error:
        return _told(error, "--json" in _options(words))


def _answer(call: Callable[[], Any]) -> Answer:
    kept = io.BytesIO()
    printed = io.TextIOWrapper(kept, encoding="utf-8", newline="", write_through=True)
    try:
        with redirect_stdout(printed):
            answer = call()
    except SystemExit as left:  # the completion of a shell
        answer = left.code
    if isinstance(answer, Answer):
        return answer
    status = answer if isinstance(answer, int) else DONE
    return Answer(status=status, lines=kept.getvalue().decode().splitlines())


def without_traceback() -> None:
    """Let an interrupt end the program there and then, so that whoever called it stops as well.

    An interrupt that somebody else handles, or has switched off, is left alone.
    """
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)


def _options(words: Sequence[str]) -> Sequence[str]:
    return words[: words.index("--")] if "--" in words else words


def _written(answer: Answer) -> int:
    try:
        streams.put_out(answer)
    except Faulty as error:
        _tell_people(error.faults)
        return OURS if answer.status == OURS else WRONG
    return answer.status


def _told(error: Exception, wants_json: bool) -> int:
    status = WRONG
    match error:
        case Faulty():
            faults = error.faults
        case NotUnderstood():
            faults = (error.fault,)
        case click.ClickException():
            faults = (calls.fault(error),)
        case _:
            faults = (_ours(error),)
            status = OURS
    if wants_json:
        return _written(Answer(status=status, document=as_json(faults)))
    _tell_people(faults)
    return status


def _ours(error: Exception) -> Fault:
    """The last line of defence: told as ours, with its kind and where it came about."""
    import traceback

    streams.put_err("".join(traceback.format_exception(error)))
    wrong = f"a fault of the program itself: {type(error).__name__}: {error}"
    return Fault(code="ours", wrong=wrong, right="please report it")


def _tell_people(faults: Sequence[Fault]) -> None:
    streams.put_err("".join(f"{printable(str(fault))}\n" for fault in faults))


def as_json(faults: Sequence[Fault]) -> dict[str, Any]:
    """Faults as one document."""
    return {"faults": [_fault_json(fault) for fault in faults]}


def _fault_json(fault: Fault) -> dict[str, Any]:
    place = fault.place
    return {
        "code": fault.code,
        "file": place.file if place else None,
        "line": place.line if place else None,
        "column": place.column if place else None,
        "wrong": fault.wrong,
        "right": fault.right or None,
    }
