"""One wrong thing, and all wrong things, as people read them."""

import pytest

from sinkside.faults import Fault, Faulty, NotUnderstood, Place

HERE = Place(file="site.yaml", line=3, column=7)


def test_a_place() -> None:
    assert str(HERE) == "site.yaml:3:7"
    assert Place(file="a", line=2, column=9) < Place(file="a", line=10, column=1)


@pytest.mark.parametrize(
    ("fault", "told"),
    [
        (Fault(code="x", wrong="it is wrong"), "it is wrong"),
        (Fault(code="x", wrong="it is wrong", right="do this"), "it is wrong; do this"),
        (Fault(code="x", wrong="it is wrong", place=HERE), "site.yaml:3:7: it is wrong"),
        (
            Fault(code="x", wrong="it is wrong", right="do this", place=HERE),
            "site.yaml:3:7: it is wrong; do this",
        ),
    ],
)
def test_a_fault(fault: Fault, told: str) -> None:
    assert str(fault) == told


def test_a_fault_gets_a_place() -> None:
    error = NotUnderstood("'x' is no plug", "like 5.5x2.1", code="plug")
    assert str(error) == "'x' is no plug; like 5.5x2.1"
    placed = error.fault.at(HERE)
    assert str(placed) == "site.yaml:3:7: 'x' is no plug; like 5.5x2.1"
    assert (placed.code, error.fault.place) == ("plug", None)


def test_not_understood_is_a_value_error() -> None:
    assert isinstance(NotUnderstood("x"), ValueError)
    assert str(NotUnderstood("x")) == "x"
    assert NotUnderstood("x").fault.code == "not-understood"


def test_all_faults_in_the_order_of_their_places() -> None:
    def at(line: int, column: int) -> Fault:
        place = Place(file="f", line=line, column=column)
        return Fault(code="x", wrong=f"{line}/{column}", place=place)

    error = Faulty([at(10, 1), at(2, 9), at(2, 10), at(2, 1)])
    assert str(error) == "f:2:1: 2/1\nf:2:9: 2/9\nf:2:10: 2/10\nf:10:1: 10/1"
    assert [f.wrong for f in error.faults] == ["2/1", "2/9", "2/10", "10/1"]


def test_a_fault_without_a_place_comes_first() -> None:
    error = Faulty([Fault(code="x", wrong="there", place=HERE), Fault(code="x", wrong="anywhere")])
    assert str(error) == "anywhere\nsite.yaml:3:7: there"
