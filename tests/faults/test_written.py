"""Models of what a person writes: every broken one is told at its place, with the nearest word."""

from typing import Annotated, Any, Literal

import pytest
from pydantic import BeforeValidator, Field

from sinkside.faults import Faulty, NotUnderstood
from sinkside.faults.marked_yaml import load
from sinkside.faults.written import Named, Written, nearest, read


def _even(value: Any) -> Any:
    if not (isinstance(value, str) and value.isdecimal() and int(value) % 2 == 0):
        raise NotUnderstood(f"{value!r} is not even", "write 2", code="odd")
    return int(value)


Even = Annotated[int, BeforeValidator(_even)]


class Leaf(Written):
    colour: Literal["red", "dark green", "blue"] = "red"
    size: Even = 0


class Lead(Written):
    id: str
    is_: Literal["lead"] = Field(alias="is")
    length: Even


class Fuse(Written):
    id: str
    is_: Literal["fuse"] = Field(alias="is")
    rating: Even
    leaf: Leaf = Leaf()


class Branch(Written):
    id: str
    name: str
    leaf: Leaf = Leaf()
    leaves: tuple[Leaf, ...] = ()


class Tree(Written):
    title: str
    from_: str = Field(alias="from", default="")
    branches: Named[Branch] = ()
    parts: Named[Annotated[Lead | Fuse, Field(discriminator="is_")]] = ()


def tree(text: str) -> Tree:
    return read(Tree, load(text, "t"))


def told(text: str) -> list[str]:
    with pytest.raises(Faulty) as error:
        tree(text)
    return str(error.value).split("\n")


def codes(text: str) -> list[str]:
    with pytest.raises(Faulty) as error:
        tree(text)
    return [fault.code for fault in error.value.faults]


def test_what_is_right_is_read() -> None:
    found = tree(
        "title: 010\nfrom: here\nbranches: {a: {name: x, leaf: {size: 4}}, b: {name: y}}\n"
        "parts: {p: {is: fuse, rating: 2}, q: {is: lead, length: 4}}"
    )
    assert (found.title, found.from_) == ("010", "here")
    assert [(b.id, b.name, b.leaf.size) for b in found.branches] == [("a", "x", 4), ("b", "y", 0)]
    assert [(type(p).__name__, p.id) for p in found.parts] == [("Fuse", "p"), ("Lead", "q")]


@pytest.mark.parametrize(
    ("text", "fault", "code"),
    [
        (
            "{}",
            "t:1:1: 'title' is missing; add it",
            "missing-key",
        ),
        (
            "[a]",
            "t:1:1: 'the file' holds \"['a']\"; a mapping {key: value, …} is wanted here",
            "not-a-mapping",
        ),
        (
            "---\n",
            "t:2:1: 'the file' holds 'None'; a mapping {key: value, …} is wanted here",
            "not-a-mapping",
        ),
        (
            "title: [a]",
            "t:1:8: 'title' holds \"['a']\"; plain text is wanted here",
            "not-text",
        ),
        (
            "title:",
            "t:1:7: 'title' holds 'None'; plain text is wanted here",
            "not-text",
        ),
        (
            "title: x\ntitel: y",
            "t:2:1: unknown key 'titel'; did you mean 'title'?",
            "unknown-key",
        ),
        (
            "title: x\nfrom_: y",
            "t:2:1: unknown key 'from_'; did you mean 'from'?",
            "unknown-key",
        ),
        (
            "title: x\nqqq: y",
            "t:2:1: unknown key 'qqq'; known are title, from, branches, parts",
            "unknown-key",
        ),
        (
            "title: x\nbranches: [a]",
            "t:2:11: a mapping of names is wanted here; write name: {key: value, …}",
            "not-understood",
        ),
        (
            "title: x\nbranches: {a: x}",
            "t:2:15: 'a' holds 'x'; a mapping {key: value, …} is wanted here",
            "not-a-mapping",
        ),
        (
            "title: x\nbranches: {a: }",
            "t:2:12: 'name' is missing in 'a'; add it",
            "missing-key",
        ),
        (
            "title: x\nbranches:\n  a: {name: x, leaf: {colour: reed}}",
            "t:3:31: 'reed' is not known for 'colour'; did you mean 'red'?",
            "unknown-word",
        ),
        (
            "title: x\nbranches:\n  a: {name: x, leaf: {colour: mauve}}",
            "t:3:31: 'mauve' is not known for 'colour'; known are red, dark green, blue",
            "unknown-word",
        ),
        (
            "title: x\nbranches:\n  a: {name: x, leaf: {size: 3}}",
            "t:3:29: '3' is not even; write 2",
            "odd",
        ),
        (
            "title: x\nbranches:\n  a: {name: x, leaves: [{size: 2}, {size: 5}]}",
            "t:3:43: '5' is not even; write 2",
            "odd",
        ),
        (
            "title: x\nbranches:\n  a: {name: x, leaves: {size: 2}}",
            "t:3:24: 'leaves' holds \"{'size': '2'}\"; a list [a, b, …] is wanted here",
            "not-a-list",
        ),
        (
            "title: x\nparts: {p: {rating: 2}}",
            "t:2:12: 'is' is missing in 'p'; add is: lead, say",
            "missing-key",
        ),
        (
            "title: x\nparts: {p: {is: fuze, rating: 2}}",
            "t:2:12: 'fuze' is no kind of part; did you mean 'fuse'?",
            "unknown-word",
        ),
        (
            "title: x\nparts: {p: {is: [a]}}",
            "t:2:12: \"['a']\" is no kind of part; known are lead, fuse",
            "unknown-word",
        ),
        (
            "title: x\nparts: {p: {is: fuse, rating: 2, length: 2}}",
            "t:2:34: unknown key 'length'; known are is, rating, leaf",
            "unknown-key",
        ),
        (
            "title: x\nparts: {p: {is: fuse}}",
            "t:2:9: 'rating' is missing in 'p'; add it",
            "missing-key",
        ),
    ],
)
def test_one_fault(text: str, fault: str, code: str) -> None:
    assert told(text) == [fault]
    assert codes(text) == [code]


