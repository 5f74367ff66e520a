"""Count cable and wire: what is pulled of each kind, with slack, on whole reels where asked."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field

from cardgen.asbuilt import BuiltValve
from cardgen.asbuilt.model.built_conductors import BuiltCable
from cardgen.cards.lengths import both, in_units
from cardgen.cards.material import Material
from cardgen.cards.printable import Printable
from cardgen.cards.pulled_lengths import PulledPiece, piece
from cardgen.cards.reels import Reels, cut_from
from cardgen.light_dataclass import dataclass
from cardgen.units import Length, LengthUnit, Meters
from cardgen.words import Text


@dataclass(slots=True)
class _Pull:
    """What is pulled of one kind: the pieces, and the cables or decoders they belong to."""

    pieces: list[PulledPiece] = field(default_factory=list)
    names: dict[str, None] = field(default_factory=dict)


def wires(printable: Printable) -> Iterator[Material]:
    """By kind and by the reels it is sold on; then what decoders have to their valves."""
    pulls: dict[tuple[Text, tuple[Length, ...]], _Pull] = defaultdict(_Pull)
    served = _valves_on(printable)
    for cable in printable.asbuilt.cables:
        for kind, pulled in _pieces(printable, cable, served):
            pull = pulls[kind, cable.reels]
            pull.pieces.append(pulled)
            pull.names[cable.id] = None
    for (kind, reels), pull in pulls.items():
        yield _row(printable, kind, pull, reels)
    yield from _decoder_wires(printable)


def _pieces(
    printable: Printable, cable: BuiltCable, served: Mapping[str, set[str]]
) -> Iterator[tuple[Text, PulledPiece]]:
    """A jacketed cable is one piece; of a bundle each single."""
    words, inside = printable.words, printable.asbuilt.inside[cable.id]
    if not cable.bundle:
        legs = [stop.meters for stop in cable.run[1:]]
        what = "materials.shielded cable" if cable.shielded else "materials.cable"
        gauge = inside[0].mark.gauge
        kind = words(what if gauge else f"{what} of unknown gauge", number=len(inside), gauge=gauge)
        valves = len(set().union(*(served[c.name] for c in inside)))
        yield kind, piece(printable.asbuilt, cable.places, legs, valves)
        return
    for c in inside:
        said = c.mark.gauge or words("terms.gauge not known")
        kind = words("materials.single", color=words.color(c.mark.word), gauge=said)
        yield kind, piece(printable.asbuilt, c.places, c.legs, len(served[c.name]))


def _valves_on(printable: Printable) -> Mapping[str, set[str]]:
    """By conductor the coils of which a lead is joined with it."""
    found: dict[str, set[str]] = defaultdict(set)
    for box in printable.asbuilt.boxes:
        for linked in box.linked:
            coils = {m.lead for m in linked.members if m.lead in printable.asbuilt.valve}
            for conductor in linked.conductors:
                found[conductor] |= coils
    return found


def _row(printable: Printable, kind: Text, pull: _Pull, reels: tuple[Length, ...]) -> Material:
    words, slack = printable.words, printable.asbuilt.slack
    usual = LengthUnit(printable.asbuilt.unit)
    lengths = [each.ordered(slack) for each in pull.pieces]
    parts = [
        words("materials.pulled", cables=", ".join(pull.names), pieces=_number(printable, pull)),
        words("materials.run", run=_rounded(printable, sum(each.run for each in pull.pieces))),
        *_slack_at(printable, pull.pieces),
    ]
    whole = Meters(sum(lengths))
    legs = [leg for each in pull.pieces for leg in each.legs]
    unknown = legs.count(None)
    if unknown == len(legs):
        what = words.joined([kind, words("terms.length not known")])
        return Material(group="cables", what=what, quantity=len(lengths), basis=parts[0])
    what = kind
    if unknown:
        what = words.joined([kind, words.count("materials.legs not known", unknown)])
    elif reels:
        cut = cut_from(reels, lengths)
        whole = cut.meters
        parts += _on_reels(printable, cut)
    quantity, other = in_units(whole, usual, up=True)
    basis = words.joined(parts, "; ")
    return Material(group="cables", what=what, quantity=quantity, other=other, basis=basis)


def _number(printable: Printable, pull: _Pull) -> Text:
    return printable.words.count("materials.pieces", len(pull.pieces))


def _rounded(printable: Printable, meters: float) -> str:
    return both(*in_units(Meters(meters), LengthUnit(printable.asbuilt.unit), up=False))


def _slack_at(printable: Printable, pieces: Iterable[PulledPiece]) -> Iterator[Text]:
    """Where the slack is, as many times as it was reckoned."""
    words, slack, pulled = printable.words, printable.asbuilt.slack, tuple(pieces)
    counts = {
        "valves": sum(each.valves for each in pulled),
        "loops": sum(each.loops(slack) for each in pulled),
        "box ends": sum(each.box_ends for each in pulled),
        "controller ends": sum(each.controller_ends for each in pulled),
    }
    found = [words.count(f"materials.{name}", n) for name, n in counts.items() if n]
    if found:
        yield words("materials.slack at", places=words.joined(found))


def _on_reels(printable: Printable, cut: Reels) -> Iterator[Text]:
    words = printable.words
    order = ", ".join(f"{number} × {reel}" for reel, number in cut.order)
    yield words("materials.reels", reels=order, rest=_rounded(printable, cut.left_over))
    if cut.too_long:
        yield words.count("materials.longer than a reel", cut.too_long)


# ---- from decoders to valves ---------------------------------------------------------------


def _decoder_wires(printable: Printable) -> Iterator[Material]:
    """Wire that the job says; where the decoder is in another box and nothing is said, how many."""
    words = printable.words
    pulls: dict[Text, _Pull] = defaultdict(_Pull)
    unknown: dict[Text, dict[str, None]] = defaultdict(dict)
    for valve in by_decoder(printable).values():
        decoder = valve.decoder
        assert decoder is not None
        kind = words("materials.decoder wire", gauge=decoder.leads or words("terms.not known"))
        places, within = (decoder.box, valve.box), decoder.box == valve.box
        if decoder.to_valve is not None:
            pulls[kind].names[decoder.id] = None
            legs = (decoder.to_valve.meters,)
            pulled = piece(printable.asbuilt, places, legs, 1)
            alone = PulledPiece(legs=legs, box_ends=0, controller_ends=0, valves=0)
            pulls[kind].pieces.append(alone if within else pulled)
        elif not within:
            unknown[kind][decoder.id] = None
    for kind, pull in pulls.items():
        yield _row(printable, kind, pull, ())
    for kind, names in unknown.items():
        what = words.joined([kind, words("materials.length not given")])
        yield Material(group="cables", what=what, quantity=len(names), basis=", ".join(names))


def by_decoder(printable: Printable) -> Mapping[str, BuiltValve]:
    """By decoder the first of its valves."""
    found: dict[str, BuiltValve] = {}
    for valve in printable.asbuilt.in_order:
        if valve.decoder is not None:
            found.setdefault(valve.decoder.id, valve)
    return found
