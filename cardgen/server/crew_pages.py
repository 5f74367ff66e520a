"""The addresses below a job that are not of its record: what crews enter, and what came of it."""

from __future__ import annotations

from cardgen.server.addresses import PHOTOS, READINGS, REPORTS, RESULTS, TABLE
from cardgen.server.entry_page import entry_page
from cardgen.server.entry_post import take_entry
from cardgen.server.live_results_page import live_results_page
from cardgen.server.reports_page import photo, reports_page
from cardgen.server.table_pages import table_in, table_out
from cardgen.server.visit import PARTS, PHOTO_SIZE, TABLE_SIZE, Page

_JOB = "/{job:path}"
PAGES = (
    # Open, so that the phone can keep it; what is sent needs a crew.
    Page(path=f"{_JOB}/{READINGS}", answer=entry_page, open=True),
    Page(
        path=f"{_JOB}/{READINGS}",
        answer=take_entry,
        method="POST",
        kinds=(PARTS,),
        size=PHOTO_SIZE,
    ),
    Page(path=f"{_JOB}/{RESULTS}", answer=live_results_page, open=True),
    Page(path=f"{_JOB}/{REPORTS}", answer=reports_page),
    Page(path=f"{_JOB}/{PHOTOS}/{{id}}", answer=photo),
    Page(path=f"{_JOB}/{TABLE}", answer=table_out),
    Page(path=f"{_JOB}/{TABLE}", answer=table_in, method="POST", kinds=(PARTS,), size=TABLE_SIZE),
)
