"""What the four samples take, counted by hand from their YAML; the counting stands beside it.

Wire: run + 10 % + 2 ft at each valve + 2 ft for each full 200 ft of a leg + 1.5 ft for each end of
a leg in a box + 5 ft for each at a controller, rounded up (common practice, no source).
Connectors, caps and ties: a tenth more than counted, rounded up (common practice, no source).
"""

from __future__ import annotations

Line = tuple[int, str]  # how much of what

_SMALL = "connector: small, accepts 2–5 × 18 AWG"
_UNKNOWN = "connector, type not given"
_CAP = "sealed cap for one conductor, "
_TIE = "tie, black, UV-resistant"
_CARD = "splice card, in a bag"
_LEGEND = "door legend, in a pouch"

_LARKSPUR: tuple[Line, ...] = (
    # A-K1 85 + 60 = 145: 14.5, valves A1 A2 A3 A6: 8, ends VB-1 VB-1 VB-2: 4.5, A: 5
    (177, "cable, 7 × 18 AWG"),
    # A-K2 140: 14, valves A4 A5: 4, end VB-3: 1.5, A: 5; 164.5
    (165, "cable, 5 × 18 AWG"),
    # two hots and a common in each of three boxes: 9, both whites at C of A: 1; 10 + 1
    (11, _SMALL),
    # VB-1: red, blue going on; VB-2: those two, orange, brown; VB-3: green, yellow: 8
    # A: orange and brown of A-K1, green and yellow of A-K2: 4; 12 + 1.2
    (14, f"{_CAP}18 AWG"),
    (1, "pigtail, 18 AWG, length not given"),  # at C of A
    (3, "valve box, 12 x 17 in"),
    (6, "valve tag"),
    # A-K1: white, green, yellow, orange, brown, and red and blue in two parts each: 9
    # A-K2: 5; both ends of 14
    (28, "wire flag"),
    (3, _CARD),
    (1, _LEGEND),
    (2, "end of a cable to mark with yellow tape"),  # A-K2 at A and at VB-3
    (7, _TIE),  # 6 tags, no box with a tag; 6 + 0.6
    (6, "valve, coil usual"),
    (1, "controller"),
    (1, "rain sensor"),
)

_SANDPIPER: tuple[Line, ...] = (
    # 2 + 2 + 45 + 45 + 60 = 154: 15.4, 5 valves: 10; the controller hangs in a box, so
    # 2 + 2 + 4 + 4 + 6 = 18 ends in boxes: 27; 206.4
    (207, "single conductor, red, 14 AWG"),
    (207, "single conductor, white, 14 AWG"),  # as the red ones
    # a hot and a return for each of 5 valves: 10, the five whites at C: 1; 11 + 1.1
    (13, "connector: large, accepts 1–2 × 14 AWG + 1–4 × 18 AWG; 2–6 × 14 AWG"),
    (1, "pigtail, 14 AWG, length not given"),  # at C of P
    (2, "valve box, 12 x 17 in"),  # VB-1, VB-2
    (1, "valve box, 10 in round"),  # VB-3, with one valve
    (5, "valve tag"),
    (20, "wire flag"),  # 10 conductors
    (3, _CARD),
    (1, _LEGEND),
    (6, _TIE),  # 5 tags; 5 + 0.5
    (4, "valve, coil latching"),
    (1, "master valve, coil latching"),
    (1, "controller"),
    (1, "rain sensor"),
)

