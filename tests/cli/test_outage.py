"""`outage`: who goes out when something happens to a charger, in words, JSON and files."""

import csv
import json
from importlib import resources
from pathlib import Path

import jsonschema
import pytest
from tests.cli.calls import FITS, Call, fault

from sinkside.cli.main import EVENTS
from sinkside.cli.outage_text import KINDS

# Two radios on a charger that drops both ports for 1.5 s; each rides through 0.1 s.
PAIR = (
    FITS.replace("spare_ports: blocked", "spare_ports: may be used")
    .replace("    blink: any\n", "    blink: never\n    ride_through: 0.1 s (measured)\n")
    .replace(
        '{C1: "5V⎓3A 9V⎓3A"}',
        '{C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A"}, sharing: independent (measured), '
        "on_change: nothing (measured)",
    )
)


@pytest.fixture
def site(tmp_path: Path) -> str:
    file = tmp_path / "bench.yaml"
    file.write_text(PAIR, encoding="utf-8")
    return str(file)


def test_a_neighbour_that_is_plugged_in_leaves_a_quiet_charger_alone(
    sinkside: Call, site: str
) -> None:
    done = sinkside("outage", site)
    assert (done.status, done.err) == (0, "")
    assert "When something is plugged into desk C2:\n" in done.out
    assert "  radio on C1: nothing happens to it; its ports keep going   fits, loss\n" in done.out


def test_a_hard_reset_puts_out_what_must_not_blink(sinkside: Call, site: str) -> None:
    """0.65 s at the least without volts (USB PD, secondary text) against 0.1 s."""
    done = sinkside("outage", site, "--event", "hard reset", "--json")
    assert done.status == 1
    (event,) = done.document["events"]
    (device,) = event["devices"]
    assert (event["port"], device["id"], device["verdict"]) == ("C1", "radio", "fails")
    assert device["follows"]["ending"] == "goes out and comes back"
    assert device["follows"]["out_s"]["nominal"] > 0.6


def test_the_command_names_every_event() -> None:
    """Its words stand in the call itself, so that help need not load what follows events."""
    assert EVENTS == KINDS


@pytest.mark.parametrize("event", ["attach", "hard reset", "over-current", "mains cut"])
def test_the_json_keeps_its_schema(sinkside: Call, site: str, event: str) -> None:
    text = resources.files("sinkside.cli").joinpath("outage.schema.json").read_text("utf-8")
    more = ("--lasts", "2 s") if event == "mains cut" else ()
    done = sinkside("outage", site, "--event", event, *more, "--json")
    jsonschema.validate(done.document, json.loads(text))


def test_waveforms_are_written_as_pictures_and_samples(
    sinkside: Call, site: str, tmp_path: Path
) -> None:
    folder = tmp_path / "waves"
    done = sinkside("outage", site, "--event", "hard reset", "--to", str(folder))
    name = "radio-on-C1-hard-reset-desk-1-C1"
    assert f"wrote {folder / name}.svg" in done.out
    assert (folder / f"{name}.svg").read_text("utf-8").startswith("<svg")
    rows = list(csv.reader((folder / f"{name}.csv").open(encoding="utf-8", newline="")))
    assert rows[0] == ["run", "t_s", "pins_v", "port_v", "port_a"]
    assert {row[0] for row in rows[1:]} == {"nominal", "longest outage", "highest inrush"}
    assert min(float(row[2]) for row in rows[1:]) < 4.0


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (
            ("--charger", "dask"),
            fault("unknown-name", "'dask' is no charger of My bench", "known are desk"),
        ),
        (
            ("--port", "C3"),
            fault("unknown-name", "'C3' is no port of desk", "known are C1, C2"),
        ),
        (
            ("--lasts", "2 s"),
            fault("not-understood", "--lasts is for a mains cut alone", "leave it out"),
        ),
    ],
)
def test_what_is_not_there_is_told(
    sinkside: Call, site: str, call: tuple[str, ...], told: dict[str, str | None]
) -> None:
    done = sinkside("outage", site, *call, "--json")
    assert done.status == 2
    (found,) = done.document["faults"]
    assert found == {**told, "code": found["code"]}
