"""Faults of notes that a job says are known."""

from __future__ import annotations

from cardgen.faults.fault import WARNING, Fault

_RAIN = """
sensors:
  RAIN: {kind: rain, controllers: A, contact: normally closed}
"""

KNOWN = Fault(
    code="known",
    verdict=WARNING,
    title="something is acknowledged that the check does not tell",
    sentence="nothing in the job gives the note '{text}'",
    way_out="{way_out}",
    variants={
        "not a note": (
            "'{code}' is {verdict}, not a note: it cannot be acknowledged",
            "put it right, and take it out of 'known'",
        ),
        "other owner": (
            "nothing in the job gives the note '{text}'",
            "after the code write whose it is: {names}",
        ),
        "several": (
            "there are {count} notes '{code}', and it is not said which is known",
            "after the code write whose it is: {names}",
        ),
    },
    why="What has changed since somebody looked at it must be looked at again.",
    fix="Take it out of 'known', or write the code and whose it is as the check tells them.",
    wrong="known: [sensor-in-common RAIN]\n" + _RAIN.lstrip(),
    right="known: [sensor-on-terminals RAIN]\n" + _RAIN.lstrip(),
)
