"""What can be bought to keep plugs apart."""

from dataclasses import dataclass
from functools import cache
from importlib import resources

from pydantic import Field

from sinkside.faults import marked_yaml
from sinkside.faults.written import Named, Written, read
from sinkside.parts.fields import Cents, FigureAmps, Plug

_FILE = "connectors.yaml"


@dataclass(frozen=True, kw_only=True)
class Connector:
    """One thing that can be bought.

    Parameters
    ----------
    socket, plug
        What it takes and what it ends in; empty where it has bare ends.
    carries_a
        None of what carries no current.
    """

    id: str
    socket: str = ""
    plug: str = ""
    carries_a: float = 0.0
    price_cents: int | None
    words: str


@dataclass(frozen=True, kw_only=True)
class Connectors:
    """Everything that can be bought for it.

    Parameters
    ----------
    sockets, plugs
        To be soldered; of the pairs that mate with nothing else, both halves.
    adapters
        Ready made, straight through.
    keyed
        The names of those pairs.
    tie, bag
        What fixes a lead to its device, and what shuts a stored brick away.
    """

    sockets: tuple[Connector, ...]
    plugs: tuple[Connector, ...]
    adapters: tuple[Connector, ...]
    keyed: frozenset[str]
    tie: Connector
    bag: Connector


class _SocketWritten(Written):
    id: str
    plug: Plug
    carries: FigureAmps
    price: Cents
    words: str


class _PairWritten(Written):
    id: str
    plug_price: Cents
    socket_price: Cents
    carries: FigureAmps
    words: str


class _AdapterWritten(Written):
    id: str
    socket: Plug
    plug: Plug
    carries: FigureAmps
    price: Cents
    words: str


class _TieWritten(Written):
    id: str
    price: Cents
    words: str


class _FileWritten(Written):
    sockets: Named[_SocketWritten]
    pairs: Named[_PairWritten]
    adapters: Named[_AdapterWritten]
    ties: Named[_TieWritten] = Field(min_length=2)


@cache
def connectors() -> Connectors:
    """Those that come with the program."""
    text = resources.files("sinkside.mixups").joinpath(_FILE).read_text(encoding="utf-8")
    written = read(_FileWritten, marked_yaml.load(text, _FILE))
    sockets = [
        Connector(
            id=s.id,
            socket=s.plug,
            carries_a=s.carries.low,
            price_cents=s.price,
            words=s.words,
        )
        for s in written.sockets
    ]
    sockets += [
        Connector(
            id=f"{p.id}-socket",
            socket=p.id,
            carries_a=p.carries.low,
            price_cents=p.socket_price,
            words=f"socket of a {p.words}",
        )
        for p in written.pairs
    ]
    plugs = [
        Connector(
            id=f"{p.id}-plug",
            plug=p.id,
            carries_a=p.carries.low,
            price_cents=p.plug_price,
            words=f"plug of a {p.words}",
        )
        for p in written.pairs
    ]
    adapters = [
        Connector(
            id=a.id,
            socket=a.socket,
            plug=a.plug,
            carries_a=a.carries.low,
            price_cents=a.price,
            words=a.words,
        )
        for a in written.adapters
    ]
    ties = {t.id: Connector(id=t.id, price_cents=t.price, words=t.words) for t in written.ties}
    return Connectors(
        sockets=tuple(sockets),
        plugs=tuple(plugs),
        adapters=tuple(adapters),
        keyed=frozenset(p.id for p in written.pairs),
        tie=ties["tie"],
        bag=ties["bag"],
    )
