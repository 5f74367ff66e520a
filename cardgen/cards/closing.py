"""Turn a job into the last sheet of the packet: changes, what the numbers are, cautions, sign-off.

Nothing here claims that a job meets any code.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards.cautions import CAUTIONS
from cardgen.cards.facts import Printable
from cardgen.cards.model import Card, CardKind, FieldValue, Table

CALCULATED = (
    "Traced from the job file: which conductor serves what, through which joints, in which box.",
    "Ohms: direct current at 20 °C, of copper by its gauge and the legs of the job, and the coil.",
    "Volts and milliamperes: a coil that holds, with what always runs beside it.",
    "Lengths of cable: the runs of the job with slack; bands around readings: common practice.",
)
MEASURED = (
    "Only what was written on the test sheets and the spare list by hand. A blank is not measured.",
    "Distances and coordinates of boxes: as the job file says them, else blank.",
)
STANDS = (
    "These are records, not approvals: local codes and licensed practice decide.",
    "Keep one packet with the owner, one in the controller; after a change print a new revision.",
)
SIGNATURES = (
    *("installed: initials", "date", "tested: initials", "date"),
    *("taken over: initials", "date", "copy left at", "date"),
)


def closings(job: Printable) -> Iterator[Card]:
    fields: dict[str, FieldValue] = {
        "title": "CHANGES, NUMBERS, SIGN-OFF",
        "subtitle": job.info.site.value,
        "calculated": CALCULATED,
        "measured": MEASURED,
        "cautions": (*CAUTIONS[:-1], STANDS[0]),
        "exceptions": ("1", "2", "3"),
        "signatures": SIGNATURES,
        "stamp": job.stamp,
    }
    changes = tuple((str(c.revision), c.date, c.text.value) for c in job.job.changes)
    if changes:
        fields["changes"] = Table(columns=("revision", "date", "what"), rows=changes)
    name = "changes, numbers, sign-off"
    yield Card(kind=CardKind.CLOSING, id=name, place=job.info.place, fields=fields)
