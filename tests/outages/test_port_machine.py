"""The machine of a source port: one table, every state in it, and nothing else allowed."""

import pytest

from sinkside.outages.port_machine import (
    GIVES_NOTHING,
    TRANSITIONS,
    Cause,
    IllegalEvent,
    PortState,
    after,
    follow,
)


def test_every_state_is_listed_and_leads_to_one_that_is() -> None:
    assert set(TRANSITIONS) == set(PortState)
    assert {later for row in TRANSITIONS.values() for later in row.values()} <= set(TRANSITIONS)


def test_every_cause_moves_something() -> None:
    assert {cause for row in TRANSITIONS.values() for cause in row} == set(Cause)


def test_every_state_can_be_come_to_and_left() -> None:
    reached = {PortState.DISABLED}
    while more := {n for s in reached for n in TRANSITIONS[s].values()} - reached:
        reached |= more
    assert reached == set(PortState)
    assert all(TRANSITIONS[s] for s in PortState)


def test_mains_go_from_everywhere_but_where_there_are_none() -> None:
    without = {s for s, row in TRANSITIONS.items() if Cause.MAINS_LOST not in row}
    assert without == {PortState.DISABLED}


def test_vbus_is_off_until_a_sink_is_attached() -> None:
    """USB Type-C: VBUS stays cold until Rd has been seen (secondary text)."""
    cold = {PortState.DISABLED, PortState.UNATTACHED, PortState.ATTACH_WAIT}
    assert cold <= GIVES_NOTHING
    assert PortState.ATTACHED not in GIVES_NOTHING


def test_an_illegal_event_lists_what_was_allowed() -> None:
    with pytest.raises(IllegalEvent) as caught:
        after(PortState.UNATTACHED, Cause.ACCEPT)
    assert str(caught.value) == (
        "Accept cannot happen in Unattached.SRC; there it can be: "
        "SRC.Rd, firmware restart, mains lost"
    )
    assert (caught.value.state, caught.value.cause) == (PortState.UNATTACHED, Cause.ACCEPT)


def test_a_trace_reads_like_the_standard() -> None:
    trace = follow(
        "C1",
        PortState.READY,
        [(0.0, Cause.RESET_RECEIVED), (0.03, Cause.HARD_RESET_TIMER), (1.2, Cause.SAFE_5V)],
    )
    assert [str(line) for line in trace] == [
        "   0.0000 s  C1  PE_SRC_Ready → PE_SRC_Hard_Reset_Received  (Hard Reset received)",
        "   0.0300 s  C1  PE_SRC_Hard_Reset_Received → PE_SRC_Transition_to_default  "
        "(tPSHardReset)",
        "   1.2000 s  C1  PE_SRC_Transition_to_default → PE_SRC_Startup  (vSafe5V)",
    ]


def test_a_trace_stops_at_what_cannot_be() -> None:
    with pytest.raises(IllegalEvent, match=r"^PS_RDY cannot happen in PE_SRC_Ready; there"):
        follow("C1", PortState.READY, [(0.0, Cause.READY)])
