"""Stage 3: turn a Job into a network of conductors, joints and coils, and trace every circuit."""

from cardgen.wiring.makeup import make_up
from cardgen.wiring.network import Network
from cardgen.wiring.trace import trace

__all__ = ["Network", "make_up", "trace"]
