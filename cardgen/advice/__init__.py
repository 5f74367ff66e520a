"""Turn a diagnosis into what a foreman is told: words, the way with its marks, the fault sheet."""

from cardgen.advice.fault_sheet import fault_sheet
from cardgen.advice.told import Advice, AdvisedStep, ToldSuspect, advice

__all__ = ["Advice", "AdvisedStep", "ToldSuspect", "advice", "fault_sheet"]
