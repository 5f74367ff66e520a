"""Values that a crew measured: kept as CSV, and judged against what the job expects.

Pure: no clock, no file, no page.  The words of a verdict lie in the catalogue, under its name.
"""

from cardgen.results.column_names import WIDE_COLUMNS
from cardgen.results.compare import Pattern, compare, oldest_first
from cardgen.results.conditions import Conditions
from cardgen.results.csv_in import ReadingRow, read_results
from cardgen.results.csv_out import results_csv
from cardgen.results.known_names import KnownNames
from cardgen.results.measured import OL, Kind, Measured, value_of, value_text
from cardgen.results.trend import trend
from cardgen.results.unknown_rows import unknown_rows
from cardgen.results.verdict import (
    Finding,
    Outcome,
    expected_band,
    verdict,
    verdict_of_conductor,
)

__all__ = [
    "OL",
    "WIDE_COLUMNS",
    "Conditions",
    "Finding",
    "Kind",
    "KnownNames",
    "Measured",
    "Outcome",
    "Pattern",
    "ReadingRow",
    "compare",
    "expected_band",
    "oldest_first",
    "read_results",
    "results_csv",
    "trend",
    "unknown_rows",
    "value_of",
    "value_text",
    "verdict",
    "verdict_of_conductor",
]
