"""The least height of letters, from a named rule and the distance from which a card is read.

```
eye |<---------- distance ---------->| H     height = share of the rule x distance
```
"""

from __future__ import annotations

import re

from cardgen.cards.card import CardKind
from cardgen.layout.face import Face, FaceBlock, Rule
from cardgen.layout.geometry import Mm
from cardgen.light_dataclass import replace
from cardgen.units import Meters

# NUREG-0700, the height of letters as a share of the distance: 15 minutes of arc are taken as
# 0.004 and 20, the preferred, as 0.006, which is 0.0058 (their tangent) before it is rounded.
LEAST = 0.004
SHARES = {
    "NUREG-0700 minimum of 15 minutes of arc": LEAST,
    "NUREG-0700 preferred 20 minutes of arc": 0.0058,
}
# What hangs in a box.  Flags and splice cards are taken to the eye, a legend hangs in its door.
TAGS = (CardKind.VALVE_TAG, CardKind.BOX_TAG)
NEAREST, FARTHEST = Meters(0.25), Meters(3.0)  # to read a tag in a box (assumed)


def rule_of(words: str) -> Rule:
    """`NUREG-0700 minimum of 15 minutes of arc at 0.5 m`; other words ask for no height."""
    found = re.search(r"at (\d+(?:\.\d+)?) m\b", words)
    meters = Meters(float(found[1])) if found else Meters(0)
    name = words[: found.start()].strip() if found else ""
    return Rule(words=words, share=SHARES.get(name, 0.0), meters=meters)


def asked(rule: Rule) -> Mm:
    """The least height that the rule asks for; 0 where it asks for none."""
    return Mm(1000 * rule.share * rule.meters)


def seen_from(face: Face, meters: Meters) -> Face:
    """The face with id, box and color large enough on a tag read from there."""
    if face.kind not in TAGS:
        return face
    columns = (
        replace(column, blocks=tuple(_block(block, meters) for block in column.blocks))
        for column in face.columns
    )
    return replace(face, columns=tuple(columns))


def _block(block: FaceBlock, meters: Meters) -> FaceBlock:
    """What is read in the hand keeps its heights."""
    if not block.afar:
        return block
    least = Mm(1000 * LEAST * meters)
    return replace(block, capitals=tuple(Mm(max(height, least)) for height in block.capitals))
