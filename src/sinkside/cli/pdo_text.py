"""Power data objects for people and as JSON: words taken apart, and put together."""

import dataclasses
import re
from collections.abc import Sequence
from typing import Any

from sinkside.faults import NotUnderstood
from sinkside.parts.charger import Offer
from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_lists import list_faults, request_faults
from sinkside.standards.pd_objects import (
    FixedSource,
    PpsSource,
    SinkObject,
    SourceObject,
    SprAvsSource,
    decode_sink,
    decode_source,
    encode,
    remarks,
)
from sinkside.standards.pd_requests import Request, decode_request

REVISIONS = {"2.0": Revision.R2_0, "3.0": Revision.R3_0, "3.1": Revision.R3_1}
REVISIONS["3.2"] = Revision.R3_2
_OFFER = re.compile(r"[\d.] *V", re.IGNORECASE)


def word(text: str) -> int:
    """A word as people type it: 0x0001912C, or the same without 0x.

    Raises
    ------
    NotUnderstood
        It is no hexadecimal number of at most 32 bits.
    """
    digits = text.strip().removeprefix("0x").removeprefix("0X")
    if not 1 <= len(digits) <= 8 or any(c not in "0123456789abcdefABCDEF" for c in digits):
        printed = "; printed offers need --encode" if _OFFER.search(text) else ""
        wrong = f"{text[:40]!r} is no 32-bit word"
        raise NotUnderstood(wrong, f"write it like 0x0001912C{printed}")
    return int(digits, 16)


def decoded(words: Sequence[str], side: str, revision: str, offers: str | None) -> dict[str, Any]:
    """Words taken apart.

    Parameters
    ----------
    side
        `source`, `sink`, or `request`, which needs the list that it asks of as `offers`.
    """
    rev = REVISIONS[revision]
    if side == "request":
        if offers is None:
            raise NotUnderstood(
                "a request means nothing without the list that it asks of",
                'give --of "0x0001912C 0x0002D12C"',
            )
        asked = [decode_source(word(t), rev) for t in offers.replace(",", " ").split()]
        requests = [decode_request(word(text), asked, rev) for text in words]
        return {
            "sinkside": "pdo",
            "objects": [
                _json(i, text, obj) for (i, text), obj in zip(_each(words), requests, strict=True)
            ],
            "remarks": [str(f) for r in requests for f in request_faults(r, asked)],
        }
    objects: list[SourceObject | SinkObject] = []
    for text in words:
        value = word(text)
        objects.append(decode_source(value, rev) if side == "source" else decode_sink(value, rev))
    told = [f"object {i + 1}: {r}" for i, o in enumerate(objects) for r in remarks(o)]
    if side == "source" and len(objects) > 1:
        told += [str(f) for f in list_faults([decode_source(word(t), rev) for t in words])]
    return {
        "sinkside": "pdo",
        "objects": [
            _json(i, text, obj) for (i, text), obj in zip(_each(words), objects, strict=True)
        ],
        "remarks": told,
    }


def _each(words: Sequence[str]) -> list[tuple[int, str]]:
    return list(enumerate(words, start=1))


def _json(position: int, text: str, obj: SourceObject | SinkObject | Request) -> dict[str, Any]:
    fields = {f.name: getattr(obj, f.name) for f in dataclasses.fields(obj)}
    return {
        "position": position,
        "word": f"0x{word(text):08X}",
        "kind": obj.LAYOUT.name,
        "fields": fields,
    }


def encoded(texts: Sequence[str], revision: str) -> dict[str, Any]:
    """Printed offers such as `9V⎓3A` or `PPS 3.3-11V⎓3A` as words."""
    from sinkside.parts import port_list

    rev = REVISIONS[revision]
    found: list[dict[str, Any]] = []
    offers = {offer for text in texts for offer in port_list.read(text)[0]}
    for offer in sorted(offers, key=lambda o: (o.profile != "fixed", o)):
        obj = _object(offer)
        found.append(_json(len(found) + 1, f"{encode(obj, rev):08X}", obj))
    return {"sinkside": "pdo", "objects": found, "remarks": []}


def _object(offer: Offer) -> SourceObject:
    milliamps = _milli(offer.current_a, "A")
    if offer.profile == "fixed":
        return FixedSource(voltage_mv=_milli(offer.low_v, "V"), current_ma=milliamps)
    if offer.profile == "pps":
        low, high = _milli(offer.low_v, "V"), _milli(offer.high_v, "V")
        return PpsSource(minimum_mv=low, maximum_mv=high, current_ma=milliamps)
    if (offer.low_v, offer.high_v) == (9.0, 15.0):
        return SprAvsSource(current_9_to_15_v_ma=milliamps, current_15_to_20_v_ma=0)
    raise NotUnderstood(
        f"AVS {offer.low_v:g}-{offer.high_v:g}V is no object by itself",
        "give it as a word: an AVS object holds more than one range or a power",
    )


def _milli(value: float, unit: str) -> int:
    whole = round(value * 1000)
    if abs(value * 1000 - whole) > 1e-6:
        raise NotUnderstood(f"{value:g} {unit} is no whole number of m{unit}", "round it first")
    return whole


def lines(document: dict[str, Any]) -> list[str]:
    """A decoded or encoded document for people."""
    found = []
    for obj in document["objects"]:
        found.append(f"{obj['position']}  {obj['word']}  {obj['kind']}")
        found += [
            f"     {name} = {value}"
            for name, value in obj["fields"].items()
            if value not in (False, 0) or name.endswith(("_mv", "_ma", "_mw"))
        ]
    return found + [f"note: {remark}" for remark in document["remarks"]]
