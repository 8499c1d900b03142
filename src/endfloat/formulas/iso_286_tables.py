"""Tables of ISO 286-1 up to 500 mm, in micrometres, and which row a size falls in."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
MICROMETRE = 1e-6
"""The unit of the tables."""
LARGEST = 0.5
"""The tables end here, in metres."""

GRADES = ("01", "0", *(str(grade) for grade in range(1, 19)))
_MAIN = "3 6 10 18 30 50 80 120 180 250 315 400 500"
_FINE = "3 6 10 14 18 24 30 40 50 65 80 100 120 140 160 180 200 225 250 280 315 355 400 450 500"

# A row for each range of sizes, in the order of _MAIN; a column for each grade.
_TOLERANCES = """
0.3 0.5 0.8 1.2 2   3  4  6  10 14 25  40  60  100 140 250  400  600  1000 1400
0.4 0.6 1   1.5 2.5 4  5  8  12 18 30  48  75  120 180 300  480  750  1200 1800
0.4 0.6 1   1.5 2.5 4  6  9  15 22 36  58  90  150 220 360  580  900  1500 2200
0.5 0.8 1.2 2   3   5  8  11 18 27 43  70  110 180 270 430  700  1100 1800 2700
0.6 1   1.5 2.5 4   6  9  13 21 33 52  84  130 210 330 520  840  1300 2100 3300
0.6 1   1.5 2.5 4   7  11 16 25 39 62  100 160 250 390 620  1000 1600 2500 3900
0.8 1.2 2   3   5   8  13 19 30 46 74  120 190 300 460 740  1200 1900 3000 4600
1   1.5 2.5 4   6   10 15 22 35 54 87  140 220 350 540 870  1400 2200 3500 5400
1.2 2   3.5 5   8   12 18 25 40 63 100 160 250 400 630 1000 1600 2500 4000 6300
2   3   4.5 7   10  14 20 29 46 72 115 185 290 460 720 1150 1850 2900 4600 7200
2.5 4   6   8   12  16 23 32 52 81 130 210 320 520 810 1300 2100 3200 5200 8100
3   5   7   9   13  18 25 36 57 89 140 230 360 570 890 1400 2300 3600 5700 8900
4   6   8   10  15  20 27 40 63 97 155 250 400 630 970 1550 2500 4000 6300 9700
"""

# Fundamental deviations of shafts without their sign: from a to h it is that of the upper limit and negative, from k
# to z that of the lower limit and positive. A dash stands where the standard has none.
_DEVIATIONS = {
    "a": "270 270 280 290 290 300 300 310 320 340 360 380 410 460 520 580 660 740 820 920 1050 1200 1350 1500 1650",
    "b": "140 140 150 150 150 160 160 170 180 190 200 220 240 260 280 310 340 380 420 480 540 600 680 760 840",
    "c": "60 70 80 95 95 110 110 120 130 140 150 170 180 200 210 230 240 260 280 300 330 360 400 440 480",
    "d": "20 30 40 50 65 80 100 120 145 170 190 210 230",
    "e": "14 20 25 32 40 50 60 72 85 100 110 125 135",
    "f": "6 10 13 16 20 25 30 36 43 50 56 62 68",
    "g": "2 4 5 6 7 9 10 12 14 15 17 18 20",
    "h": "0 0 0 0 0 0 0 0 0 0 0 0 0",
    "k": "0 1 1 1 2 2 2 3 3 4 4 4 5",
    "m": "2 4 6 7 8 9 11 13 15 17 20 21 23",
    "n": "4 8 10 12 15 17 20 23 27 31 34 37 40",
    "p": "6 12 15 18 22 26 32 37 43 50 56 62 68",
    "r": "10 15 19 23 23 28 28 34 34 41 43 51 54 63 65 68 77 80 84 94 98 108 114 126 132",
    "s": "14 19 23 28 28 35 35 43 43 53 59 71 79 92 100 108 122 130 140 158 170 190 208 232 252",
    "t": "- - - - - - 41 48 54 66 75 91 104 122 134 146 166 180 196 218 240 268 294 330 360",
    "u": "18 23 28 33 33 41 48 60 70 87 102 124 144 170 190 210 236 258 284 315 350 390 435 490 540",
    "v": "- - - - 39 47 55 68 81 102 120 146 172 202 228 252 284 310 340 385 425 475 530 595 660",
    "x": "20 28 34 40 45 54 64 80 97 122 146 178 210 248 280 310 350 385 425 475 525 590 660 740 820",
    "y": "- - - - - 63 75 94 114 144 174 214 254 300 340 380 425 470 520 580 650 730 820 920 1000",
    "z": "26 35 42 50 60 73 88 112 136 172 210 258 310 365 415 465 520 575 640 710 790 900 1000 1100 1250",
}
LOOSE = ("a", "b", "c", "d", "e", "f", "g", "h")
TIGHT = ("k", "m", "n", "p", "r", "s", "t", "u", "v", "x", "y", "z")
LETTERS = (*LOOSE, "js", *TIGHT)


@cache
def _numbers(text: str) -> Array:
    return np.array([np.nan if word == "-" else float(word) for word in text.split()])


def row(nominal: float | Array, bounds: str = _MAIN) -> NDArray[np.intp]:
    """The range of a size: over one bound, up to and with the next. A part in 1e12 over a bound counts as on it."""
    return np.searchsorted(_numbers(bounds), np.asarray(nominal) * (1 - 1e-12) / (LARGEST / 500))


def tolerance(nominal: float | Array, grade: str) -> Array:
    """Width of a grade, in metres; the grade is one of GRADES."""
    table: Array = _numbers(_TOLERANCES).reshape(-1, len(GRADES))
    width: Array = table[row(nominal), GRADES.index(grade)]
    return width * MICROMETRE


def deviation(nominal: float | Array, letter: str) -> Array:
    """Fundamental deviation of a shaft without its sign, in metres; not a number where the standard has none."""
    values = _numbers(_DEVIATIONS[letter])
    found: Array = values[row(nominal, _MAIN if len(values) == len(_MAIN.split()) else _FINE)]
    return found * MICROMETRE
