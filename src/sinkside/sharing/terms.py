"""The terms of a sharing that can be dropped one by one, to see which of them bind.

A term is a group of constraints that a person would name in one breath: the budget, a part on
the shelf, two grounds, what one device asks for. What cannot be dropped, such as what a chain
needs at its port, is no term.
"""

from collections.abc import Set
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Literal, TypeAlias

from sinkside.sharing.money import money
from sinkside.sharing.question import Company, Kind, Option, Question

# How many chargers of a kind are added where there may be as many as one likes.
PLENTY = 6

What: TypeAlias = Literal[
    "stays", "chargers", "budget", "stock", "grounds", "earth", "blink", "spare ports", "table"
]


@dataclass(frozen=True, kw_only=True, order=True)
class Term:
    """One term.

    Parameters
    ----------
    what
        `stays`: a device that has a seat keeps one. `chargers`: how many of a kind there are.
        `budget`. `stock`: how many of a part are owned. `grounds`: two that must not share a
        negative. `earth`: chargers with earthed negatives are one negative. `blink`: a device
        must not be put out. `spare ports`: they may be used. `table`: a device's chains hold
        beside as many ports in use as they were judged for.
    names
        Whom or what it speaks of.
    """

    what: What
    names: tuple[str, ...] = ()


def terms_of(question: Question, stays: Set[str]) -> tuple[Term, ...]:
    """Every term of a question, those that people want to hear of last at the beginning.

    Parameters
    ----------
    stays
        The devices that are to keep a seat.
    """
    devices = sorted({o.device for o in question.options})
    found = [Term(what="table", names=(d,)) for d in devices if _tabled(question, d)]
    if any(len(k.ports) > 1 and not k.spare_ports_blocked for k in question.kinds):
        found.append(Term(what="spare ports"))
    certain = [f for f in question.forbidden if f.certain]
    if certain and sum(k.count for k in question.kinds if k.id in question.earthed) > 1:
        found.append(Term(what="earth"))
    if question.budget is not None:
        used = sorted({part for o in question.options for part in o.parts})
        found += [Term(what="stock", names=(part,)) for part in used]
        found.append(Term(what="budget"))
    shaken = sorted({device for (device, _), code in question.blinks.items() if code == 3})
    found += [Term(what="blink", names=(d,)) for d in shaken if d in devices]
    found += [Term(what="grounds", names=(f.a, f.b)) for f in certain]
    found += [Term(what="chargers", names=(k.id,)) for k in question.kinds]
    return (*found, *(Term(what="stays", names=(d,)) for d in sorted(stays)))


def _tabled(question: Question, device: str) -> bool:
    """Whether some chain of a device is there for some company and not for a larger one."""
    kinds = {k.id: k for k in question.kinds if k.spare_ports_blocked and len(k.ports) > 1}
    seen: dict[tuple[str, str], set[Company]] = {}
    for o in question.options:
        if o.device == device and o.kind in kinds:
            seen.setdefault((o.kind, o.port), set()).add(o.company)
    return any(len(found) < 2 ** (len(kinds[kind].ports) - 1) for (kind, _), found in seen.items())


def without(question: Question, dropped: Set[Term]) -> Question:
    """The question without some of its terms; `stays` is for whoever asks to heed."""
    names: dict[What, set[tuple[str, ...]]] = {}
    for term in dropped:
        names.setdefault(term.what, set()).add(term.names)
    kinds, options = question.kinds, question.options
    if "spare ports" in names:
        kinds = tuple(replace(k, spare_ports_blocked=True) for k in kinds)
        widened = {k.id: k for k in question.kinds if not k.spare_ports_blocked}
        options = tuple(o for one in options for o in _in_less(one, widened))
    if "table" in names:
        devices = {name for (name,) in names["table"]}
        tabled = {k.id: k for k in question.kinds if k.spare_ports_blocked}
        options = tuple(
            o
            for one in options
            for o in (
                _in_more(one, tabled[one.kind])
                if one.device in devices and one.kind in tabled
                else (one,)
            )
        )
    if "chargers" in names:
        kinds = tuple(
            replace(k, count=k.count + PLENTY) if (k.id,) in names["chargers"] else k for k in kinds
        )
    needed = sum(len(o.parts) for o in options)
    return replace(
        question,
        kinds=kinds,
        options=options,
        budget=None if "budget" in names else question.budget,
        stock={
            **question.stock,
            **{part: needed for (part,) in names.get("stock", ())},
        },
        forbidden=tuple(
            f for f in question.forbidden if (f.a, f.b) not in names.get("grounds", ())
        ),
        earthed=frozenset() if "earth" in names else question.earthed,
        blinks={
            (device, kind): 0 if code == 3 and (device,) in names.get("blink", ()) else code
            for (device, kind), code in question.blinks.items()
        },
    )


def _in_less(option: Option, widened: dict[str, Kind]) -> tuple[Option, ...]:
    """What holds with all ports in use holds with fewer in use as well."""
    if option.kind not in widened:
        return (option,)
    others = sorted(option.company - {option.port})
    return tuple(
        replace(option, id=f"{option.id}, beside {size}.{n}", company=frozenset((option.port, *m)))
        for size in range(len(others) + 1)
        for n, m in enumerate(combinations(others, size))
    )


def _in_more(option: Option, kind: Kind) -> tuple[Option, ...]:
    """A chain as if its port offered as much beside more neighbours."""
    others = sorted(set(kind.ports) - option.company)
    return tuple(
        replace(option, id=f"{option.id}, and {size}.{n}", company=option.company | set(more))
        for size in range(len(others) + 1)
        for n, more in enumerate(combinations(others, size))
    )


def term_words(term: Term, question: Question, currency: str) -> str:
    """A term in words, as a reason why something cannot be."""
    match term.what:
        case "stays":
            return f"{term.names[0]} keeps a port"
        case "chargers":
            kind = next(k for k in question.kinds if k.id == term.names[0])
            ports = f"{len(kind.ports)} port" + ("s" if len(kind.ports) > 1 else "")
            return f"there is no more than {kind.count} × {kind.id}, with {ports}"
        case "budget":
            return f"no more than {money(question.budget or 0, currency)} may be spent"
        case "stock":
            part = term.names[0]
            price = money(question.prices.get(part, 0), currency)
            return f"{question.stock.get(part, 0)} × {part} are owned, and one more costs {price}"
        case "grounds":
            return "the grounds of {} and {} must not meet on one charger".format(*term.names)
        case "earth":
            kinds = ", ".join(sorted(question.earthed))
            return f"the negatives of {kinds} are tied to earth, and so to each other"
        case "blink":
            return f"{term.names[0]} must not be put out by a neighbour"
        case "spare ports":
            return "a spare port may be used at any time"
        case _:
            return f"the chains of {term.names[0]} do not hold beside every neighbour"
