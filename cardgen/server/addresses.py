"""What the server's pages below a job are called; a name of ours ends in '_', as no box does."""

from __future__ import annotations

READINGS = "READINGS_"
RESULTS = "RESULTS_"
REPORTS = "REPORTS_"
TABLE = "READINGS_CSV_"
EXPORT = "EXPORT_"
ENDING = "ENDING_"
PHOTOS = "PHOTOS_"
