"""The cautions that stand on the legend, by the names of their texts in the catalogues.

What can hurt someone at a controller or a box.  Sources: breaker off first and one-call before
digging, public utility and safety pages; the rest is common practice, no source.  Nothing here
claims that a job meets any code.
"""

CAUTIONS = ("power", "line", "dig", "reach", "storm", "code")
BEFORE = "photo"
