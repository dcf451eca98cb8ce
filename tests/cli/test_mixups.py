"""The command `mixups`: the matrix, what to do, what conducts, as text, JSON and SVG."""

from pathlib import Path

import jsonschema
import pytest
from tests.cli.calls import Call

SITE = """\
site: {name: Two plugs, currency: EUR}
rules: {solder: yes, open_cases: yes}
devices:
  radio:
    use: ordinary
    plate: "DC IN 9V⎓ 300mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured), ground: negative (measured)}
    brick:
      original: yes
      plate: "OUTPUT 9V DC 500mA"
      centre: positive (measured)
      open: 13.1 V (measured)
      loaded: 10.4 V at 280 mA (measured)
    blink: any
  screen:
    use: ordinary
    plate: "DC IN 19V⎓ 1.5A ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured), ground: negative (measured)}
    inside: {is: switching regulator, runs_from: 15 V (datasheet), harmed_above: 24 V (datasheet)}
    brick:
      original: yes
      plate: "OUTPUT 19V DC 2A"
      centre: positive (measured)
      open: 19.4 V (measured)
      loaded: 19.1 V at 1.2 A (measured)
    blink: any
shelf:
  desk:
    {is: charger, count: 2, class: II, output_earth: floating, ports: {C1: "5V⎓3A 9V⎓3A 20V⎓3A"}}
"""


@pytest.fixture
def site(tmp_path: Path) -> str:
    file = tmp_path / "two.yaml"
    file.write_text(SITE, encoding="utf-8")
    return str(file)


def test_it_shows_the_harm_and_what_to_do(sinkside: Call, site: str) -> None:
    done = sinkside("mixups", site)
    assert (done.status, done.err) == (0, "")
    text = done.out
    assert "lead of screen" in text
    assert "Volts against the limit, where they are over it the most:" in text
    assert "lead of screen in radio: up to 21 V (contract 20 V)" in text
    assert "To keep them apart at the least cost:" in text
    assert "tie to its device, so that it cannot be plugged elsewhere, each the lead of" in text
    assert "the class of protection is not known" not in text
    assert text.rstrip().endswith("mains on what is touched.")


def test_its_document_keeps_to_the_schema_and_says_the_same(sinkside: Call, site: str) -> None:
    from sinkside.cli import mixups_json

    document = sinkside("mixups", site, "--json").document
    jsonschema.validate(document, mixups_json.SCHEMA)
    cells = {(c["lead"], c["source"], c["inlet"]): c for c in document["plugs"]["cells"]}
    wrong = cells["screen", "lead", "radio"]
    assert (wrong["outcome"], wrong["harmful"], wrong["own"]) == ("over-voltage", True, False)
    assert wrong["top_v"] == pytest.approx(21.0)  # 20 V and 5 %
    assert document["plugs"]["separation"]["left"] == []
    assert document["fails"] is False


def test_the_matrix_is_written_as_a_picture(sinkside: Call, site: str, tmp_path: Path) -> None:
    done = sinkside("mixups", site, "--to", str(tmp_path / "out"))
    assert done.out.endswith(f"wrote {tmp_path / 'out' / 'mixups.svg'}\n")
    assert (tmp_path / "out" / "mixups.svg").read_text(encoding="utf-8").startswith("<svg")


def test_without_chargers_the_old_bricks_are_looked_at(sinkside: Call, tmp_path: Path) -> None:
    file = tmp_path / "none.yaml"
    file.write_text(SITE.split("shelf:")[0], encoding="utf-8")
    done = sinkside("mixups", str(file))
    assert done.status == 0
    assert "old brick of screen" in done.out
    assert "lead of screen" not in done.out.split("inlet:")[0]


def test_what_stays_is_listed_with_its_labels(sinkside: Call, tmp_path: Path) -> None:
    """Nothing may be bought, so the old bricks stay as they are: it fails, and says so."""
    file = tmp_path / "two.yaml"
    file.write_text(SITE.replace("open_cases: yes}", "open_cases: yes, budget: 0 EUR}"), "utf-8")
    done = sinkside("mixups", str(file))
    assert done.status == 1
    assert "  - the old brick of screen still goes into radio, and harms it\n" in done.out
    assert "  - inlet of radio: radio: its own lead ONLY / never: " in done.out
