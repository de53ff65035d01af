"""The demo shop: an invented one, in litres, °Brix and % by volume."""

from datetime import date

SERVER = "http://127.0.0.1:8787"
READ_ON = date(2026, 3, 2)

# Machine, full at, in the sump, reads, factor, band (low, target, high), keep above,
# lost to the air a day, carried off a day, remark. What is None comes from the log.
MACHINES = [
    ("lathe 1", 180, None, None, 1.25, (5.5, 6.0, 7.0), 120, None, None, "kept in the log"),
    ("lathe 2", 180, 150, 4.9, 1.25, (5.5, 6.0, 7.0), 120, 5.0, 2.0, ""),
    ("lathe 3", 220, 214, 6.4, 1.25, (5.5, 6.0, 7.0), 150, 6.0, 3.0, "full, and far too strong"),
    ("lathe 4", 140, 96, 5.2, 1.25, (5.5, 6.0, 7.0), 90, 4.0, 1.5, ""),
    ("turning cell", 320, None, None, 1.25, (5.5, 6.0, 7.0), 220, None, None, "kept in the log"),
    ("machining centre 1", 400, 310, 6.1, 1.25, (7.0, 8.0, 9.0), 280, 12.0, 5.0, ""),
    ("machining centre 2", 400, 372, 6.7, 1.25, (7.0, 8.0, 9.0), 280, 11.0, 6.0, ""),
    ("machining centre 3", 450, 298, 5.3, 1.25, (7.0, 8.0, 9.0), 310, 13.0, 7.5, "below its least level"),
    ("machining centre 4", 380, 340, 7.4, 1.25, (7.0, 8.0, 9.0), 260, 10.0, 4.5, ""),
    ("machining centre 7", 200, 140, 5.6, 1.25, (7.0, 8.0, 9.0), 130, 6.5, 3.0, ""),
    ("five-axis mill", 650, None, None, 1.25, (7.0, 8.0, 9.0), 450, None, None, "kept in the log"),
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

# Date, machine, reads, in the sump, added, how strong it was, remark. Simulated day by day from losses and
# scatter of our own, and rounded as one reads; one addition to the turning cell is left out on purpose.
LOG = [
    (date(2026, 2, 5), "lathe 1", 4.8, 178, None, None, None),
    (date(2026, 2, 6), "lathe 1", 4.9, 169, None, None, None),
    (date(2026, 2, 9), "lathe 1", 5.4, 146, None, None, None),
    (date(2026, 2, 10), "lathe 1", 5.6, 141, None, None, None),
    (date(2026, 2, 11), "lathe 1", 5.9, 130, None, None, None),
    (date(2026, 2, 12), "lathe 1", 6.1, 124, 60, 2.5, None),
    (date(2026, 2, 13), "lathe 1", 4.9, 175, None, None, None),
    (date(2026, 2, 16), "lathe 1", 5.4, 149, None, None, None),
    (date(2026, 2, 17), "lathe 1", 5.6, 140, None, None, None),
    (date(2026, 2, 18), "lathe 1", 5.9, 132, None, None, None),
    (date(2026, 2, 19), "lathe 1", 6.1, 126, 55, 2.0, None),
    (date(2026, 2, 20), "lathe 1", 4.8, 173, None, None, None),
    (date(2026, 2, 23), "lathe 1", 5.5, 149, None, None, None),
    (date(2026, 2, 24), "lathe 1", 5.6, 142, None, None, None),
    (date(2026, 2, 25), "lathe 1", 5.8, 132, None, None, None),
    (date(2026, 2, 26), "lathe 1", 6.0, 124, 55, 2.0, None),
    (date(2026, 2, 27), "lathe 1", 5.0, 170, None, None, None),
    (date(2026, 3, 2), "lathe 1", 5.5, 145, None, None, None),
    (date(2026, 2, 9), "turning cell", 5.0, 296, None, None, None),
    (date(2026, 2, 10), "turning cell", 5.1, 288, None, None, None),
    (date(2026, 2, 11), "turning cell", 5.3, 273, None, None, None),
    (date(2026, 2, 12), "turning cell", 5.6, 263, None, None, None),
    (date(2026, 2, 13), "turning cell", 5.8, 250, None, None, None),
    (date(2026, 2, 16), "turning cell", 6.6, 209, 110, 2.0, None),
    (date(2026, 2, 17), "turning cell", 5.0, 303, None, None, None),
    (date(2026, 2, 18), "turning cell", 5.1, 289, None, None, None),
    (date(2026, 2, 19), "turning cell", 5.3, 281, None, None, None),
    (date(2026, 2, 20), "turning cell", 5.6, 265, None, None, None),
    (date(2026, 2, 23), "turning cell", 6.1, 227, None, None, None),
    (date(2026, 2, 24), "turning cell", 4.9, 309, None, None, None),
    (date(2026, 2, 25), "turning cell", 5.1, 295, None, None, None),
    (date(2026, 2, 26), "turning cell", 5.3, 288, None, None, None),
    (date(2026, 2, 27), "turning cell", 5.5, 270, None, None, None),
    (date(2026, 3, 2), "turning cell", 6.0, 236, None, None, None),
    (date(2026, 2, 4), "five-axis mill", 6.5, 640, None, None, None),
    (date(2026, 2, 5), "five-axis mill", 6.6, 615, None, None, None),
    (date(2026, 2, 6), "five-axis mill", 6.8, 585, None, None, None),
    (date(2026, 2, 9), "five-axis mill", 7.5, 525, None, None, None),
    (date(2026, 2, 10), "five-axis mill", 7.7, 500, None, None, None),
    (date(2026, 2, 11), "five-axis mill", 8.0, 475, None, None, None),
    (date(2026, 2, 12), "five-axis mill", 8.3, 440, 200, 3.0, None),
    (date(2026, 2, 13), "five-axis mill", 6.6, 625, None, None, None),
    (date(2026, 2, 16), "five-axis mill", 7.1, 545, None, None, None),
    (date(2026, 2, 17), "five-axis mill", 7.4, 525, None, None, None),
    (date(2026, 2, 18), "five-axis mill", 7.6, 505, None, None, None),
    (date(2026, 2, 19), "five-axis mill", 7.8, 485, None, None, None),
    (date(2026, 2, 20), "five-axis mill", 8.2, 460, 195, 3.0, None),
    (date(2026, 2, 23), "five-axis mill", 7.1, 575, None, None, None),
    (date(2026, 2, 24), "five-axis mill", 7.2, 560, None, None, None),
    (date(2026, 2, 25), "five-axis mill", 7.3, 530, None, None, None),
    (date(2026, 2, 26), "five-axis mill", 7.6, 505, None, None, None),
    (date(2026, 2, 27), "five-axis mill", 7.9, 485, None, None, None),
    (date(2026, 3, 2), "five-axis mill", 8.7, 410, None, None, None),
]

# The day of the round that the sheet Checks has.
ROUND_OF = READ_ON
SUNDAY, FRIDAY, MONDAY_BEFORE = date(2026, 3, 1), date(2026, 2, 27), date(2026, 2, 23)

# Machine, seen on, smell, look, foam, rust, complaints, pH, pH when filled, pH on, bacteria, fungi, dipped
# on, nitrite and the two results before, nitrite on, filled on, works, remark.
GOOD = ("fresh", "as new", "none", "none", "no")
EVERY = "every day"
CHECKS = [
    (
        *("lathe 1", ROUND_OF, *GOOD, 9.1, 9.2, FRIDAY, 1000, "none", MONDAY_BEFORE),
        *(4, 6, 3, date(2026, 2, 9), date(2025, 9, 15), EVERY, None),
    ),
    (
        *("lathe 2", ROUND_OF, "fresh", "oil on top", "none", "none", "no", 8.9, 9.2, FRIDAY, 1000, "none"),
        *(FRIDAY, 5, 4, 8, FRIDAY, date(2025, 8, 4), EVERY, "way oil from the saddle"),
    ),
    (
        *("lathe 3", ROUND_OF, *GOOD, 9.3, 9.2, FRIDAY, 1000, "none", FRIDAY),
        *(2, 3, 2, date(2026, 2, 16), date(2025, 10, 6), EVERY, None),
    ),
    (
        *("lathe 4", ROUND_OF, *GOOD, 8.6, 9.2, MONDAY_BEFORE, 10000, "slight", date(2026, 2, 16)),
        *(11, 9, 9, MONDAY_BEFORE, date(2025, 3, 17), EVERY, None),
    ),
    (
        *("turning cell", ROUND_OF, "musty", "darker", "none", "none", "no", 8.8, 9.2, FRIDAY),
        *(100000, "none", FRIDAY, 7, 6, 5, FRIDAY, date(2025, 6, 2), EVERY, None),
    ),
    (
        *("machining centre 1", ROUND_OF, *GOOD, 9.0, 9.1, FRIDAY, 1000, "none", FRIDAY),
        *(3, 3, 4, date(2026, 2, 9), date(2025, 11, 3), EVERY, None),
    ),
    (
        *("machining centre 3", ROUND_OF, "fresh", "as new", "some", "none", "no", 9.0, 9.1, FRIDAY),
        *(1000, "none", FRIDAY, 3, 2, 4, date(2026, 2, 9), date(2025, 11, 3), EVERY, None),
    ),
    (
        *("knee mill", ROUND_OF, "fresh", "as new", "none", "none", "yes", 9.0, 9.1, FRIDAY),
        *(1000, "none", FRIDAY, 2, 2, 2, date(2026, 2, 9), date(2025, 12, 1), "now and then"),
        "rash on both hands",
    ),
    (
        *("band saw 2", ROUND_OF, "fresh", "as new", "none", "on parts", "no", 8.9, 9.0, FRIDAY),
        *(1000, "none", FRIDAY, None, None, None, None, date(2025, 9, 1), "now and then", None),
    ),
    (
        *("surface grinder", ROUND_OF, *GOOD, 9.2, 9.3, FRIDAY, 1000, "none", FRIDAY),
        *(1, 2, 1, date(2026, 2, 16), date(2026, 1, 12), EVERY, None),
    ),
    (
        *("cylindrical grinder", FRIDAY, *GOOD, None, 9.3, None, None, None, None),
        *(None, None, None, None, date(2025, 12, 8), "stands", "stands since the 20th"),
    ),
    (
        *("deep-hole drill", ROUND_OF, "fresh", "slimy", "none", "none", "no", 8.3, 9.1, FRIDAY),
        *(2000000, "moderate", FRIDAY, 14, 12, 9, FRIDAY, date(2025, 4, 7), EVERY, None),
    ),
]
