"""What can be bought to keep plugs apart: everything is priced, and nothing is half a pair."""

from sinkside.mixups.connectors import connectors
from sinkside.mixups.mating import barrel, fit
from sinkside.mixups.replug import Supplies, prices_of
from sinkside.parts import market
from sinkside.standards.barrel import SOLD_SIZES, Fit

ALL = connectors()
SUPPLIES = Supplies.of(market.parts(), ALL, solder=True)


def test_everything_is_priced_and_carries_current() -> None:
    for one in (*ALL.sockets, *ALL.plugs, *ALL.adapters):
        assert (one.price_cents or 0) > 0
        assert one.carries_a > 0
        assert one.words
    assert min(ALL.tie.price_cents or 0, ALL.bag.price_cents or 0) > 0
    assert len(prices_of(SUPPLIES)) == len({p.id for p in market.parts()}) + sum(
        map(len, (ALL.sockets, ALL.plugs, ALL.adapters))
    ) + len((ALL.tie, ALL.bag))


def test_every_socket_has_a_plug_that_can_be_had() -> None:
    for socket in ALL.sockets:
        soldered = {p.plug for p in ALL.plugs} | set(SUPPLIES.plugs)
        assert socket.socket in soldered


def test_a_keyed_pair_mates_with_its_like_and_with_nothing_that_is_sold() -> None:
    barrels = [f"{size.outer_mm:g}x{size.inner_mm:g}" for size in SOLD_SIZES]
    for keyed in ALL.keyed:
        assert barrel(keyed) is None
        for other in (*barrels, *ALL.keyed, "micro-usb", "other"):
            goes = fit(keyed, other) is not Fit.DOES_NOT_GO_ON
            assert goes == (keyed == other)


def test_an_adapter_changes_the_size() -> None:
    for adapter in ALL.adapters:
        assert adapter.socket != adapter.plug
        assert barrel(adapter.socket)
        assert barrel(adapter.plug)
