"""Names of files: safe on every system, and no two alike."""

import re

from hypothesis import given
from hypothesis import strategies as st

from sinkside.papers.names import file_names


@given(st.lists(st.text(max_size=80), unique=True, max_size=12))
def test_names_are_safe_and_no_two_are_alike(devices: list[str]) -> None:
    found = file_names(devices)
    assert list(found) == devices
    assert len({name.casefold() for name in found.values()}) == len(devices)
    for name in found.values():
        assert re.fullmatch("[a-z0-9]+(-[a-z0-9]+)*", name)
        assert len(name) <= 60
        # Names of devices on some systems, whatever the ending (from memory).
        assert not re.fullmatch("con|prn|aux|nul|com[0-9]|lpt[0-9]", name)


def test_plain_names_are_kept_and_others_get_what_is_left() -> None:
    names = ["tape-deck", "Tape Deck", "../../etc/passwd", "録音機", "émetteur", "con", "", "a/b"]
    assert file_names(names) == {
        "tape-deck": "tape-deck",
        "Tape Deck": "tape-deck-2",
        "../../etc/passwd": "etc-passwd",
        "録音機": "device",
        "émetteur": "emetteur",
        "con": "con-2",
        "": "device-2",
        "a/b": "a-b",
    }
