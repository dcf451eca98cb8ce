"""The command line as a fixture."""

import io
import signal
import sys

import pytest
from tests.cli.calls import Call, Done

from sinkside.cli import main


@pytest.fixture
def sinkside(monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes]) -> Call:
    """Call the entry point with arguments and standard input, as the installed program does."""

    def call(*arguments: str, stdin: bytes = b"") -> Done:
        monkeypatch.setattr(sys, "argv", ["sinkside", *arguments])
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin), encoding="utf-8"))
        capsysbinary.readouterr()
        interrupt = signal.getsignal(signal.SIGINT)
        with pytest.raises(SystemExit) as left:
            main()
        signal.signal(signal.SIGINT, interrupt)
        written = capsysbinary.readouterr()
        status = left.value.code
        assert isinstance(status, int)
        return Done(status=status, out=written.out.decode(), err=written.err.decode())

    return call
