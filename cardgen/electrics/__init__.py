"""Stage 4: resistance of every way, and what a meter will read at the controller."""

from cardgen.electrics.readings import ExpectedReading, read_all
from cardgen.electrics.running import Running, run_all
from cardgen.electrics.step_table import StepTable

__all__ = ["ExpectedReading", "Running", "StepTable", "read_all", "run_all"]
