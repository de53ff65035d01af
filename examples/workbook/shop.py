"""The demo shop's readings: an invented shop, in litres, °Brix and % by volume."""

from datetime import date

READ_ON = date(2026, 3, 2)

# Machine, full at, in the sump, reads, factor, band (low, target, high), keep above,
# lost to the air a day, carried off a day, remark.
MACHINES = [
    ("lathe 1", 180, 132, 4.1, 1.25, (5.5, 6.0, 7.0), 120, 5.5, 2.5, ""),
    ("lathe 2", 180, 150, 4.9, 1.25, (5.5, 6.0, 7.0), 120, 5.0, 2.0, ""),
    ("lathe 3", 220, 214, 6.4, 1.25, (5.5, 6.0, 7.0), 150, 6.0, 3.0, "full, and far too strong"),
    ("lathe 4", 140, 96, 5.2, 1.25, (5.5, 6.0, 7.0), 90, 4.0, 1.5, ""),
    ("turning cell", 320, 255, 4.6, 1.25, (5.5, 6.0, 7.0), 220, 9.0, 4.0, ""),
    ("machining centre 1", 400, 310, 6.1, 1.25, (7.0, 8.0, 9.0), 280, 12.0, 5.0, ""),
    ("machining centre 2", 400, 372, 6.7, 1.25, (7.0, 8.0, 9.0), 280, 11.0, 6.0, ""),
    ("machining centre 3", 450, 298, 5.3, 1.25, (7.0, 8.0, 9.0), 310, 13.0, 7.5, "below its least level"),
    ("machining centre 4", 380, 340, 7.4, 1.25, (7.0, 8.0, 9.0), 260, 10.0, 4.5, ""),
    ("machining centre 7", 200, 140, 5.6, 1.25, (7.0, 8.0, 9.0), 130, 6.5, 3.0, ""),
    ("five-axis mill", 650, 540, 6.3, 1.25, (7.0, 8.0, 9.0), 450, 16.0, 8.0, ""),
    ("knee mill", 60, 41.5, 3.8, 1.25, (5.0, 6.0, 7.0), 35, 1.5, 0.5, ""),
    (
        "gear hobber",
        260,
        270,
        5.8,
        1.25,
        (7.0, 8.0, 9.0),
        190,
        6.0,
        4.0,
        "a slip left in on purpose: fuller than full",
    ),
    ("band saw 1", 45, 30, 7.1, 1.1, (6.0, 7.0, 8.5), 25, 1.0, 0.6, ""),
    ("band saw 2", 45, 22, 5.9, 1.1, (6.0, 7.0, 8.5), 25, 1.0, 0.6, "below its least level"),
    ("surface grinder", 250, 205, 1.9, 1.6, (2.5, 3.0, 4.0), 180, 7.0, 2.0, ""),
    ("cylindrical grinder", 300, 262, 1.4, 1.6, (2.5, 3.0, 4.0), 220, 8.0, 2.5, ""),
    ("deep-hole drill", 900, 760, 8.9, 1.15, (9.0, 10.0, 11.5), 650, 14.0, 9.0, ""),
]
