"""Which of two paths is the better one, from the gravest difference to the slightest."""

import random

import pytest
from tests.paths import random_paths
from tests.paths import small_parts as small

from sinkside.paths.judge import Path, judge
from sinkside.paths.rank import UNKNOWN_PRICE_CENTS, Key, cents, keys
from sinkside.quantity import Basis, Quantity, unknown
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Appliance


def best(*paths: Path) -> int:
    """Which path is the best; each is judged alone, for a key is of the paths of one device."""
    found = [keys(judge([path]))[0] for path in paths]
    return min(range(len(found)), key=found.__getitem__)


def test_fields_go_from_the_gravest_to_the_slightest() -> None:
    names = Key._fields
    order = [
        "fails",
        "harm_unproven",
        "misbehaves_unproven",
        "irreversible",
        "risks",
        "cents",
        "id",
    ]
    assert [n for n in names if n in order] == order


def read(low: float, high: float) -> Quantity:
    """Not known, and more than a rule of thumb."""
    return unknown(low, high, "V", Basis.DATASHEET)


@pytest.mark.parametrize(
    ("better", "worse"),
    [
        # What fails comes last, however cheap.
        (small.device(harmed_above_v=(9.0, 20.0)), small.device(harmed_above_v=9.0)),
        # Harm that is open is worse than a brown-out that is open.
        (small.device(runs_from_v=(6.0, 9.0)), small.device(harmed_above_v=(9.0, 20.0))),
        (small.device(), small.device(runs_from_v=(6.0, 9.0))),
        # By what is read of it, one runs in most cases and the other in next to none.
        (small.device(runs_from_v=read(6.0, 8.6)), small.device(runs_from_v=read(8.5, 12.0))),
    ],
)
def test_the_graver_is_the_worse(better: Appliance, worse: Appliance) -> None:
    assert best(small.path(worse), small.path(better)) == 1


def test_a_fuse_is_never_left_out_to_save_its_price() -> None:
    fused = small.path(
        None, small.cable(0.1), small.trigger(), small.fuse(1.0, price_cents=10_000), small.lead()
    )
    assert best(small.path(None), fused) == 1


def test_a_button_that_stays_in_service_is_worse_than_a_strap() -> None:
    device = small.device(harmed_above_v=30.0)
    button = (small.cable(), small.trigger(presses_v=(9.0, 20.0)), small.lead())
    assert best(small.path(device, *button), small.path(device)) == 1


def test_money_counts_between_equals_and_what_is_owned_costs_nothing() -> None:
    dear, cheap, owned = (
        (small.cable(), small.trigger(price_cents=p, owned=o, name=n), small.lead())
        for p, o, n in ((900, 0, "dear"), (400, 0, "cheap"), (900, 1, "owned"))
    )
    paths = [small.path(None, *parts) for parts in (dear, cheap, owned)]
    assert [cents(p) for p in paths] == [1100, 600, 200]
    assert best(*paths) == 2
    assert best(*paths[:2]) == 1


def test_an_unknown_price_is_dear_and_not_nothing() -> None:
    path = small.path(None, small.cable(), small.trigger(price_cents=None), small.lead())
    assert cents(path) == 200 + UNKNOWN_PRICE_CENTS


def test_a_key_says_what_the_verdicts_say() -> None:
    draw = random.Random(8)
    judged = judge([random_paths.path(draw) for _ in range(60)])
    counting = (Stakes.HARM, Stakes.LOSS, Stakes.MISBEHAVES)
    worst = judged.worst(*counting)
    for i, key in enumerate(keys(judged)):
        assert key.fails is bool(worst[i] == Verdict.FAILS)
        open_ = key.harm_unproven > 0 or key.misbehaves_unproven
        if not key.fails:
            assert open_ is bool(worst[i] == Verdict.UNPROVEN)
        assert key.id == judged.paths[i].front.id


def test_the_order_does_not_hang_on_the_order_of_the_paths() -> None:
    draw = random.Random(9)
    paths = [random_paths.path(draw) for _ in range(30)]
    order = list(range(30))
    random.Random(1).shuffle(order)
    straight, mixed = keys(judge(paths)), keys(judge([paths[i] for i in order]))
    assert [straight[i] for i in order] == mixed
