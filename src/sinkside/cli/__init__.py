"""The command line: people's text by default, one JSON document with --json."""

from sinkside.cli.main import main

__all__ = ["main"]
