"""The cautions that stand on the legend: what can hurt someone at a controller or a box.

Sources: breaker off first and one-call before digging, public utility and safety pages; the rest is
common practice, no source.  Nothing here claims that a job meets any code.
"""

CAUTIONS = (
    "Switch off and lock the controller's power before you touch a terminal.",
    "The line-voltage side belongs to a licensed electrician.",
    "Call the one-call centre before you dig; irrigation lines themselves are not marked.",
    "Look into a box before you reach in; lift the lid away from you.",
    "Not in a thunderstorm. A valve may open when you test it: stand clear.",
    "Local codes and licensed practice decide.",
)
BEFORE = "Take a photo before you lift a wire."
