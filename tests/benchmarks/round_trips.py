"""Take random jobs through their sheets and back: `python -m tests.benchmarks.round_trips 200`."""

from __future__ import annotations

import sys
import time

from cardgen.results.workbook_file import workbook
from cardgen.workbook.book_files import book_of
from tests.workbook.books import sheets_of_text
from tests.workbook.test_round_trip import random_text, same_again


def main(count: int) -> None:
    begun = time.perf_counter()
    for seed in range(count):
        text = random_text(seed)
        book, problems = book_of(workbook(sheets_of_text(text)), "book.xlsx")
        assert book is not None and not problems, seed
        same_again(text, book)
    print(f"{count} jobs equal as values, {time.perf_counter() - begun:.0f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]))
