"""The demo site: an invented sound archive whose gear meets every branch of the trade."""

from importlib import resources

FOLDER = "fernhollow"
FILE = "site.yaml"


def text() -> str:
    """The demo site file."""
    return resources.files("sinkside.demo").joinpath(FILE).read_text(encoding="utf-8")
