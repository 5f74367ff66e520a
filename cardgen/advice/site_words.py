"""Say where a fault may be: which conductor, between which places, and how far at the most."""

from __future__ import annotations

import math

from cardgen.advice.merged_sites import NOTHING, meters_between
from cardgen.asbuilt import AsBuilt
from cardgen.cards.lengths import both, in_units
from cardgen.cards.use_words import name_in_words, uses_in_words
from cardgen.diagnosis import FaultKind, SuspectedFault, SuspectSite
from cardgen.units import METERS_PER_FOOT, Length, LengthUnit, Meters
from cardgen.words import Text, Words

# A splice at either end is as likely as the wire between; what touches may do so in a box, too.
_ENDS = {
    FaultKind.OPEN: "or splice",
    FaultKind.RESISTIVE: "or splice",
    FaultKind.HOTS_TOUCH: "or in box",
    FaultKind.HOT_ON_COMMON: "or in box",
    FaultKind.GROUND: "or in box",
}


def place_in_words(words: Words, known: AsBuilt, place: str) -> Text:
    """`box VB-2`, `controller A`."""
    key = "controller" if place in known.controller else "box"
    return words(f"diagnosis.{key}", place=place)


def conductor_in_words(
    words: Words, known: AsBuilt, name: str, place: str, *, onward: bool = True
) -> Text:
    """`common A (A-K1 white)`: what it is onward from there, by metal, or as it comes there."""
    conductor = known.conductor.get(name)
    if conductor is None:
        return words.same(name)
    stretch = None
    if place in conductor.places:
        stretch = conductor.at(place, onward=onward) or conductor.at(place, onward=not onward)
    shown = name_in_words(words, conductor)
    if stretch is None or not stretch.uses:
        return shown
    uses = words.joined(uses_in_words(words, stretch.uses))
    return words("diagnosis.conductor", use=uses, conductor=shown)


def site_in_words(words: Words, known: AsBuilt, fault: SuspectedFault, site: SuspectSite) -> Text:
    """`common A (A-K1 white), between box VB-2 and box VB-3, or its splice in either`."""
    if not site.start:  # nobody wrote down where it was measured
        return _what(words, known, fault, site)
    start, end = (place_in_words(words, known, place) for place in (site.start, site.end))
    if site.start != site.end:
        where = words(f"diagnosis.between {_ENDS.get(fault.kind, 'alone')}", start=start, end=end)
    elif site.start in known.controller:
        where = words(
            "diagnosis.at terminal" if site.conductor else "diagnosis.at strip", place=start
        )
    else:
        is_splice = site.conductor and _ENDS.get(fault.kind) == "or splice"
        where = words("diagnosis.at splice" if is_splice else "diagnosis.in", place=start)
    return words.joined((_what(words, known, fault, site), where))


def _what(words: Words, known: AsBuilt, fault: SuspectedFault, site: SuspectSite) -> Text:
    """The conductor; without one the coil, the contact or the cable."""
    if site.conductor:
        return conductor_in_words(words, known, site.conductor, site.start)
    match fault.kind:
        case FaultKind.COIL_OPEN | FaultKind.COIL_LOW | FaultKind.WRONG_COIL:
            return words("diagnosis.coil of", valves=words.list_of(fault.valves))
        case FaultKind.CONTACT | FaultKind.CUT:
            return words.same(fault.name)
    return words.list_of(fault.valves)


def distance_in_words(words: Words, known: AsBuilt, site: SuspectSite) -> Text | None:
    """`No farther than 214 ft (65 m) from box VB-2.`; None where nothing tells."""
    whole = meters_between(known, site)
    least = site.least_m or None
    most = site.most_m
    if most is not None and whole is not None and most >= whole - NOTHING:
        most = None  # that is said by the place itself
    if most is None and least is None:
        return None
    start = place_in_words(words, known, site.start)
    low = _length(known, least, up=False) if least is not None else ""
    high = _length(known, most, up=True) if most is not None else ""
    name = "between lengths" if low and high else "at most" if high else "at least"
    return words(f"diagnosis.{name}", least=low, most=high, start=start)


def _length(known: AsBuilt, meters: float, *, up: bool) -> str:
    """Outward to whole units, so that the place is never beyond what is said."""
    unit = LengthUnit(known.unit)
    if up:
        return both(*in_units(Meters(meters), unit, up=True))
    feet = Length(math.floor(meters / METERS_PER_FOOT + 1e-9), LengthUnit.FEET)
    metric = Length(math.floor(meters + 1e-9), LengthUnit.METERS)
    return both(feet, metric) if unit is LengthUnit.FEET else both(metric, feet)
