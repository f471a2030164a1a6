"""The sets outside the annual: booklet, multi-frame scan and loose sheets."""

from __future__ import annotations

from .makers import make
from .schematic import MODERN, OLD, Circuit, superhet

LOCTAL = "14Q7 14A7 14B6 50A5 35Y4"
OCTAL_35 = "12SA7 12SK7 12SQ7 35L6 35Z5"
EUROPEAN = "UCH42 UF41 UBC41 UL41 UY41"
TRF = "24A 24A 47 80"
EARLY = "2A7 58 2A6 2A5 80"
METAL = "6A8 6K7 6Q7 6F6 5Y3"
SIX = "12SK7 12SA7 12SK7 12SQ7 35L6 35Z5"

L7L = make(
    "Larkmoor",
    "larkmoor-7l-22",
    "MODEL 7L-22",
    "7L-22",
    "LK-7L",
    LOCTAL,
    "series string",
    superhet(LOCTAL.split(), "series string", "loop", {"first": "30", "second": "30"}),
    year=1948,
    notes="The lock-in tubes of this receiver are freed by a sideways pressure before they are "
    "lifted. Do not pull on the glass.|One side of the line is joined to the chassis through "
    "the switch. Work on the set only with an isolating transformer between it and the "
    "line.|The pilot lamp is fed from the tap on the rectifier heater. Play the set with the "
    "lamp in place, or the heater section carries too much current.|Check the 14Q7 first when"
    " the upper half of the dial is dead.",
)
L48K = make(
    "Larkmoor",
    "larkmoor-48-k",
    "MODEL 48-K",
    "48-K",
    "LK-48",
    OCTAL_35,
    "series string",
    superhet(
        OCTAL_35.split(),
        "series string",
        "loop",
        {"string resistor": "75", "first": "20", "second": "20"},
    ),
    year=1948,
    notes="A resistor of 75 ohms makes up the heater string. It runs hot: keep the wax capacitors "
    "away from it.|One side of the line is on the chassis through the switch. Use an "
    "isolating transformer.",
)
HU510 = make(
    "Halvorne",
    "halvorne-u-510",
    "MODEL U 510",
    "U 510",
    "510",
    EUROPEAN,
    "series string",
    superhet(
        EUROPEAN.split(),
        "series string",
        "aerial",
        {
            "string amps": ".1 AMP",
            "filter": "1,500",
            "line": "110-127 V A.C. OR D.C.",
            "output bias": "140",
        },
    ),
    if_khz=470,
    year=1952,
    plate_v=110,
    notes="All five valves have the 8-pin base with a locating pip on the glass. Turn the valve "
    "until the pip lies in its slot before pressing it down.|The chassis is joined to the "
    "mains. The grub screws of the knobs must be covered with wax again after service.",
)
O31T = make(
    "Oxbarrow",
    "oxbarrow-31-t",
    "MODEL 31-T",
    "31-T",
    "",
    TRF,
    "transformer",
    Circuit(
        (
            (
                ("front", "aerial", "C1A"),
                ("rf", "24A"),
                ("front", "rf", "C1B"),
                ("plate det", "24A"),
                ("out", "47"),
            ),
        ),
        "transformer",
        {**MODERN, **OLD, "a.c. filament": "1", "no avc": "1"},
    ),
    if_khz=0,
    year=1931,
    plate_v=235,
    notes="Oscillation near the top of the dial is cured by a new screen bypass capacitor or by "
    "seating the shields of the 24A tubes.|The 47 should be matched to the hum control by "
    "ear.",
)
QQ58 = make(
    "Quarrydale",
    "quarrydale-q-58",
    "MODEL Q-58",
    "Q-58",
    "Q-5",
    EARLY,
    "transformer",
    superhet(EARLY.split(), "transformer", "aerial", OLD),
    if_khz=456,
    year=1934,
    plate_v=240,
    notes="The heaters are wired for 2.5 volts at high current. Clean the pins of the sockets "
    "before blaming a tube.|Early sets have no shield on the 2A6.",
)
VM37 = make(
    "Vantrice",
    "vantrice-m-37",
    "MODEL M-37",
    "M-37",
    "37-5",
    METAL,
    "transformer",
    superhet(
        METAL.split(), "transformer", "aerial", {**OLD, "a.v.c.": "2 MEG", "output bias": "410"}
    ),
    if_khz=465,
    year=1937,
    plate_v=245,
    notes="The metal tubes must have their shells joined to the chassis by pin 1.|When the dial "
    "cord slips, put powdered rosin on the shaft and not on the drum.",
)
O190 = make(
    "Oxbarrow",
    "oxbarrow-190-x",
    "MODEL 190-X",
    "190-X",
    "19-D",
    SIX,
    "series string",
    superhet(SIX.split(), "series string", "aerial", {"filter": "2,200", "if bias": "100"}),
    year=1947,
    notes="The six heaters make 120.4 volts. Never bridge one to find an open tube.|The chassis is "
    "live: use an isolating transformer.",
)
BOOKLET = (L7L, L48K)
LOOSE = (HU510, O31T, QQ58, VM37, O190)
