"""What holds for all tests: the outside tools are there, examples stay the same, long ones first.

A missing tool stops the run: a skipped second opinion would look like a pass.
"""

from __future__ import annotations

import ctypes.util
import gc
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from xdist.scheduler import LoadGroupScheduling

# What fails for one fails for all, and on a busy machine as on a quiet one.
settings.register_profile(
    "cardgen", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("cardgen")


def _models(language: str) -> str | None:
    """What Tesseract has learned of a language, as Debian installs it."""
    found = Path("/usr/share/tesseract-ocr").glob(f"*/tessdata/{language}.traineddata")
    return next(map(str, found), None)


# Each: the Debian package, and how its part is found.
NEEDED: dict[str, Callable[[], str | None]] = {
    "chromium": lambda: shutil.which("chromium"),
    "git": lambda: shutil.which("git"),
    "libatomic1": lambda: ctypes.util.find_library("atomic"),
    "libzbar0": lambda: ctypes.util.find_library("zbar"),
    "ngspice": lambda: shutil.which("ngspice"),
    "poppler-utils": lambda: shutil.which("pdftoppm"),
    "tesseract-ocr-eng": lambda: _models("eng"),
    "tesseract-ocr-spa": lambda: _models("spa"),
}


def pytest_configure() -> None:
    # All that is read for the tests is kept: looking for what is not takes a quarter of the time.
    gc.disable()
    missing = [package for package, found in NEEDED.items() if not found()]
    if missing:
        line = "apt-get update && apt-get install -y --no-install-recommends " + " ".join(missing)
        raise pytest.UsageError(f"the tests need tools that are missing here; as root: {line}")


# Groups and modules that take longest, from 200 seconds to 1; `quick` does without them.
LONG = (
    "browser",
    "tests/server/test_login.py",
    "tests/property/test_random_jobs.py",
    "oracle",
    "tests/desk/test_parks.py",
    "tests/server/test_load.py",
    "tests/output/test_room.py",
    "tests/desk/test_desk_memory.py",
    "fuzz",
    "tests/desk/test_office_sites.py",
    "tests/desk/test_two_desks.py",
    "wheel",
    "tests/test_prints.py",
    "tests/allot/test_random_jobs.py",
    "tests/files/test_exchange.py",
    "tests/output/test_packet_parts.py",
    "tests/outside/test_ocr.py",
    "tests/layout/test_every_stock.py",
    "tests/server/test_store.py",
    "tests/diagnosis/test_seen.py",
    "tests/test_docs.py",
    "tests/cli/test_print.py",
    "tests/server/test_http_server.py",
    "tests/diagnosis/test_benchmark.py",
    "tests/layout/test_legend_sheets.py",
    "tests/desk/test_desk_app.py",
    "tests/layout/test_crowded.py",
    "tests/layout/test_layout_loader.py",
    "tests/memory/test_revisions.py",
    "tests/editing/test_random_changes.py",
    "tests/record/test_results.py",
    "tests/test_linear.py",
    "tests/record/test_languages.py",
    "tests/server/test_office.py",
    "tests/draw/test_raster.py",
    "tests/server/test_live_record.py",
    "tests/server/test_office_server.py",
    "tests/server/test_served_files.py",
    "tests/cli/test_many_jobs.py",
    "tests/server/test_killed.py",
    "tests/cards/test_cautions.py",
    "tests/advice/test_fault_sheet.py",
    "tests/cards/test_hot_not_known.py",
    "tests/cli/test_desk_command.py",
    "tests/server/test_entry_post.py",
    "print quarry",
    "tests/layout/test_box_tags.py",
    "tests/cli/test_serve.py",
    "source trees",
    "tests/cli/test_progress_line.py",
    "tests/server/test_table_pages.py",
    "tests/workbook/test_round_trip.py",
    "tests/web/test_web_files.py",
    "tests/layout/test_survival.py",
    "languages quarry",
    "tests/server/test_live_results_page.py",
    "languages heron",
    "tests/output/test_since.py",
    "tests/property/test_loading.py",
    "tests/draw/test_scale.py",
    "tests/record/test_pages.py",
    "tests/faults/test_examples.py",
    "tests/desk/test_print_queue.py",
    "tests/layout/test_qr.py",
    "tests/results/test_csv.py",
    "tests/desk/test_told_findings.py",
    "tests/outside/test_letter_heights.py",
    "tests/outside/test_code_ocr.py",
    "tests/layout/test_proof.py",
    "tests/draw/test_pdf.py",
    "tests/outside/test_networks.py",
    "tests/outside/test_ngspice.py",
    "tests/drawing/test_picture.py",
    "tests/oracle/test_tracer.py",
    "print heron",
    "tests/output/test_survey_with_errors.py",
    "tests/job/test_schema.py",
    "tests/renaming/test_renamed_text.py",
    "tests/cards/test_materials.py",
    "tests/cli/test_import_sites.py",
    "tests/drawing/test_printed.py",
    "tests/record/test_offline.py",
    "tests/cli/test_plain_output.py",
    "tests/desk/test_printer_offsets.py",
    "tests/cards/test_survey.py",
    "tests/allot/test_choose.py",
    "tests/record/test_metal.py",
    "tests/workbook/test_both_changes.py",
    "tests/desk/test_starter_file.py",
    "tests/cards/test_sheet_sections.py",
    "tests/outside/test_allotment.py",
    "tests/property/test_unknown_hots.py",
    "tests/diagnosis/test_solves.py",
    "tests/desk/test_desk_hanging.py",
    "tests/desk/test_crew_bundles.py",
    "tests/server/test_exchanged.py",
    "tests/desk/test_desk_lists.py",
    "tests/cli/test_crew_print.py",
    "tests/server/test_pin_attempts.py",
    "tests/test_languages.py",
    "tests/output/test_readings_file.py",
    "tests/memory/test_prints.py",
    "print in inks",
    "tests/property/test_mutations.py",
    "languages larkspur",
    "tests/output/test_locking.py",
    "tests/layout/test_widths.py",
    "tests/layout/test_flags.py",
    "tests/drawing/test_tree.py",
    "tests/server/test_pins.py",
    "tests/record/test_chain.py",
    "tests/test_typing_mistakes.py",
)


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """A module that is long as a whole is not even read for a quick run."""
    is_quick = config.option.markexpr == "not long"
    module = collection_path.relative_to(config.rootpath).as_posix()
    return True if is_quick and module in LONG else None


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with what is long: at the end there is work for every worker."""
    rank = {scope: number for number, scope in enumerate(LONG)}
    items.sort(key=lambda item: rank.get(scope_of(item), len(rank)))
    for item in items:
        if scope_of(item) in rank:
            item.add_marker("long")


def pytest_collection_finish() -> None:
    # Looked for more seldom than usual: else it takes a third of the time of what makes much.
    gc.set_threshold(100_000, 10, 10)
    gc.enable()


def scope_of(item: pytest.Item) -> str:
    """What one worker does: the group of a test, else its module."""
    group = item.get_closest_marker("xdist_group")
    return str(group.args[0]) if group else item.nodeid.partition("::")[0]


class ByModule(LoadGroupScheduling):  # type: ignore[misc]
    """The tests of a module share what they make, so that it is not made by each worker."""

    def _split_scope(self, nodeid: str) -> str:
        scope: str = super()._split_scope(nodeid)
        return scope.partition("::")[0]


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> ByModule:
    return ByModule(config, log)
