"""Turn the documents of a packet, with the pages where they begin, into its cover."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Table, on_paper
from cardgen.cards.closing import STANDS
from cardgen.cards.expected import NOTHING
from cardgen.cards.printable import Printable
from cardgen.light_dataclass import dataclass
from cardgen.words import Said, Text

Document = tuple[Said, int]  # its title, and the page of the packet on which it begins


@dataclass(frozen=True, slots=True, kw_only=True)
class PacketContents:
    """What the cover tells of the packet.

    Attributes:
        documents: of the owner's part.
        annexes: by the controller, empty for what belongs to the whole job.
        moved: titles of what is in the annexes because the owner's part has no room for it.
        separate: titles of what is printed with it and hangs or lies elsewhere.
    """

    documents: Sequence[Document]
    annexes: Sequence[tuple[str, int]] = ()
    moved: Sequence[Said] = ()
    separate: Sequence[Said] = ()


def cover(printable: Printable, contents: PacketContents) -> Card:
    known, words = printable.asbuilt, printable.words
    said = {"owner": known.owner, "contractor": known.contractor, "license": known.license_number}
    rows = tuple((title, str(page)) for title, page in contents.documents)
    fields: dict[str, FieldValue] = {
        "title": words("cover.title"),
        "subtitle": known.site,
        "facts": (
            words("cover.job", job=known.job_code, revision=known.revision, date=known.date),
            *([words("cover.record", address=known.address)] if known.address else []),
            words.joined(_counts(printable), " · "),
        ),
        "parties": tuple(words(f"cover.{who}", name=name) for who, name in said.items() if name),
        "parties_blank": words.named("blanks", [who for who, name in said.items() if not name]),
        **printable.code_of(),
        "documents": Table.of(words.named("columns", ("document", "page")), rows),
        "notes": (*_notes(printable, contents), *words.named("closing", STANDS)),
        "stamp": printable.stamp,
    }
    annexes = tuple(_annex(printable, name, page) for name, page in contents.annexes)
    if annexes:
        columns = words.named("columns", ("annex", "place", "stations", "page"))
        fields["annexes"] = Table.of(columns, annexes)
    if contents.separate:
        fields["separate"] = (words.joined(contents.separate),)
    return Card(kind=CardKind.COVER, id="cover", span=printable.spans.job, fields=on_paper(fields))


def annex_title(printable: Printable, controller: str) -> Text:
    """`Annex A`; without a controller that of the whole job."""
    words = printable.words
    return words("cover.annex", controller=controller) if controller else words("cover.whole job")


def _counts(printable: Printable) -> Iterator[Text]:
    """How much there is of what an owner pays for."""
    known, words = printable.asbuilt, printable.words
    valves = [found[0] for found in known.stations.values()]
    yield words.count("cover.controllers", len(known.controllers))
    yield words.count("cover.stations", sum(valve.kind == "valve" for valve in valves))
    for kind in ("master valve", "relay"):
        if number := sum(valve.kind == kind for valve in valves):
            yield words.count(f"drawing.count of {kind}", number)
    yield words.count("drawing.boxes", len(known.boxes))
    yield words.count("spare list.count", sum(not spare.dead for spare in known.spares))


def _annex(printable: Printable, controller: str, page: int) -> tuple[Cell, ...]:
    """Whose it is, where that hangs, how many stations it has."""
    known = printable.asbuilt
    if not controller:
        return annex_title(printable, controller), NOTHING, NOTHING, str(page)
    stations = {v.station for v in known.valves_of(controller) if v.kind == "valve"}
    place = printable.place_of(controller)
    return annex_title(printable, controller), place, str(len(stations)), str(page)


def _notes(printable: Printable, contents: PacketContents) -> Iterator[Text]:
    words = printable.words
    if any(controller for controller, _ in contents.annexes):
        yield words("cover.annexes")
    if contents.moved:
        yield words("cover.moved", documents=words.joined(contents.moved))
