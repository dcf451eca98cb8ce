"""What goes wrong in the trade and has no rule of its own: where it is met, or why it is not.

Keys are the rows of the trade's list of what goes wrong, as in `Rule.job`.
"""

NOT_JUDGED: dict[str, str] = {
    "4": "two resistors done wrong are found at the bench: expected ohms at each CC pin, and the "
    "matrix of leads and ways up to try, come from the standards room (`type_c_two_resistors`)",
    "6": "a lead from A to C gives 5 V and no contract: the search joins it to nothing that asks "
    "for more, and says so",
    "8": "each programmable range is an offer of its own: the search asks whether one of them has "
    "the volts in it, never whether a port has any",
    "14": "a reservoir that keeps VBUS up blocks the next attach: followed in time, in the outages "
    "room",
    "15": "how much capacitance bridges a gap: followed in time, in the outages room",
    "18": "a load step may lift or sag a contract by 0.5 V for some milliseconds (vSrcValid): old "
    "gear stands that beside its margin (common practice, no source)",
    "25": "hum is a nuisance: loops of returns and shields are told by the grounds room",
    "26": "hash near receivers is heard, not calculated: keep the linear brick, or the distance",
    "27": "touch current over joined gear belongs to the grounds room; never lift an earth",
    "32": "a lead that is plugged in live may ring to twice its volts: every sheet says barrel "
    "first, USB-C last; how far it rings is followed in time",
    "33": "back-feed through other leads is told by the grounds room",
    "35": "an inlet with more than two conductors is refused before any chain is built",
    "37": "one contract feeds one device: a part that hands it to two is refused",
    "37b": "a brick that charges cells, and a jack that leaves dry cells connected, are refused",
    "37c": "what is plugged but idle keeps its contract: every rule is judged in every set of "
    "ports in use",
    "38": "whether it is worth it is arithmetic on watts and prices, not a verdict",
}
