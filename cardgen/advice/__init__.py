"""Turn a diagnosis into what a foreman is told: words, the way with its marks, the fault sheet."""

from cardgen.advice.fault_sheet import cautions_of, fault_sheet
from cardgen.advice.step_words import AdvisedStep
from cardgen.advice.suspect_words import ToldSuspect
from cardgen.advice.told import Advice, advice, dates_in_words

__all__ = [
    "Advice",
    "AdvisedStep",
    "ToldSuspect",
    "advice",
    "cautions_of",
    "dates_in_words",
    "fault_sheet",
]
