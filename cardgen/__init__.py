"""One job file in; checked, printed, scannable tags for irrigation valve wiring out."""

__version__ = "0.1.0"
