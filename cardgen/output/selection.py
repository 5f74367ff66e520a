"""Choose of all cards those that were asked for, by kind, box, station and controller."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from cardgen.cards import CardKind, Printable
from cardgen.english_lists import english_list
from cardgen.light_dataclass import dataclass, replace
from cardgen.output.card_texts import DRAWING, CardEntry
from cardgen.problems import UserError
from cardgen.reading.shapes import nearest

PACKET = "packet"
# As people say it, what each word after --only stands for.
KINDS: Mapping[str, tuple[str, ...]] = {
    "valve-tags": (CardKind.VALVE_TAG,),
    "box-tags": (CardKind.BOX_TAG,),
    "wire-flags": (CardKind.FLAG,),
    "door-legend": (CardKind.LEGEND,),
    "splice-cards": (CardKind.SPLICE_CARD,),
    "test-sheet": (CardKind.TEST_SHEET,),
    "spare-list": (CardKind.SPARE_LIST,),
    "materials": (CardKind.MATERIALS,),
    "survey": (CardKind.SURVEY,),
    "wiring-drawing": (DRAWING,),
    PACKET: (CardKind.SCHEDULE, CardKind.CLOSING),
}
WORD_OF = {kind: word for word, kinds in KINDS.items() for kind in kinds}


def word_of(key: str) -> str:
    """Of a card, by its key: `valve-tags` of `valve tag A7`; empty where none is of that kind."""
    return next((word for kind, word in WORD_OF.items() if key.startswith(f"{kind} ")), "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Selection:
    """What is to be printed; an empty choice asks for everything.

    Of one choice any will do (box VB-1 or VB-2), of several all must hold (VB-1 and of A).

    Attributes:
        only: words of KINDS.
        stations: also master valves and relays, and single valves of a twin.
    """

    only: tuple[str, ...] = ()
    boxes: tuple[str, ...] = ()
    stations: tuple[str, ...] = ()
    controllers: tuple[str, ...] = ()

    @property
    def is_narrow(self) -> bool:
        """Some cards of a kind and not others."""
        return bool(self.boxes or self.stations or self.controllers)

    def wants(self, word: str) -> bool:
        return not self.only or word in self.only

    def serves(self, said: CardEntry) -> bool:
        """Of the packet, which is whole or not at all, a narrow selection has nothing."""
        return (
            self.wants(WORD_OF[said.kind])
            and not (self.is_narrow and WORD_OF[said.kind] == PACKET)
            and (not self.boxes or said.at in self.boxes)
            and (not self.stations or not set(self.stations).isdisjoint(said.names))
            and (not self.controllers or not set(self.controllers).isdisjoint(said.controllers))
        )

    def chosen(self, everything: Iterable[CardEntry]) -> set[str]:
        """The keys of what is wanted."""
        return {said.key for said in everything if self.serves(said)}


EVERYTHING = Selection()


def checked(
    selection: Selection, printable: Printable, before: Iterable[CardEntry] = ()
) -> Selection:
    """The selection, if the job has all that it names, or had it in what was said before.

    With a box comes the battery controller that hangs in it; a controller's name is a place too.

    Raises:
        UserError: at the first name that the job does not have.
    """
    said = tuple(before)
    asbuilt = printable.asbuilt
    controllers = [*asbuilt.controller, *(name for s in said for name in s.controllers)]
    places = [*asbuilt.box, *controllers, *(s.at for s in said if s.at)]
    stations = [name for valve in asbuilt.in_order for name in (valve.station, valve.id)]
    stations += [name for s in said for name in s.names]
    known: tuple[tuple[str, Iterable[str], Iterable[str]], ...] = (
        ("kind", selection.only, KINDS),
        ("box", selection.boxes, places),
        ("station", selection.stations, stations),
        ("controller", selection.controllers, controllers),
    )
    for what, wanted, names in known:
        for name in wanted:
            if name not in names:
                way = nearest(name, dict.fromkeys(names)) or f"it has {english_list(names)}"
                raise UserError(f"the job has no {what} '{name}'", way)
    inside = [c.id for c in asbuilt.controllers if c.box in selection.boxes]
    return replace(selection, boxes=(*selection.boxes, *inside))


def nothing_of(selection: Selection, everything: Iterable[CardEntry]) -> UserError:
    """Why a selection is empty: which kinds the rest of it has."""
    if selection.only == ("survey",) and not selection.is_narrow:
        return UserError(
            "the job says of nothing that it is not known, so there is no survey list",
            "write 'not known' in place of a length, a gauge, a coil or a hot that nobody knows",
        )
    others = replace(selection, only=())
    words = english_list(
        dict.fromkeys(WORD_OF[said.kind] for said in everything if others.serves(said))
    )
    if not words:
        return UserError("nothing belongs to all that is named", "leave out one of the options")
    return UserError(f"what is named has no {english_list(selection.only)}", f"it has {words}")
