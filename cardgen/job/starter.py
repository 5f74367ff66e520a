"""Write the job that a new file starts with: two valves, one cable, each key explained."""

from __future__ import annotations

# What is no site's own; the check tells where it was left as it is.
CODE, SITE, ADDRESS = "START-01", "Our first site", "https://your-host.example"
DATE = "2026-01-31"

_STARTER = f"""\
# A job file: one site, its controllers, cables, boxes and valves. Change what is here to what is
# on your site, then run 'cardgen check' on this file. What follows a '#' is a remark.

job:
  code: {CODE}               # short code, printed on each card
  site: {SITE}         # as the crew knows it
  revision: 1                  # counts up each time the wiring changes
  date: {DATE}             # date of this revision: year-month-day

record:
  address: {ADDRESS}   # web address where the job record will be
  key: @KEY@                   # made for this job, so that nobody can guess its page

palettes:                      # the colors in each kind of cable, in order
  five: [white, red, blue, green, yellow]

coils:                         # from the data sheet of the valve
  usual:
    supply: 24 V AC            # '24 V AC' or 'DC latching'
    resistance: 30 ohm         # measured with a meter at 20 C, no power
    inrush: 0.40 A             # current when it starts
    holding: 0.23 A            # current while it is on
    minimum: 20 V              # least voltage at which it opens

connectors:                    # what the label of each connector allows, smallest first
  small: {{takes: [2-5 x 18 AWG]}}

controllers:
  A:                           # its name; station 1 on it is A1
    place: garage wall         # where it hangs
    supply: 24 V AC            # what it gives to the valves
    stations: 8                # how many station terminals it has
    terminals: [C, 1 to 8, MV] # in the order of its strip
    coil: usual                # the coil of its valves
    common: A-K1 white         # the conductors of its common: cable and color
    station limit: 0.5 A       # most current on one terminal, from its manual
    total limit: 1.0 A         # most current in all

cables:
  A-K1:                        # its name
    gauge: 18 AWG              # '18 AWG' or '1.5 mm2'
    palette: five              # the colors in it
    run: [A, 85 ft, VB-1, 60 ft, VB-2]   # outward from A, with each length or 'not known'

boxes:
  VB-1:
    place: front walk          # where to look for it
    size: 10 in round          # of its lid
    ties: [6.5 ft from garage corner, 4.0 ft from walk edge]   # two distances to fixed points
  VB-2:
    place: front bed
    size: 10 in round

stations:
  A1:                          # controller and terminal
    area: front lawn           # what it waters
    box: VB-1                  # the box its valve is in
    hot: A-K1 red              # its own conductor: cable and color
  A2:
    area: front bed
    box: VB-2
    hot: A-K1 blue

spares:                        # conductors kept for later
  SP-1: {{conductor: A-K1 green, to: VB-2}}    # and the last box they reach
  SP-2: {{conductor: A-K1 yellow, to: VB-2}}
"""


def starter_job(key: str) -> str:
    """The text of a job that checks clean, under the record key `key`."""
    return _STARTER.replace("@KEY@", key)
