"""Every word of the record's pages, by name: another language is another dictionary."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.cards.model import ConductorMark

ENGLISH: Mapping[str, str] = {
    # Page titles and the way around.
    "job title": "{site}: job record",
    "box title": "{box}: {site}",
    "station title": "{station}: {site}",
    "controller title": "Controller {controller}: {site}",
    "spares title": "Spares: {site}",
    "drawing title": "Wiring drawing: {site}",
    "find title": "Find: {site}",
    "to the job": "Whole job",
    "to find": "Find",
    "to top": "Top",
    "skip": "To the contents",
    "stamp": "{job} · revision {revision} · {date}",
    "boxes": "Boxes",
    "box": "Box",
    "controllers": "Controllers",
    "controller": "Controller {controller}",
    "stations": "Stations",
    "valves": "Valves",
    "terminals": "Terminals",
    "sensors": "Sensors",
    "spares": "Lists",
    "spare list": "Spare list",
    "drawing": "Wiring drawing",
    "changes": "Change log",
    "no valves": "no valve here",
    "of station": "{valve} of {station}",
    # A valve.
    "valve here": "Valve here",
    "valves here": "{number} valves here",
    "no valves here": "No valve in this box. Splices and cables only.",
    "kind valve": "valve",
    "kind master valve": "master valve",
    "kind relay": "pump start relay",
    "normally open": "Normally open: power closes it",
    "latching": "Latching: a pulse opens, a reversed pulse closes",
    "polarity": "{hot} lead to the hot, {back} lead to the way back",
    "device": "Behind a {device}: ohms mean nothing",
    "decoder": "Decoder {decoder}, address {address}",
    "serial": "serial {serial}",
    "hot": "Hot at this valve",
    "common": "Common of {controller}",
    "return": "Own return",
    "at the controller": "Hot at the controller",
    "terminal": "Terminal",
    "lands": "controller {controller}, terminal {terminal}",
    "isolators": "terminal {terminal} of controllers {controllers}, through isolators",
    "two-wire": "two-wire path of controller {controller}",
    "others": "On the same terminal",
    "other": "{valve} in {box}",
    "ring": "Part of the way is a ring: fed from two sides.",
    "whole way": "{station}: the whole way",
    # Readings.
    "reads": "What it should read",
    "not known": "not known",
    "coil reads": "Coil, leads off",
    "decoder reads": "At the decoder, valve leads off",
    "loop reads": "At the controller, wires lifted",
    "isolator reads": "At the isolators, wires lifted",
    "loop reads all": "At the controller, wires lifted, all {number} valves",
    "volts": "At the valve, connected, on",
    "milliamperes": "At the controller, on",
    "milliamperes with": "At the controller, on, with {beside}",
    "milliamperes all": "At the controller, on, all {number} valves",
    "pulse": "pulse only",
    "band": "{low} to {high}",
    "means nothing": "no meaning",
    "how to read": (
        "Ohms: power off, wires lifted, 20 °C; the band is the coil within 15 % and the meter "
        "within 1 Ω (common practice, no source). Volts: valve connected and on."
    ),
    # Around the valve.
    "way": "From the controller to here",
    "way back": "The way back",
    "contact": "contact of sensor {sensor}",
    "leg": "{start} to {end}, {length}",
    "neighbours": "Up and downstream",
    "no neighbours": "No cable of the job comes here.",
    "upstream": "Toward the controller",
    "downstream": "Onward",
    "neighbour": "{place}, {length} by {cable}",
    "by cable": "{length} by {cable}",
    "inside": "In the box",
    "joints": "Joints",
    "joint": "joint",
    "as built": "as built",
    "usual": "usual make-up",
    "connector": "connector {name}",
    "lead": "lead of {load}",
    "lead side": "{side} lead of {load}",
    "from": "from {place}",
    "to": "to {place}",
    "passing": "Goes through: do not cut",
    "conductors": "{number} conductors",
    "capped": "Capped ends",
    "free here": "free here",
    "must not touch": "Commons {commons} must not touch.",
    "use hot": "hot {of}",
    "use common": "common {of}",
    "use return": "return {of}",
    "use path": "path {of}",
    "use spare": "spare {of}",
    "use sensor": "sensor {of}",
    # Spares.
    "spares here": "Spares here",
    "no spares": "No free conductor comes to this box.",
    "no spares in job": "The job has no free conductor.",
    "runs": "{first} to {last}",
    "passes": "passes here uncut",
    "ends": "ends here",
    "reserved": "for {use}",
    # Cautions and the way there.
    "cautions": "Cautions",
    "caution power": "Switch off and lock the controller's power before you touch a terminal.",
    "caution line": "The line-voltage side belongs to a licensed electrician.",
    "caution dig": "Call the one-call centre before you dig.",
    "caution reach": "Look before you reach in. Lift the lid away from you.",
    "caution storm": "Not in a thunderstorm. A valve may open when you test it: stand clear.",
    "caution photo": "Take a photo before you lift a wire.",
    "caution code": "Local codes and licensed practice decide.",
    "reach": "How to find it",
    "map": "Open the map",
    "coordinates": "{coordinates} (latitude, longitude)",
    "buried": "Buried: no box around it.",
    "nowhere": "Neither distances nor coordinates are in the job.",
    "address": "Address of this page",
    # Revisions.
    "tag": "Compare the revision on your tag with {revision}.",
    "tag wrong": "Tag older than revision {revision}? This box has changed.",
    "what changed": "What changed",
    "older": "Tag older than revision {revision}?",
    "same since": "If your tag says revision {revisions}: it still says what is here.",
    "in revision": "Revision {revisions}",
    "changed beside": (
        "If your tag says revision {revisions}: the tag still holds. Changed beside it:"
    ),
    "out of date": "If your tag says revision {revisions}: a new tag is due.",
    "changed since": "If your tag says revision {revisions}: a new tag is due. Since then:",
    "first": "This is the first revision published here.",
    "newer": (
        "If your tag says a revision above {revision}, this copy is old: load the page again with "
        "signal, or ask the office."
    ),
    "gone title": "{thing} is not in revision {revision}",
    "gone": "It was last in revision {last} of {date}. Do not trust a tag that says {thing}.",
    "went": "Where things went",
    "then": "What revision {last} said",
    "old page": "Out of date",
    "change new": "This box was not in the job.",
    "change gone": "This box is no longer in the job.",
    "change left": "{valve} is now in {after}.",
    "change left nowhere": "{valve} is no longer in the job.",
    "change came": "{valve} came here from {before}.",
    "change came new": "{valve} is new here.",
    "changed": "{what}: was {before}, now {after}",
    "change of": "{valve}, {what}: was {before}, now {after}",
    "nothing": "none",
    "yes": "yes",
    "no": "no",
    "what station": "station",
    "what kind": "kind",
    "what area": "area",
    "what controller": "controller",
    "what terminal": "terminal",
    "what isolators": "isolators",
    "what hot": "hot at the valve",
    "what hot_at_controller": "hot at the controller",
    "what back": "way back at the valve",
    "what own_return": "own return",
    "what ohms": "ohms",
    "what volts": "volts",
    "what milliamperes": "mA",
    "what others": "other valves of the terminal",
    "what latching": "latching",
    "what normally_open": "normally open",
    "what polarity": "polarity",
    "what decoder": "decoder",
    "what device": "device",
    "what notes": "notes",
    "what where": "place",
    "what size": "size",
    "what ties": "distances",
    "what coordinates": "coordinates",
    "what joints": "joints",
    "what passing": "goes through uncut",
    "what capped": "capped ends",
    "what spares": "spares",
    "what commons": "commons",
    "what neighbours": "neighbours",
    "others now": "other than before; see this page",
    "change": "Revision {revision}, {date}",
    # Find.
    "find": "Find in this job",
    "find hint": "Station, box, area, colour, or the code beside the tag's symbol",
    "find none": "Nothing has all of these words.",
    "find how": "Use your browser's own 'find in page' if there is no field here.",
    # Copies.
    "saved": "Saved on this phone: all pages of revision {revision}, {age}.",
    "saved today": "today",
    "saved days": "days ago",
    "no signal": "No signal: you see the saved copy.",
    "claims": "A record, not an approval. Values are calculated unless said otherwise.",
    "drawing hint": "Push the drawing sideways, or read it as text below.",
    "as text": "As text",
    "cable": "cable {cable}",
}


@dataclass(frozen=True, slots=True)
class Words:
    """One language."""

    texts: Mapping[str, str]
    language: str

    def __call__(self, key: str, **values: object) -> str:
        """The text of that name with the values in it; what the values hold stays as it is."""
        return self.texts[key].format_map(values)

    def colour(self, mark: ConductorMark) -> str:
        """The word for a colour, as on the tag."""
        parts = (self.texts.get(f"colour {part}", part) for part in mark.word.split("/"))
        return "/".join(parts)

    def use(self, said: str) -> str:
        """`hot A7`, `common A`: what a conductor serves."""
        role, _, of = said.partition(" ")
        return self(f"use {role}", of=of) if f"use {role}" in self.texts else said


ENGLISH_WORDS = Words(ENGLISH, "en")