def test_all_faults_at_once_on_one_floor() -> None:
    assert told("titel: x\nfrom: [a]\nbranches: {a: {name: [x]}, b: }\nparts: {p: {is: fuze}}") == [
        "t:1:1: unknown key 'titel'; did you mean 'title'?",
        "t:1:1: 'title' is missing; add it",
        "t:2:7: 'from' holds \"['a']\"; plain text is wanted here",
        "t:3:22: 'name' holds \"['x']\"; plain text is wanted here",
        "t:3:28: 'name' is missing in 'b'; add it",
        "t:4:12: 'fuze' is no kind of part; did you mean 'fuse'?",
    ]


def test_all_faults_at_once_with_unknown_keys_on_every_floor() -> None:
    assert told(
        "titel: x\nbranches:\n  a: {nam: x, leaf: {colur: red, colour: reed, size: 3}}\n"
        "parts:\n  p: {is: fuse, leaf: {siz: 2}, ratings: 2}"
    ) == [
        "t:1:1: unknown key 'titel'; did you mean 'title'?",
        "t:1:1: 'title' is missing; add it",
        "t:3:3: 'name' is missing in 'a'; add it",
        "t:3:7: unknown key 'nam'; did you mean 'name'?",
        "t:3:22: unknown key 'colur'; did you mean 'colour'?",
        "t:3:42: 'reed' is not known for 'colour'; did you mean 'red'?",
        "t:3:54: '3' is not even; write 2",
        "t:5:3: 'rating' is missing in 'p'; add it",
        "t:5:24: unknown key 'siz'; did you mean 'size'?",
        "t:5:33: unknown key 'ratings'; did you mean 'rating'?",
    ]


def test_an_unknown_key_may_be_named_like_a_kind() -> None:
    assert told("title: x\nparts: {p: {is: fuse, fuse: 1, rating: 3}}") == [
        "t:2:23: unknown key 'fuse'; known are is, rating, leaf",
        "t:2:40: '3' is not even; write 2",
    ]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("title: x\nid: y", "t:2:1: unknown key 'id'; known are title, from, branches, parts"),
        (
            "title: x\nbranches: {a: {name: x, leaf: {id: 3}}}",
            "t:2:32: unknown key 'id'; known are colour, size",
        ),
        (
            "title: x\nbranches: {a: {name: x, id: b}}",
            "t:2:25: unknown key 'id'; known are name, leaf, leaves",
        ),
    ],
)
def test_nobody_writes_an_id(text: str, fault: str) -> None:
    # The name of an entry is its id; a key of that name would be dropped without a word.
    assert told(text) == [fault]


def test_nearest() -> None:
    assert nearest("plgu", ["plug", "plate"]) == "did you mean 'plug'?"
    assert nearest("zzz", ["plug", "plate"]) == "known are plug, plate"
    assert nearest("", ["plug"]) == "known are plug"


def test_long_values_are_cut_short() -> None:
    assert told("title: [" + "x" * 500 + "]") == [
        "t:1:8: 'title' holds \"['" + "x" * 58 + '"; plain text is wanted here'
    ]


def test_python_names_do_not_show() -> None:
    # `{'id': …}` is the program's own; nobody wrote it.
    assert "'id'" not in told("title: x\nparts: {p: {is: {a: b}}}")[0]