_QUARRY: tuple[Line, ...] = (
    # A-K1 220, B-K1 140 + 190 + 140 + 220 = 690: 910 + 91; valves of B: 10: 20; legs of 220: 2: 4
    # ends SB-1 1, VB-3 2, VB-5 2, VB-7 2, VB-8 1 = 8: 12; A and B: 10
    (1047, "cable, 13 × 18 AWG"),
    # 3 × 80 + 3 × 170 + 2 × 300 = 1350: 135; 8 valves: 16; 3 × 2 + 3 × 4 + 2 × 6 = 30 ends: 45
    (1546, "single conductor, red, 14 AWG"),
    (355, "single conductor, white, 14 AWG"),  # 300: 30, the same 8 valves: 16, 6 ends: 9
    (339, "single conductor, orange, 14 AWG"),  # 300: 30, 6 ends: 9
    (339, "single conductor, blue, 14 AWG"),
    (142, "single conductor, black, 14 AWG"),  # 2 × 60 = 120: 12, a lead each: 4, 4 ends: 6
    # A-K2 180 + 230 + 150 = 560: 56; A9 A10a A10b A11 to A14: 14; the leg of 230: 2
    # ends VB-4 2, VB-5 2, VB-6 1 = 5: 7.5; A: 5; 644.5
    (645, "cable, 9 × 18 AWG"),
    # SB-1 11; VB-1 three hots and the common 4; VB-2 4; VB-3 A's two hots and common 3;
    # MVB-1 2: 24 + 2.4
    (27, "connector: large, accepts 1–2 × 14 AWG + 1–4 × 18 AWG; 2–5 × 14 AWG"),
    # VB-3 B's 3; VB-4 3; VB-5 5 hots, 2 commons 7; VB-6 3; VB-7 4; VB-8 3: 23; at C of A 1;
    # 24 + 2.4
    (27, _SMALL),
    # SB-1: tan, light-blue 2. A-K2: red and blue beyond VB-4, green and yellow beyond VB-5, two
    # ends each 8, black and pink 2. B-K1: red, blue beyond VB-3, green, yellow, orange beyond VB-5,
    # brown, black, pink beyond VB-7 16, tan and light-blue 2: 30 in boxes
    # A: tan, light-blue, black, pink; B: tan, light-blue: 6; 36 + 3.6
    (40, f"{_CAP}18 AWG"),
    (5, f"{_CAP}14 AWG"),  # orange and blue of A-S1 at SB-1 and at VB-3: 4 + 0.4
    (1, "pigtail, 18 AWG, length not given"),  # at C of A: A-K1 white and A-K2 white
    (1, "splice box, 12 x 17 in"),
    (9, "valve box, 12 x 17 in"),  # VB-1 to VB-8, MVB-1
    (26, "valve tag"),  # 24 stations, one of them a twin, and MV-1
    # three valves VB-1 VB-2 VB-4 VB-7, two controllers VB-3 VB-5, only splices SB-1
    (7, "box with a box tag"),
    # A-K1 13; A-S1 8 + 3 = 11; A-S2 2; A-K2 9 and 4 that go on dead = 13; B-K1 13 + 8 = 21: 60
    (120, "wire flag"),
    (10, _CARD),  # every box has joints
    (2, _LEGEND),
    (8, "end of a cable to mark with black band"),  # B-K1 has 4 legs
    (37, _TIE),  # 26 tags and 7 boxes; 33 + 3.3
    (25, "valve, coil usual"),
    (1, "master valve, coil usual"),
    (2, "controller"),
    (2, "isolating relay"),  # MV-1 is shared by A and B
)

