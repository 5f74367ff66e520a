"""Turn a request into the keys of what is printed, or into the reason why it cannot be had."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from cardgen.cards import CardKind, Printable
from cardgen.english_lists import english_list
from cardgen.light_dataclass import dataclass
from cardgen.memory.prints import PrintedRevision, PrintLog
from cardgen.output.card_texts import DRAWING, CardEntry
from cardgen.output.hanging import cards_said_otherwise, texts_hanging_at
from cardgen.output.job_cards import JobCards
from cardgen.output.print_request import PrintRequest
from cardgen.output.selection import KINDS, PACKET, WORD_OF, checked, nothing_of
from cardgen.output.stale_cards import Changes, compared
from cardgen.problems import UserError

# Of what the packet is bound; it is printed whole where any of it changed.
BOUND = {DRAWING, *KINDS[PACKET], CardKind.SPARE_LIST, CardKind.TEST_SHEET, CardKind.MATERIALS}
_RAISE = "raise 'revision' in the job; if no tag of it hangs yet,"


class PrintedOtherwise(UserError):
    """A revision was printed before and said something else.

    Attributes:
        is_part: some of what it said then is not among what is printed now, and would go on
            hanging.
        hangs: a person has said that the revision hangs: it stays as it is.
    """

    def __init__(
        self, sentence: str, help_: str, *, is_part: bool = False, hangs: bool = False
    ) -> None:
        super().__init__(sentence, help_)
        self.is_part, self.hangs = is_part, hangs


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What is printed.

    Attributes:
        keys, kinds: of cards and home runs.
        earlier: the prints that the manifest keeps on keeping.
        said_otherwise: what this revision said otherwise when it was printed before.
        since: the print with which it was compared, and what changed since; or None.
    """

    keys: frozenset[str]
    kinds: frozenset[str]
    packet: bool
    earlier: PrintLog
    said_otherwise: tuple[str, ...]
    since: PrintedRevision | None = None
    changes: Changes | None = None


def choose(cards: JobCards, request: PrintRequest) -> Chosen:
    """What of all that the job says is printed; what a card says is asked for only to compare.

    Raises:
        UserError: if the job has no such thing, if there is no such print to compare with, or if
            this revision was printed before and said something else.
    """
    printable = cards.printable
    earlier = _earlier(printable, request)
    since = _since(printable, request) if request.since is not None else None
    hanging = texts_hanging_at(base_of(request), request.since) if request.since is not None else {}
    selection = checked(request.selection, printable, hanging.values())
    entries = cards.entries(selection.only)
    wanted = selection.chosen(entries.values())
    if not wanted and since is None:
        raise nothing_of(selection, cards.entries().values())
    changes = None
    if since is not None:
        everything = compared(hanging, cards.texts)
        changes = everything.within(selection)
        entries = cards.entries()
        wanted = _changed(wanted, entries, changes, bound=not everything.kinds.isdisjoint(BOUND))
    said_otherwise = _said_otherwise(earlier, cards)
    left = [key for key in said_otherwise if key in cards.texts and key not in wanted]
    _refuse_two_of_one_revision(printable, request, said_otherwise, left, earlier.hung)
    kinds = frozenset(entries[key].kind for key in wanted)
    return Chosen(
        keys=frozenset(wanted),
        kinds=kinds,
        packet=any(WORD_OF[kind] == PACKET for kind in kinds),
        earlier=earlier,
        said_otherwise=said_otherwise,
        since=since,
        changes=changes,
    )


def _said_otherwise(earlier: PrintLog, cards: JobCards) -> tuple[str, ...]:
    """Cards of which this revision said something else; of an unchanged job, none."""
    now = cards.printable.asbuilt
    printed = earlier.revisions.get(now.revision)
    if cards.printable.errors:
        return ()  # a list for a walk says nothing of a revision
    if printed is None or (printed.job == cards.stored and not printed.gone):
        return ()
    return tuple(cards_said_otherwise(earlier, now, cards.texts))


def _refuse_two_of_one_revision(
    printable: Printable,
    request: PrintRequest,
    said_otherwise: Sequence[str],
    left: Sequence[str],
    hung: Collection[int],
) -> None:
    """`left` are those that would go on hanging as they were."""
    revision = printable.asbuilt.revision
    if said_otherwise and revision in hung:
        raise PrintedOtherwise(
            f"revision {revision} hangs, and the job says something else now "
            f"({_some(said_otherwise)})",
            f"raise 'revision' in the job, and print what changed with --since {revision}",
            hangs=True,
        )
    if said_otherwise and (left or not request.replace):
        raise PrintedOtherwise(
            f"revision {revision} was printed before and said something else "
            f"({_some(said_otherwise)})",
            f"{_RAISE} {'print all of that again with' if left else 'add'} --replace",
            is_part=bool(left),
        )


def _changed(
    wanted: set[str], entries: Mapping[str, CardEntry], changes: Changes, *, bound: bool
) -> set[str]:
    """Cards that changed; drawing and packet are numbered through: whole or not at all."""
    drawn = DRAWING in changes.kinds
    through = {
        key
        for key in wanted
        if (entries[key].kind == DRAWING and drawn)
        or (WORD_OF[entries[key].kind] == PACKET and bound)
    }
    single = {key for key in changes.keys if entries[key].kind not in (DRAWING, *KINDS[PACKET])}
    return through | single


def base_of(request: PrintRequest) -> PrintLog:
    """The prints with which it is compared."""
    return request.earlier if request.base is None else request.base


def _earlier(printable: Printable, request: PrintRequest) -> PrintLog:
    """Of this job only; a folder without prints begins with those that it is compared with."""
    code = printable.asbuilt.job_code
    base, kept = request.base, request.earlier
    if kept.job_code != code:
        kept = PrintLog()
    return kept.completed_by(base) if base is not None and base.job_code == code else kept


def _since(printable: Printable, request: PrintRequest) -> PrintedRevision:
    base, revision = base_of(request), request.since
    assert revision is not None
    if not base.job_code:
        raise UserError(
            f"there is no print yet to compare revision {printable.asbuilt.revision} with",
            "print everything, or name the manifest of an earlier print with --manifest",
        )
    if base.job_code != printable.asbuilt.job_code:
        raise UserError(
            f"the manifest is of another job ({base.job_code})",
            "name the manifest of this job's print",
        )
    if revision not in base.revisions:
        printed = english_list(str(number) for number in sorted(base.revisions))
        raise UserError(f"revision {revision} was never printed there", f"there is {printed}")
    if revision > printable.asbuilt.revision:
        raise UserError(
            f"the job is revision {printable.asbuilt.revision}, older than {revision}",
            "name an earlier revision after --since, or raise 'revision' in the job",
        )
    return base.revisions[revision]


def _some(keys: Sequence[str]) -> str:
    """`valve tag A7, flag A7 A-K1 red at VB-1 and 12 more`."""
    more = f" and {len(keys) - 3} more" if len(keys) > 3 else ""
    return ", ".join(keys[:3]) + more
