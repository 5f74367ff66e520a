"""A yard with pigtails, to test with: in VB-1 three, at the controller one that is on C.

```
VB-1:  3 [white in, white out, PT-1]   5 [PT-1, A1, PT-3]   7 [PT-3, A2, K3 white/black]
       4 [tan in, PT-2]                6 [PT-2, K3 blue]
A:     [C, PT-C]                         [PT-C, K1 white, K2 white]
```
"""

from __future__ import annotations

HEAD = """\
job: {code: PIG-1, site: Hillside, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
connectors:
  small: {takes: [2-5 x 18 AWG]}
  large: {takes: [1-3 x 18 AWG + 1-2 x 14 AWG]}
"""
CONTROLLER = """\
controllers:
  A:
    {place: wall, supply: 24 V AC, stations: 5, coil: usual, common: [K1 white, K2 white]}
"""
YARD = """\
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, brown, gray, tan]
    run: [A, 100 ft, VB-1, 50 ft, VB-2]
  K2: {gauge: 18 AWG, colors: [white, red], run: [A, 80 ft, VB-3]}
  K3: {gauge: 18 AWG, colors: [white/black, blue], run: [VB-1, 80 ft, VB-4]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}, VB-4: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, box: VB-1, hot: K1 brown}
  A3: {area: hedge, box: VB-2, hot: K1 gray}
  A4: {area: court, box: VB-3, hot: K2 red}
  A5: {area: pond, box: VB-4, hot: [K1 tan, K3 blue], common: K3 white/black}
pigtails:
  PT-1: {at: VB-1, gauge: 14 AWG, color: white, length: 8 in}
  PT-2: {at: VB-1, gauge: 18 AWG}
  PT-3: {at: VB-1, gauge: 14 AWG, color: white, length: 8 in}
  PT-C: {at: A, gauge: 14 AWG, color: white/red, length: 0.2 m}
joints:
  VB-1:
    - [K1 red in, A1]
    - [K1 brown in, A2]
    - [K1 white in, K1 white out, PT-1]
    - [K1 tan in, PT-2]
    - [PT-1, A1, PT-3]
    - [PT-2, K3 blue]
    - [PT-3, A2, K3 white/black]
  A:
    - [C, PT-C]
    - [PT-C, K1 white, K2 white]
    - ['1', K1 red]
    - ['2', K1 brown]
    - ['3', K1 gray]
    - ['4', K2 red]
    - ['5', K1 tan]
"""
TEXT = HEAD + CONTROLLER + YARD
AT_C = """\
    - [C, PT-C]
    - [PT-C, K1 white, K2 white]
"""
PT_C = "  PT-C: {at: A, gauge: 14 AWG, color: white/red, length: 0.2 m}\n"
TWO_C = CONTROLLER.replace("stations: 5,", "stations: 5, terminals: [C, C, 1 to 5, MV, SEN],")
