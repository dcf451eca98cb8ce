"""`papers`: a page is written whole or not at all, and never over what is no page."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from tests.cli.calls import FITS, Call, subprocessed

POSIX = pytest.mark.skipif(os.name != "posix", reason="limits, modes and links are POSIX's")


@pytest.fixture(autouse=True)
def in_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("site.yaml").write_text(FITS, encoding="utf-8")


@contextmanager
def size_limit(size: int) -> Iterator[None]:
    """No file may grow beyond a size: the nearest thing to a full disk."""
    resource = pytest.importorskip("resource")
    signal = pytest.importorskip("signal")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)


def test_a_page_that_cannot_be_written(sinkside: Call) -> None:
    Path("folder.pdf").mkdir()
    long = f"{'x' * 300}.pdf"
    for output, told in (
        ("folder.pdf", "folder.pdf: Is a directory; give another name, such as plan.pdf"),
        ("site.yaml/plan.pdf", "site.yaml/plan.pdf: Not a directory"),
        (long, f"{long}: File name too long"),
    ):
        assert sinkside("papers", "site.yaml", "-o", output).told == (2, "", f"{told}\n")
    assert Path("site.yaml").read_text(encoding="utf-8") == FITS


@POSIX
def test_a_page_on_a_full_disk(sinkside: Call) -> None:
    sinkside("papers", "site.yaml", "-o", "plan.pdf")
    whole = Path("plan.pdf").read_bytes()
    with size_limit(1000):
        done = sinkside("papers", "site.yaml", "-o", "plan.pdf")
    assert done.told == (2, "", "plan.pdf: File too large\n")
    assert whole.startswith(b"%PDF-")
    assert Path("plan.pdf").read_bytes() == whole
    assert sorted(f.name for f in Path().iterdir()) == ["plan.pdf", "site.yaml"]


def test_a_page_is_written_into_folders_that_are_made(sinkside: Call) -> None:
    done = sinkside("papers", "-", "-o", "a/b/plan.pdf", stdin=FITS.encode())
    assert done.told == (0, "wrote a/b/plan.pdf\n", "")
    assert Path("a/b/plan.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("output", "wrong"),
    [
        ("site.pdf", "site.pdf is the site file itself"),
        ("./here/../site.pdf", "./here/../site.pdf is the site file itself"),
        ("notes.pdf", "notes.pdf is there already and is no PDF"),
    ],
)
def test_nothing_but_a_page_is_written_over(sinkside: Call, output: str, wrong: str) -> None:
    Path("here").mkdir()
    Path("notes.pdf").write_text("mine", encoding="utf-8")
    Path("site.pdf").write_text(FITS, encoding="utf-8")
    told = f"{wrong}; give another name, such as plan.pdf\n"
    assert sinkside("papers", "site.pdf", "-o", output).told == (2, "", told)
    assert Path("site.pdf").read_text(encoding="utf-8") == FITS
    assert Path("notes.pdf").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("before", [b"", b"%PDF-1.4 an old page"])
def test_an_empty_file_or_an_old_page_is_replaced(sinkside: Call, before: bytes) -> None:
    Path("plan.pdf").write_bytes(before)
    assert sinkside("papers", "site.yaml", "-o", "plan.pdf").told == (0, "wrote plan.pdf\n", "")
    assert Path("plan.pdf").read_bytes().startswith(b"%PDF-")
    assert Path("plan.pdf").read_bytes() != before


@POSIX
def test_a_page_keeps_the_mode_and_the_links_of_the_old_one(sinkside: Call) -> None:
    Path("there").mkdir()
    Path("there/old.pdf").touch(mode=0o640)
    Path("plan.pdf").symlink_to("there/old.pdf")
    assert sinkside("papers", "site.yaml", "-o", "plan.pdf").status == 0
    assert Path("plan.pdf").is_symlink()
    assert Path("there/old.pdf").read_bytes().startswith(b"%PDF-")
    assert Path("there/old.pdf").stat().st_mode & 0o777 == 0o640


@POSIX
def test_a_link_that_leads_to_itself_is_told(sinkside: Call) -> None:
    Path("plan.pdf").symlink_to("plan.pdf")
    told = "plan.pdf: Too many levels of symbolic links\n"
    assert sinkside("papers", "site.yaml", "-o", "plan.pdf").told == (2, "", told)


def test_a_page_on_standard_output() -> None:
    done = subprocessed("papers", "-", "-o", "-", input=FITS.encode())
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.startswith(b"%PDF-")
    assert done.stdout.rstrip().endswith(b"%%EOF")
    assert not Path("-").exists()


@POSIX
def test_a_device_is_no_place_for_papers(sinkside: Call) -> None:
    told = (
        "/dev/null is there already and is no folder; give another name: one that ends in .pdf "
        "gets the overview alone\n"
    )
    assert sinkside("papers", "site.yaml", "-o", "/dev/null").told == (2, "", told)
    assert not Path("/dev/null").is_file()


@POSIX
@pytest.mark.parametrize("option", ["--date", "--revision"])
def test_bytes_on_the_line_that_are_no_text(option: str) -> None:
    done = subprocessed("papers", "site.yaml", "-o", "plan.pdf", option, os.fsdecode(b"7\xff"))
    told = f"Invalid value for '{option}': '7\\xff' is not UTF-8\n"
    assert (done.returncode, done.stdout, done.stderr) == (2, b"", told.encode())
    assert not Path("plan.pdf").exists()


def test_a_site_file_that_is_not_there_leaves_no_page(sinkside: Call) -> None:
    assert sinkside("papers", "gone.yaml", "-o", "a/plan.pdf").status == 2
    assert not Path("a").exists()
