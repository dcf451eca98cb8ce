"""Graphical symbols that stand on rating plates, by their numbers in IEC 60417."""

from collections.abc import Mapping

from sinkside.working import Source, Status

IEC_60417: Mapping[int, str] = {
    5017: "earth",
    5019: "protective earth",
    5031: "direct current",
    5032: "alternating current",
    5033: "direct and alternating current",
    5172: "class II equipment",
    5926: "polarity of a d.c. power connector",
    5957: "for indoor use only",
}
"""Meaning by number. On plates 5031 is set as ⎓ and 5032 as ∼."""

SOURCES: Mapping[str, Source] = {
    "IEC_60417": Source(
        document="IEC 60417, as given in equipment manuals", status=Status.SECONDARY
    ),
}
