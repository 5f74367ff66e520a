"""Print one job of a queue, in a process of its own, and say what came of it."""

from __future__ import annotations

import logging
import multiprocessing
import os
import signal
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from threading import Thread

from cardgen.desk.kept_reasons import Reason, reason_of, reasons_of
from cardgen.examine import examine
from cardgen.output.as_printable import as_printable
from cardgen.output.choosing import PrintedOtherwise
from cardgen.output.current_print import from_file, is_current
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import print_into
from cardgen.problems import UserError


class QueueState(StrEnum):
    """How far a job of the queue is; the words of the page are `desk.queue NAME`."""

    WAITING = "waiting"
    PRINTING = "printing"
    PRINTED = "printed"
    CURRENT = "current"
    FAULTY = "faulty"
    OTHERWISE = "otherwise"
    REFUSED = "refused"
    BROKEN = "broken"


DONE = (QueueState.PRINTED, QueueState.CURRENT)
UNDER_WAY = (QueueState.WAITING, QueueState.PRINTING)


@dataclass(frozen=True, slots=True)
class QueueResult:
    """Attributes:
    reasons: why it was not printed.
    """

    state: QueueState
    reasons: tuple[Reason, ...] = ()


def begin_worker() -> None:
    """Ctrl+C goes to the whole group of processes; the desk alone decides what comes of it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_the_desk, daemon=True).start()


def _end_with_the_desk() -> None:
    """A desk that is killed tells nobody; the next one finds what is not finished."""
    desk = multiprocessing.parent_process()
    if desk is not None:
        desk.join()
        os._exit(1)


def print_queued(job_file: Path, out: Path, request: PrintRequest) -> QueueResult:
    """Print it as the desk prints one, unless this very print is there already."""
    try:
        asked = from_file(job_file, request)
        if is_current(out, asked):
            return QueueResult(QueueState.CURRENT)
        examined = examine(job_file)
        printable = as_printable(examined)
        if printable is None:
            return QueueResult(QueueState.FAULTY, reasons_of(examined.problems))
        made, problems = print_into(printable, out, asked)
    except PrintedOtherwise as fault:
        return QueueResult(QueueState.OTHERWISE, (Reason(sentence=fault.sentence),))
    except UserError as fault:
        return QueueResult(QueueState.REFUSED, (reason_of(fault),))
    except Exception:  # our own fault in one job must not cost the others
        logging.getLogger(__name__).exception("the print of '%s' failed", job_file.name)
        return QueueResult(QueueState.BROKEN)
    if made is None:
        return QueueResult(QueueState.FAULTY, reasons_of(problems))
    return QueueResult(QueueState.PRINTED)
