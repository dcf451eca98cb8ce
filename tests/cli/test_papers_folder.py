"""`papers` into a folder: all of it or nothing, and never over what somebody else wrote."""

import hashlib
import json
import os
import re
from pathlib import Path

import jsonschema
import pymupdf
import pytest
from tests.cli.calls import FITS, Call, fault, subprocessed

from sinkside.cli.paper_folder import SCHEMA

MADE = {
    *("cards.pdf", "dossier.pdf", "index.html", "labels.pdf", "parts.csv", "parts.md"),
    *("workings.html", "workings.pdf", "sheets/radio.pdf"),
    *(f"labels/radio.{on}.svg" for on in ("lead", "plug", "port", "device")),
}
ASIDE = "move it away, or give another folder"


@pytest.fixture(autouse=True)
def in_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("site.yaml").write_text(FITS, encoding="utf-8")


def there(folder: str) -> dict[str, bytes]:
    root = Path(folder)
    return {f.relative_to(root).as_posix(): f.read_bytes() for f in root.rglob("*") if f.is_file()}


def test_a_folder_is_made_with_all_papers_in_it(sinkside: Call) -> None:
    done = sinkside("papers", "site.yaml", "-o", "a/out", "--date", "3 May 2031")
    assert (done.status, done.err) == (0, "")
    found = there("a/out")
    assert set(found) == {*MADE, "written.json"}
    first, *rest = done.out.splitlines()
    assert re.fullmatch(r"a/out: 13 files, \d+ kB", first)
    kinds = [line.split(":")[0].strip() for line in rest]
    assert kinds == [
        *("dossier", "build sheet", "labels", "label", "cards", "workings", "web page"),
        "parts list",
    ]
    assert found["parts.csv"].decode().splitlines()[0].split(",")[0] == '"part"'
    assert b"3 May 2031" in found["index.html"]


def test_one_document_tells_the_files(sinkside: Call) -> None:
    done = sinkside("papers", "site.yaml", "-o", "out", "--json")
    assert (done.status, done.err) == (0, "")
    jsonschema.validate(done.document, SCHEMA)
    found = there("out")
    told = {f["file"]: f["bytes"] for f in done.document["files"]}
    assert told == {name: len(raw) for name, raw in found.items() if name != "written.json"}
    assert done.document["removed"] == []


def test_a_page_alone_is_told_in_the_same_shape(sinkside: Call) -> None:
    done = sinkside("papers", "site.yaml", "-o", "plan.PDF", "--json")
    jsonschema.validate(done.document, SCHEMA)
    size = Path("plan.PDF").stat().st_size
    (file,) = done.document["files"]
    assert (file["file"], file["kind"], file["bytes"]) == ("plan.PDF", "overview", size)


def test_the_same_call_gives_the_same_bytes_in_every_process() -> None:
    for seed in ("1", "2"):
        done = subprocessed("papers", "site.yaml", "-o", f"out{seed}", env={"PYTHONHASHSEED": seed})
        assert (done.returncode, done.stderr) == (0, b"")
    found = there("out1")
    assert set(found) == {*MADE, "written.json"}
    assert there("out2") == found


def test_papers_are_written_over_as_long_as_nobody_changed_them(sinkside: Call) -> None:
    sinkside("papers", "site.yaml", "-o", "out", "--date", "3 May 2031")
    before = there("out")
    Path("out/sheets/radio.pdf").unlink()
    assert sinkside("papers", "site.yaml", "-o", "out", "--date", "4 May 2031").status == 0
    after = there("out")
    assert set(after) == set(before)
    assert after["index.html"] != before["index.html"]


def test_what_somebody_changed_is_not_written_over(sinkside: Call) -> None:
    sinkside("papers", "site.yaml", "-o", "out", "--date", "3 May 2031")
    Path("out/parts.csv").write_text("bought on Friday", encoding="utf-8")
    before = there("out")
    done = sinkside("papers", "site.yaml", "-o", "out", "--date", "4 May 2031")
    wrong = "out/parts.csv is there already and is not as it was written here"
    assert done.told == (2, "", f"{wrong}; {ASIDE}\n")
    assert there("out") == before


def test_what_somebody_else_wrote_is_not_written_over(sinkside: Call) -> None:
    Path("out").mkdir()
    Path("out/index.html").write_text("mine", encoding="utf-8")
    Path("out/dossier.pdf").mkdir()
    done = sinkside("papers", "site.yaml", "-o", "out", "--json")
    assert done.status == 2
    assert done.document == {
        "faults": [
            fault("not-written", "out/dossier.pdf is there already and is no file", ASIDE),
            fault(
                "not-written",
                "out/index.html is there already and is not as it was written here",
                ASIDE,
            ),
        ]
    }
    assert there("out") == {"index.html": b"mine"}


def test_other_files_in_the_folder_stay(sinkside: Call) -> None:
    Path("out").mkdir()
    Path("out/notes.txt").write_text("mine", encoding="utf-8")
    assert sinkside("papers", "site.yaml", "-o", "out").status == 0
    assert Path("out/notes.txt").read_text(encoding="utf-8") == "mine"


