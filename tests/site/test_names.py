"""Names that people give: any language and length is taken whole, and none breaks a line."""

import pytest

from sinkside.faults import Faulty
from sinkside.site.read import read
from sinkside.site.survey import survey


def text(name: str, linked: str = "") -> str:
    link = f'links: [{{from: "{linked}", to: "{name}"}}]\n' if linked else ""
    return (
        "site: {name: T}\ndevices:\n"
        f'  "{name}": {{use: ordinary, plate: "DC IN 9V⎓ 500mA", inlet: {{plug: 5.5x2.1}}}}\n'
        f'{link}groups: [{{name: g, together: ["{name}"]}}]\n'
    )


def named(name: str) -> str:
    site = read(text(name), "s.yaml")
    found = survey(site.devices[0], site.ambient)
    assert site.groups[0].together == (site.devices[0].id,)
    for quantity in (found.harmed_above_v, found.runs_from_v, found.steady_a, found.peak_a):
        assert quantity.name.startswith(f"{site.devices[0].id}/")
    return site.devices[0].id


@pytest.mark.parametrize(
    "name",
    [
        "tape-deck",
        "Tape Deck 2",
        "a+b",
        "Verstärker",
        "テープ",
        "مسجل",
        "0",
        "yes",
        "null",
        "~",
        "<<",
        "id",
        "is",
        "a: b",
        "[a]",
        "{a}",
        "#1",
        "😀",
        "x" * 300,
    ],
)
def test_names(name: str) -> None:
    assert named(name) == name


@pytest.mark.parametrize(
    "name", ["\\e[31mred", "a\\nb", "a\\rb", "a\\0b", "a\\u202eb", "\\u200b", " "]
)
def test_names_that_would_break_a_line_or_show_as_another(name: str) -> None:
    # An escape sequence moves the cursor of a terminal; U+202E turns the line round.
    with pytest.raises(Faulty) as error:
        read(text(name), "s.yaml")
    assert str(error.value.faults[0].place) == "s.yaml:3:3"


def test_two_devices_of_one_name() -> None:
    with pytest.raises(Faulty) as error:
        read(
            "site: {name: T}\ndevices:\n  d: {use: ordinary, inlet: {plug: 5.5x2.1}}\n"
            "  'd': {use: ordinary, inlet: {plug: 5.5x2.1}}\n",
            "s.yaml",
        )
    assert str(error.value) == (
        "s.yaml:4:3: 'd' is given twice; it stands on line 3 already; keep one"
    )


def test_a_name_that_is_nearly_right() -> None:
    with pytest.raises(Faulty) as error:
        read(text("outher", linked="other"), "s.yaml")
    assert str(error.value) == (
        "s.yaml:4:16: 'other' is no device of this site; did you mean 'outher'?"
    )
