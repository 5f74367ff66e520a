"""Put faults into the as-built network, solve it, and keep those that readings do not exclude."""

from cardgen.diagnosis.diagnose import diagnose, diagnose_each
from cardgen.diagnosis.diagnosed import (
    ClearedStretch,
    Diagnosis,
    Exclusion,
    FaultKind,
    FittedValue,
    HiddenFault,
    HiddenKind,
    NextStep,
    PossibleOutcome,
    StepKind,
    Suspect,
    SuspectedFault,
    SuspectSite,
)

__all__ = [
    "ClearedStretch",
    "Diagnosis",
    "Exclusion",
    "FaultKind",
    "FittedValue",
    "HiddenFault",
    "HiddenKind",
    "NextStep",
    "PossibleOutcome",
    "StepKind",
    "Suspect",
    "SuspectSite",
    "SuspectedFault",
    "diagnose",
    "diagnose_each",
]