def test_a_sheet_of_an_earlier_plan_goes_unless_it_was_changed(sinkside: Call) -> None:
    sinkside("papers", "site.yaml", "-o", "out")
    Path("out/labels/radio.port.svg").write_text("mine", encoding="utf-8")
    Path("site.yaml").write_text(FITS.replace("radio:", "wireless:"), encoding="utf-8")
    done = sinkside("papers", "site.yaml", "-o", "out")
    assert done.status == 0
    assert "  removed sheets/radio.pdf: it is not in this plan" in done.out.splitlines()
    left = "  labels/radio.port.svg is not in this plan, but was changed: left as it is"
    assert left in done.out.splitlines()
    found = there("out")
    assert "sheets/wireless.pdf" in found
    assert [name for name in found if "radio" in name] == ["labels/radio.port.svg"]


@pytest.mark.parametrize(
    "listed", ["", "[]", "{}", '{"made by": "x", "files": {}}', '{"made by": "sinkside papers"}']
)
def test_a_list_that_is_none_of_ours_is_left_alone(sinkside: Call, listed: str) -> None:
    Path("out").mkdir()
    Path("out/written.json").write_text(listed, encoding="utf-8")
    wrong = "out/written.json is there already and is no list of papers"
    assert sinkside("papers", "site.yaml", "-o", "out").told == (2, "", f"{wrong}; {ASIDE}\n")
    assert there("out") == {"written.json": listed.encode()}


def test_a_list_leads_to_nothing_outside_the_folder(sinkside: Call) -> None:
    Path("out").mkdir()
    Path("precious.pdf").write_text("mine", encoding="utf-8")
    digest = hashlib.sha256(b"mine").hexdigest()
    names = ("../precious.pdf", str(Path("precious.pdf").resolve()), "sheets/../../precious.pdf")
    told = {"made by": "sinkside papers", "files": {name: [digest] for name in names}}
    Path("out/written.json").write_text(json.dumps(told), encoding="utf-8")
    assert sinkside("papers", "site.yaml", "-o", "out").status == 0
    assert Path("precious.pdf").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ("-o", "out", "--paper", "a3"),
            "Invalid value for '--paper': 'a3' is not one of 'a4', 'letter'.",
        ),
        (
            ("-o", "out", "--labels", "many"),
            "--labels 'many' is no such thing; across x down, such as 3x8",
        ),
        (("-o", "out", "--labels", "0x8"), "--labels '0x8' leaves no label; give 1x1 or more"),
        (
            ("-o", "out", "--labels", "30x80"),
            "a label of 7 mm × 3.712 mm is too small to be read; 30 mm × 15 mm or more, of 210 mm "
            "× 297 mm",
        ),
        (
            ("-o", "out", "--label-margins", "10"),
            "--label-margins '10' is no such thing; mm above and below x left and right, such as "
            "12.9x7.2",
        ),
        (
            ("-o", "-", "--json"),
            "--json and a page cannot both be on standard output; name a folder",
        ),
        (
            ("-o", "plan.pdf", "--labels", "2x5"),
            "the overview alone has no labels; name a folder, such as papers",
        ),
        (
            ("-o", "site.yaml"),
            "site.yaml is there already and is no folder; give another name: one that ends in "
            ".pdf gets the overview alone",
        ),
    ],
)
def test_calls_that_are_wrong(sinkside: Call, words: tuple[str, ...], told: str) -> None:
    done = sinkside("papers", "site.yaml", *words)
    assert done.status == 2
    faults = done.document["faults"] if "--json" in words else None
    if faults is None:
        assert done.err.rstrip("\n").removesuffix(".") == told.removesuffix(".")
    else:
        assert f"{faults[0]['wrong']}; {faults[0]['right']}" == told
    assert [f.name for f in Path().iterdir()] == ["site.yaml"]


def test_letter_paper_and_a_grid_of_labels(sinkside: Call) -> None:
    done = sinkside(
        *("papers", "site.yaml", "-o", "out", "--paper", "letter"),
        *("--labels", "2x7", "--label-margins", "21×4"),
    )
    assert done.status == 0
    for name in ("dossier.pdf", "labels.pdf", "sheets/radio.pdf", "cards.pdf", "workings.pdf"):
        page = pymupdf.open(f"out/{name}")[0]
        # ANSI Y14.1, size A: 8.5 in × 11 in.
        assert (page.rect.width, page.rect.height) == pytest.approx((612.0, 792.0), abs=0.1)


def test_the_overview_on_letter_paper(sinkside: Call) -> None:
    assert sinkside("papers", "site.yaml", "-o", "plan.pdf", "--paper", "letter").status == 0
    page = pymupdf.open("plan.pdf")[0]
    assert (page.rect.width, page.rect.height) == pytest.approx((612.0, 792.0), abs=0.1)


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_written(sinkside: Call) -> None:
    Path("out").mkdir(mode=0o555)
    done = sinkside("papers", "site.yaml", "-o", "out")
    assert done.told == (2, "", "out/written.json: Permission denied\n")