_LARGE_OF_HERON = (
    "connector: large, accepts 1–2 × 14 AWG + 1–4 × 18 AWG; 1–2 × 12 AWG + 1–4 × 18 AWG; "
    "2–5 × 14 AWG; 2–4 × 12 AWG + 0–2 × 14 AWG"
)
_HERON_WIRE: tuple[Line, ...] = (
    # Reds, three to each box. A-N 3 × (180 + 400 + 640 + 950 + 1140 + 1400 + 1730 + 2010) = 25350
    # A-S 3 × (150 + 350 + 610 + 850 + 1150 + 1500 + 1780 + 2100) = 25470
    # B-E 3 × (90 + 260 + 470 + 730 + 970 + 1270) = 11370
    # B-W 3 × (120 + 360 + 540 + 850 + 1140 + 1500) = 13530
    # C-2 3 × (420 + 800 + 1260 + 1780) = 12780
    # 88500 + 8850; 96 valves: 192
    # loops: A-N 21 + 18 + 15 + 9 + 6 + 3 = 72; A-S 21 + 18 + 15 + 12 + 9 + 6 + 3 = 84;
    # B-E 12 + 9 + 6 + 3 = 30; B-W 15 + 9 + 6 + 3 = 33; C-2 24 + 9 + 12 + 6 = 51: 270: 540
    # ends in boxes, of the k-th valve box 2k - 1, behind the pull box 2k + 1:
    # 3 × (64 + 80 + 36 + 48 + 16) = 732: 1098; 96 at controllers: 480
    (99660, "single conductor, red, 14 AWG"),
    # 2010 + 2100 = 4110: 411; 48 valves: 96; loops 6 + 7: 26; ends 15 + 17 = 32: 48; 2 at A: 10
    (4701, "single conductor, white, 12 AWG"),
    # 2 × (2010 + 2100 + 1270 + 1500 + 1780) = 17320: 1732; loops 2 × (6 + 7 + 4 + 4 + 7) = 56: 112
    # ends 2 × (15 + 17 + 11 + 13 + 7) = 126: 189; 10 at controllers: 50
    (19403, "single conductor, orange, 14 AWG"),
    # 2010 + 2100 + 1780 = 5890: 589; loops 20: 40; ends 39: 58.5; 3 at controllers: 15; 6592.5
    (6593, "single conductor, blue, 12 AWG"),
    # 1270 + 1500 = 2770: 277; 36 valves: 72; loops 8: 16; ends 11 + 13 = 24: 36; 2 at B: 10
    (3181, "single conductor, white/blue, 14 AWG"),
    (3109, "single conductor, blue, 14 AWG"),  # the same without valves
    (546, "cable, 13 × 18 AWG"),  # 460: 46, 12 valves: 24, 7 ends: 10.5, C: 5; 545.5
    # 1780: 178; 12 valves: 24; loops 2 + 1 + 2 + 2: 14; 7 ends: 10.5; C: 5; 2011.5
    (2012, "single conductor, white/black, 12 AWG"),
    # 2 × 260: 52, a lead each: 4, loops: 4, ends: 3, A: 10
    (593, "single conductor, black, 14 AWG"),
    (72, "single conductor, black, 12 AWG"),  # 2 × 25: 5, a lead each: 4, ends: 3, A: 10
    (273, "cable, 2 × 18 AWG, shielded"),  # 240: 24, loop: 2, FS-1: 1.5, A: 5; 272.5
    # 940 + 640 + 1190 = 2770: 277; loops 3 + 2 + 4: 18; ends 5 + 4 + 8 = 17: 25.5; D: 5; 3095.5
    (3096, "cable, 2 × 14 AWG"),
    (11, "pair of wires from a decoder to its valve, 18 AWG"),  # 3 + 4 + 3 within boxes: 1
)
_HERON: tuple[Line, ...] = (
    *_HERON_WIRE,
    # three hots and a common in 32 boxes of singles: 128; MVB-A 2; PR-1 2; both sides of the path
    # at 8 decoders 16, at the tee 2: 150; at C of A and of C 2; 152 + 15.2
    (168, _LARGE_OF_HERON),
    (4, _UNKNOWN),  # leads of the flow sensor 2, of the rain sensor with both commons of B 1; 3.3
    # C-1: three hots and a common in 4 boxes: 16; two leads or wires of 18 AWG in each: 5 decoders
    # with their own leads 10, 3 with a wire between 12: 38 + 3.8
    (42, _SMALL),
    # orange: 5 home runs × 2, blue of B-E and B-W 2, in the last box and at the controller;
    # 24 + 2.4
    (27, f"{_CAP}14 AWG"),
    (7, f"{_CAP}12 AWG"),  # blue of A-N, A-S, C-2 at both ends: 6 + 0.6
    (20, f"{_CAP}18 AWG"),  # C-1: 9 hots that end before C-04 go on dead, two ends each: 18 + 1.8
    (2, "pigtail, 12 AWG, length not given"),  # at C of A and of C
    (1, "pull box, 12 x 17 in"),
    (45, "valve box, 12 x 17 in"),  # A 16, B 12, C 8, MVB-A, DX 8
    (1, "wall box, 8 x 8 in"),
    (1, "splice box, 10 in round"),
    (1, "splice box, 12 x 17 in"),
    (118, "valve tag"),  # 116 stations, master valve, relay
    (39, "box with a box tag"),  # 36 with three valves, PB-1, FS-1, DT-1
    # A-N 28, A-S 28, B-E 22, B-W 22, C-1 13 + 9 = 22, C-2 16, A-M 2, A-P 2, A-F 2, D 6: 150
    (300, "wire flag"),
    (48, _CARD),  # 36 + MVB-A, PR-1, FS-1, DT-1 + 8; nothing is joined in PB-1
    (4, _LEGEND),
    (173, _TIE),  # 118 tags and 39 boxes; 157 + 15.7
    (116, "valve, coil usual"),
    (1, "master valve, coil usual"),
    (1, "pump start relay, coil relay"),
    (4, "controller"),
    (8, "decoder"),
    (3, "surge unit with its ground"),
    (1, "flow sensor"),
    (2, "rain sensor"),
)

TABLES = {"larkspur": _LARKSPUR, "sandpiper": _SANDPIPER, "quarry": _QUARRY, "heron": _HERON}
