"""The reference page of the site file: every key has its sentence, and every example loads."""

import re
from pathlib import Path
from typing import Any

import pytest

from sinkside.site.meanings import MEANINGS, PART, meaning
from sinkside.site.read import read
from sinkside.site.schema import schema

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "site-file.md"
SCHEMA = schema()
MODELS: dict[str, dict[str, Any]] = {"SiteWritten": SCHEMA, **SCHEMA["$defs"]}
KEYS = [(model, key) for model, node in MODELS.items() for key in node["properties"]]
DEVICE = "use: ordinary, inlet: {plug: 5.5x2.1}"
SECTIONS = {
    "site": "{name: T}",
    "places": "{bench: {}}",
    "devices": f"{{radio: {{{DEVICE}}}, mixer: {{{DEVICE}}}}}",
    "shelf": '{desk-charger: {is: charger, ports: {C1: "5V⎓3A"}}}',
}
INSIDE = {"InletWritten": "inlet", "InsideWritten": "inside", "DrawsWritten": "draws"} | {
    "BrickWritten": "brick"
}
WHERE = {
    "SiteHeader": ("site", "{}"),
    "RulesWritten": ("rules", "{}"),
    "PlaceWritten": ("places", "{{bench: {{}}, it: {}}}"),
    "DeviceWritten": ("devices", "{{it: {}}}"),
    "ChargerWritten": ("shelf", "{{it: {}}}"),
    "RailWritten": ("market", "{{it: {{is: rails, accepts: 16..28 V, rails: {{a: {}}}}}}}"),
    "LinkWritten": ("links", "[{}]"),
    "GroupWritten": ("groups", "[{}]"),
}
# A trigger asks for something in one of three ways.
ASKS = ("straps", "button", "programmable")


def entry(model: str, key: str) -> str:
    """A mapping with the example of one key, and those of what must be there."""
    if key == "like":
        return f"{{like: {PART['like'].example}}}"
    wanted = [*MODELS[model].get("required", ())]
    if model == "TriggerWritten" and key not in ASKS:
        wanted.append("straps")
    lines = []
    for name in dict.fromkeys([*wanted, key]):
        found = meaning(model, name)
        assert found is not None
        lines.append(f"{name}: {found.example}")
    return f"{{{', '.join(lines)}}}"


def site_with(model: str, key: str) -> str:
    """A whole site with the example of a key in its place."""
    sections = dict(SECTIONS)
    if model == "SiteWritten":
        found = meaning(model, key)
        assert found is not None
        sections[key] = found.example
    elif model in INSIDE:
        plain = "" if model == "InletWritten" else ", inlet: {plug: 5.5x2.1}"
        inner = f"{INSIDE[model]}: {entry(model, key)}"
        sections["devices"] = f"{{it: {{use: ordinary{plain}, {inner}}}}}"
    else:
        section, shape = WHERE.get(model, ("market", "{{it: {}}}"))
        sections[section] = shape.format(entry(model, key))
    if model == "DeviceWritten":
        sections["devices"] = sections["devices"][:-1] + f", radio: {{{DEVICE}}}}}"
    return "".join(f"{name}: {text}\n" for name, text in sections.items())


@pytest.mark.parametrize(("model", "key"), KEYS)
def test_every_key_has_a_sentence_on_the_page(model: str, key: str) -> None:
    found = meaning(model, key)
    assert found is not None, f"say in MEANINGS what {key!r} of {model} means"
    shown = found.says[0].upper() + found.says[1:]
    assert key == "is" or shown in PAGE.read_text(encoding="utf-8")
    assert MODELS[model]["properties"][key]["description"].startswith(found.says)


def test_nothing_is_explained_that_is_not_there() -> None:
    there = {*KEYS, *(("PartWritten", key) for key in PART)}
    assert [(m, k) for m, keys in MEANINGS.items() for k in keys if (m, k) not in there] == []


@pytest.mark.parametrize(("model", "key"), KEYS)
def test_every_example_loads(model: str, key: str) -> None:
    assert read(site_with(model, key), "example").devices


def test_the_site_on_the_page_loads() -> None:
    (text,) = re.findall(r"^```yaml\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.M | re.S)
    found = read(text, "page")
    assert [device.id for device in found.devices] == ["radio", "mixer"]


def test_every_link_on_the_page_leads_somewhere() -> None:
    text = PAGE.read_text(encoding="utf-8")
    titles = re.findall(r"^#+ (.*)$", text, re.M)
    anchors = {re.sub(r"[^a-z ()-]", "", t.lower()).replace(" ", "-") for t in titles}
    assert {a for a in re.findall(r"\]\(#([^)]*)\)", text) if a not in anchors} == set()
    for name in re.findall(r"\]\(([^#)]+)\)", text):
        assert (PAGE.parent / name).exists()
