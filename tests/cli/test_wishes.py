"""Wishes on the command line: why not, and what would cure it."""

import jsonschema
import pytest
from tests.cli.calls import FITS, Call, fault

from sinkside.cli.plan_schema import PLAN_SCHEMA

# Two radios and one port: one of them stays on its brick.
RADIO = FITS.split("devices:\n")[1].split("shelf:")[0]
TWO = FITS.replace("shelf:", RADIO.replace("  radio:", "  second:") + "shelf:")


def test_who_is_left_out_is_told_why_and_what_cures_it(sinkside: Call) -> None:
    done = sinkside("plan", "-", "second", "--why", stdin=TWO.encode())
    assert done.status == 0
    assert "Wish: second off its brick: it cannot be had, because, all together:" in done.out
    assert "  - there is no more than 1 × desk, with 1 port\n" in done.out
    assert "  - radio keeps its port\n" in done.out or "  - radio keeps a port\n" in done.out
    assert "What would cure it, the cheapest first:\n" in done.out
    assert "  - one more desk (its price is not known)\n" in done.out
    assert "  - leave radio on its brick instead\n" in done.out


def test_a_wish_that_can_be_had_says_so(sinkside: Call) -> None:
    done = sinkside("plan", "-", "--wish", "radio on desk", stdin=FITS.encode())
    assert "Wish: radio on desk: nothing stands in its way\n" in done.out


def test_wishes_are_in_the_document(sinkside: Call) -> None:
    done = sinkside(
        "plan",
        "-",
        "--json",
        "--wish",
        "second off its brick",
        "--wish",
        "within 0",
        stdin=TWO.encode(),
    )
    jsonschema.validate(done.document, PLAN_SCHEMA)
    first, budget = done.document["wishes"]
    assert (first["possible"], first["proven"]) == (False, True)
    assert {reason["what"] for reason in first["reasons"]} == {"stays", "chargers"}
    assert [cure["changes"][0]["what"] for cure in first["cures"]] == ["chargers", "stays"]
    assert budget["possible"] is False
    assert {reason["what"] for reason in budget["reasons"]} >= {"budget", "stays"}


@pytest.mark.parametrize(
    ("phrase", "wrong", "right"),
    [
        (
            "radio to the moon",
            "'radio to the moon' is no wish that is known",
            "write one of: DEVICE off its brick, DEVICE on CHARGER, DEVICE never blinks, within "
            "AMOUNT, any spare port",
        ),
        ("radoi never blinks", "'radoi' is no device of My bench", "did you mean 'radio'?"),
        ("radio on dsek", "'dsek' is no charger of My bench", "did you mean 'desk'?"),
        (
            "within 3 XYZ",
            "'XYZ' is not the currency of My bench",
            "write the amount in EUR",
        ),
    ],
)
def test_a_wish_that_is_none_is_told(sinkside: Call, phrase: str, wrong: str, right: str) -> None:
    done = sinkside("plan", "-", "--json", "--wish", phrase, stdin=FITS.encode())
    assert done.status == 2
    assert done.document == {"faults": [fault("unknown-wish", wrong, right)]}
