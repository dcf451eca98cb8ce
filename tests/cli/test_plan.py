"""`check`, `plan` and `demo`: exit status, one document, and nobody's changes lost.

Exit status (the program's own statement in the README): 0 done and no chosen path fails; 1
something fails, or with --strict does not fit; 2 the input or the call is wrong.
"""

import json
from importlib import resources
from pathlib import Path

import jsonschema
import pytest
from tests.cli.calls import FAULTY, FITS, OPEN, Call, fault

from sinkside import demo

REFUSED = OPEN.replace("clock: {use: ordinary", "clock: {use: medical")


@pytest.fixture(autouse=True)
def in_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize(
    ("site", "plain", "strict"), [(FITS, 0, 0), (OPEN, 0, 1), (REFUSED, 0, 1), (FAULTY, 2, 2)]
)
@pytest.mark.parametrize("more", [[], ["--json"], ["--why"]])
def test_the_exit_status_of_a_plan(
    sinkside: Call, site: str, plain: int, strict: int, more: list[str]
) -> None:
    assert sinkside("plan", "-", *more, stdin=site.encode()).status == plain
    assert sinkside("plan", "--strict", "-", *more, stdin=site.encode()).status == strict


def test_a_plan_of_which_a_chosen_path_fails(
    sinkside: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The conductor chooses no path that fails today; the status is promised all the same.
    monkeypatch.setattr("sinkside.plan.model.Plan.fails", True)
    assert sinkside("plan", "-", stdin=FITS.encode()).status == 1
    assert sinkside("plan", "-", "--json", stdin=FITS.encode()).status == 1


@pytest.mark.parametrize("site", [FITS, OPEN, REFUSED])
def test_a_plan_as_json_keeps_its_schema(sinkside: Call, site: str) -> None:
    text = resources.files("sinkside.cli").joinpath("plan.schema.json").read_text("utf-8")
    done = sinkside("plan", "-", "--json", stdin=site.encode())
    assert done.err == ""
    jsonschema.validate(done.document, json.loads(text))


def test_one_device_alone(sinkside: Call) -> None:
    done = sinkside("plan", "-", "clock", "--json", stdin=OPEN.encode())
    assert [device["id"] for device in done.document["devices"]] == ["clock"]
    whole = sinkside("plan", "-", "--json", stdin=OPEN.encode())
    assert [d for d in whole.document["devices"] if d["id"] == "clock"] == done.document["devices"]


@pytest.mark.parametrize(
    ("device", "wrong", "right"),
    [
        ("radoi", "'radoi' is no device of My bench", "did you mean 'radio'?"),
        ("zzz", "'zzz' is no device of My bench", "known are radio, clock"),
        ("", "'' is no device of My bench", "known are radio, clock"),
        ("RADIO\n", "'RADIO\\n' is no device of My bench", "did you mean 'radio'?"),
    ],
)
def test_a_device_that_is_not_there(sinkside: Call, device: str, wrong: str, right: str) -> None:
    people = sinkside("plan", "-", device, stdin=OPEN.encode())
    assert people.told == (2, "", f"{wrong}; {right}\n")
    machine = sinkside("plan", "-", device, "--json", stdin=OPEN.encode())
    assert (machine.status, machine.err) == (2, "")
    assert machine.document == {"faults": [fault("unknown-device", wrong, right)]}


def test_check_as_json_is_one_document(sinkside: Call) -> None:
    done = sinkside("check", "-", "--json", stdin=OPEN.encode())
    assert (done.status, done.err) == (0, "")
    assert [device["id"] for device in done.document["devices"]] == ["radio", "clock"]


def test_the_same_site_gives_the_same_text_again(sinkside: Call) -> None:
    for arguments in (["check", "-"], ["plan", "-", "--why"], ["plan", "-", "--json"]):
        first = sinkside(*arguments, stdin=OPEN.encode())
        assert sinkside(*arguments, stdin=OPEN.encode()) == first


def test_one_device_is_not_called_several(sinkside: Call) -> None:
    done = sinkside("check", "-", stdin=FITS.encode())
    first = done.out.splitlines()[0]
    assert first.startswith("My bench: ")
    assert not any(several in first for several in ("1 devices", "1 kinds", "1 chargers"))


def test_the_demo_writes_its_file_and_plans_it(sinkside: Call) -> None:
    done = sinkside("demo")
    file = Path("fernhollow/site.yaml")
    assert (done.status, done.err) == (0, "")
    assert done.out.endswith(
        f"\n\nThe site file is {file}: change it, then run  sinkside plan {file}\n"
    )
    assert file.read_text(encoding="utf-8") == demo.text()
    assert done.out.startswith(sinkside("plan", str(file)).out)


def test_the_demo_as_json_is_what_plan_gives(sinkside: Call) -> None:
    done = sinkside("demo", "--to", "here", "--json")
    assert (done.status, done.err) == (0, "")
    assert done.document == sinkside("plan", "here/site.yaml", "--json").document


def test_the_demo_keeps_what_somebody_has_changed(sinkside: Call) -> None:
    file = Path("here/site.yaml")
    file.parent.mkdir()
    file.write_text(FITS, encoding="utf-8")
    told = f"{file} is there already and was changed: planning it as it is.\n"
    for more in ([], ["--json"]):
        done = sinkside("demo", "--to", "here", *more)
        assert (done.status, done.err) == (0, told)
    assert sinkside("demo", "--to", "here", "--json").document["site"] == "My bench"
    assert file.read_text(encoding="utf-8") == FITS


@pytest.mark.parametrize(
    "kept",
    [
        FAULTY.encode(),
        "site: {name: Café}".encode("latin-1"),
        b"\xef\xbb\xbf" + demo.text().encode(),
        demo.text().replace("\n", "\r\n").encode(),
        b"",
    ],
    ids=["faulty", "Latin-1", "BOM", "CRLF", "empty"],
)
def test_the_demo_keeps_every_byte_of_what_it_finds(sinkside: Call, kept: bytes) -> None:
    file = Path("here/site.yaml")
    file.parent.mkdir()
    file.write_bytes(kept)
    done = sinkside("demo", "--to", "here")
    assert file.read_bytes() == kept
    assert done.status in (0, 2)
    assert "Traceback" not in done.err


def test_the_demo_where_it_cannot_write(sinkside: Call) -> None:
    Path("file").write_text("mine", encoding="utf-8")
    Path("taken/site.yaml").mkdir(parents=True)
    for folder, told in (
        ("file", "Invalid value for '--to': Directory 'file' is a file"),
        ("file/below", "file/below/site.yaml: Not a directory"),
        ("x" * 300, f"{'x' * 300}/site.yaml: File name too long"),
        ("taken", "taken/site.yaml: Is a directory"),
    ):
        assert sinkside("demo", "--to", folder).told == (2, "", f"{told}\n")
    assert Path("file").read_text(encoding="utf-8") == "mine"


def test_the_demo_tells_a_command_that_can_be_copied(sinkside: Call) -> None:
    done = sinkside("demo", "--to", "my site")
    assert done.out.endswith(
        "\n\nThe site file is my site/site.yaml: change it, then run  "
        "sinkside plan 'my site/site.yaml'\n"
    )


def test_the_demo_leaves_alone_what_it_may_not_read(
    sinkside: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = Path("here/site.yaml")
    file.parent.mkdir()
    file.write_text(FITS, encoding="utf-8")

    def refused(self: Path) -> bytes:
        raise PermissionError(13, "Permission denied", str(self))

    with monkeypatch.context() as patched:
        # Whoever runs the tests may be allowed to read everything.
        patched.setattr(Path, "read_bytes", refused)
        told = f"{file}: Permission denied\n"
        assert sinkside("demo", "--to", "here").told == (2, "", told)
    assert file.read_text(encoding="utf-8") == FITS


def test_many_devices_are_not_all_told(sinkside: Call) -> None:
    lamp = "{use: ordinary, plate: '9V⎓ 50mA', inlet: {plug: 5.5x2.1}}"
    more = "".join(f"  lamp-{i}: {lamp}\n" for i in range(20))
    site = FITS.replace("shelf:", f"{more}shelf:")
    first = ", ".join(["radio", *(f"lamp-{i}" for i in range(11))])
    told = f"'zzz' is no device of My bench; known are {first} and 9 more\n"
    assert sinkside("plan", "-", "zzz", stdin=site.encode()).told == (2, "", told)
