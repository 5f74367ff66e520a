"""Write a campus; what each of its valve tags says, as JSON: JOB STATIONS, lines and addresses out.

A program of its own, because a child begins as large as the process that makes it.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from cardgen.cards import CardKind, cards_of
from cardgen.cards.card import Code
from cardgen.examine import examine
from cardgen.output.as_printable import as_printable
from cardgen.output.card_texts import card_text
from tests.benchmarks.campus import campus


def tags_of(job: Path) -> Iterator[dict[str, list[str]]]:
    """Line by line, and the address in its code."""
    printable = as_printable(examine(job))
    assert printable is not None
    for card in cards_of(printable, [CardKind.VALVE_TAG])[CardKind.VALVE_TAG]:
        fields = card_text(card).words.values()
        lines = [one for each in fields for one in ((each,) if isinstance(each, str) else each)]
        codes = [each.address for each in card.fields.values() if isinstance(each, Code)]
        yield {"lines": [line for line in lines if line not in codes], "addresses": codes}


def main() -> None:
    job = Path(sys.argv[1])
    job.write_text(campus(int(sys.argv[2])), encoding="utf-8")
    json.dump(list(tags_of(job)), sys.stdout)


if __name__ == "__main__":
    main()
