"""Changes of a network made together: by how much they take down what a meter reads."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.diagnosis.green import Current


class SolvedChanges:
    """Ready for any meter, and for more changes after them.

    Attributes:
        currents: one for each.
        are_possible: together.
        rows: upper and, below the pivots, lower factors of T + 1/g (see `Yard`).
        order: by row the number of its change.
    """

    def __init__(
        self,
        currents: Sequence[Current],
        ohms: Sequence[float],
        known: SolvedChanges | None = None,
    ) -> None:
        """Args:
        ohms: of each what comes to the volts of its own current.
        known: what is made before them; its factors stay.
        """
        before = known.currents if known else ()
        self.currents: tuple[Current, ...] = (*before, *currents)
        added = [[one.across(other) for other in self.currents] for one in currents]
        for number, row in enumerate(added):
            row[len(before) + number] += ohms[number]
        self.order: list[int] = list(range(len(self.currents)))
        self.rows: list[list[float]] = []
        if known:
            self.order[: len(before)] = known.order
            for row, number in zip(known.rows, known.order, strict=True):
                self.rows.append([*row, *(each[number] for each in added)])
        self.rows += added
        self._reduce(len(before))
        self.are_possible = self._eliminate(len(before))

    def _reduce(self, known: int) -> None:
        """What is new in each row, by the rows above it that are known."""
        rows = self.rows
        for column in range(known):
            above = rows[column]
            for row in rows[column + 1 : known]:
                factor = row[column]
                for k in range(known, len(rows)):
                    row[k] -= factor * above[k]
            for row in rows[known:]:
                row[column] /= above[column]
                factor = row[column]
                for k in range(column + 1, len(rows)):
                    row[k] -= factor * above[k]

    def _eliminate(self, start: int) -> bool:
        """Gauss with pivots, the factors kept below them; false where rows are not independent."""
        rows, order = self.rows, self.order
        for column in range(start, len(rows)):
            pivot = max(range(column, len(rows)), key=lambda k: abs(rows[k][column]))
            if abs(rows[pivot][column]) < 1e-15:
                return False
            rows[column], rows[pivot] = rows[pivot], rows[column]
            order[column], order[pivot] = order[pivot], order[column]
            for row in range(column + 1, len(rows)):
                factor = rows[row][column] / rows[column][column]
                rows[row][column] = factor
                for k in range(column + 1, len(rows)):
                    rows[row][k] -= factor * rows[column][k]
        return True

    def less(self, volts: Sequence[float]) -> float | None:
        """Ohms by which they take a reading down; None where they cannot be together.

        Args:
            volts: that the meter makes across each.
        """
        if not self.are_possible:
            return None
        rows = self.rows
        found = [volts[number] for number in self.order]
        for column in range(len(rows)):
            for row in range(column + 1, len(rows)):
                found[row] -= rows[row][column] * found[column]
        for row in reversed(range(len(rows))):
            known = sum([rows[row][k] * found[k] for k in range(row + 1, len(rows))])
            found[row] = (found[row] - known) / rows[row][row]
        return sum([v * x for v, x in zip(volts, found, strict=True)])
