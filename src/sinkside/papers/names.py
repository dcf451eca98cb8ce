"""Names of files for devices of any name: safe on every system, and no two alike."""

import re
import unicodedata
from collections.abc import Sequence

_PLAIN = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_MOST = 48
# What a file must not be called on some systems, whatever its ending (from memory).
_RESERVED = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))}


def file_names(devices: Sequence[str]) -> dict[str, str]:
    """A name without ending for each device, of small letters, digits and single hyphens.

    Returns
    -------
    dict
        A device that has such a name keeps it; any other gets what is left of its letters, and
        a number where somebody else is called so.
    """
    plain = {d for d in devices if _PLAIN.fullmatch(d) and len(d) <= _MOST and d not in _RESERVED}
    taken = set(plain)
    found = {}
    for device in devices:
        found[device] = device if device in plain else _free(_left_of(device), taken)
        taken.add(found[device])
    return found


def _left_of(device: str) -> str:
    letters = unicodedata.normalize("NFKD", device).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", letters)[:_MOST].strip("-") or "device"


def _free(name: str, taken: set[str]) -> str:
    if name not in taken and name not in _RESERVED:
        return name
    number = 2
    while f"{name}-{number}" in taken:
        number += 1
    return f"{name}-{number}"
