"""The ten sets of the bound annual."""

from __future__ import annotations

from .makers import make
from .schematic import MODERN, OLD, TRANSFORMER, Circuit, superhet

MINI = "12BE6 12BA6 12AV6 50C5 35W4"
OCTAL_AC = "6SA7 6SK7 6SQ7 6V6 5Y3"
OLD_AC = "6A7 6D6 75 41 80"
CONSOLE = "6SK7 6SA7 6SK7 6SQ7 6U5 6SN7 6V6 6V6 5U4"
FARM = "1A7 1N5 1H5 1A5"
CAR = "6SK7 6SA7 6SK7 6SQ7 6V6 0Z4"
OCTAL_DC = "12SA7 12SK7 12SQ7 50L6 35Z5"
FM_AM = "6BA6 6BE6 6BA6 6AU6 6AL5 6AT6 6AQ5 6X4"
MINI_AC = "6BE6 6BA6 6AT6 6AQ5 6X4"
PORTABLE = "1L6 1U4 1U5 3V4 117Z3"

_AC = {**MODERN, **TRANSFORMER}
_RF_ROW = (
    ("front", "aerial", "C1A"),
    ("rf", "6SK7"),
    ("front", "rf", "C1B"),
    ("conv", "6SA7", "C1C"),
)
_CONSOLE = Circuit(
    (
        _RF_ROW,
        (("if", "6SK7", "2ND I.F. TRANSFORMER", "1"), ("det", "6SQ7"), ("eye", "6U5")),
        (("push-pull", "6SN7", "6V6", "6V6"),),
    ),
    "transformer",
    {**_AC, "first": "30", "second": "20"},
)
_FM = Circuit(
    (
        (
            ("front", "aerial", "C1A"),
            ("rf", "6BA6"),
            ("front", "rf", "C1B"),
            ("conv", "6BE6", "C1C"),
        ),
        (
            ("if", "6BA6", "2ND I.F. TRANSFORMER", "0"),
            ("if", "6AU6", "RATIO DET. TRANSFORMER", "1"),
            ("ratio", "6AL5"),
        ),
        (("audio", "6AT6"), ("out", "6AQ5")),
    ),
    "transformer",
    {**_AC, "choke": "FILTER CHOKE 4 HENRYS", "first": "40", "second": "40"},
)

T5D10 = make(
    "Tillbrook",
    "tillbrook-5d10",
    "MODELS 5D10, -11, -12",
    "5D10, 5D11, 5D12",
    "CH-41A",
    MINI,
    "series string",
    superhet(MINI.split(), "series string", "loop"),
    year=1951,
    printed_models=("5D10, -11, -12",),
    notes="One side of the line is joined to the common negative. Use an isolating transformer and "
    "keep hands clear of the chassis and shafts while the plug is in.|The three models differ"
    " only in the cabinet. The same chassis is also used in other cabinets.|If the heaters do"
    " not light, test the 35W4 first: the section between pins 4 and 6 feeds the pilot lamp "
    "and opens when the lamp is left out.|Hum that rises with the set warm is most often C8. "
    "Replace both sections together.",
)
Q60 = make(
    "Quarrydale",
    "quarrydale-60-210",
    "MODELS 60-210 through 60-215",
    "60-210, 60-211, 60-212, 60-213, 60-214, 60-215",
    "60-21",
    OCTAL_AC,
    "transformer",
    superhet(OCTAL_AC.split(), "transformer", "aerial"),
    year=1941,
    plate_v=250,
    printed_models=("60-210 through 60-215",),
    notes="Models 60-210, 60-212 and 60-214 are table sets. The odd numbers are consoles with a 10 "
    "inch speaker.|Unplug the speaker only with the set switched off, for its field is the "
    "filter choke and C8 may be damaged by the rise in voltage.",
)
O84 = make(
    "Oxbarrow",
    "oxbarrow-84w",
    "MODEL 84W",
    "84W",
    "11-B",
    OLD_AC,
    "transformer",
    superhet(OLD_AC.split(), "transformer", "aerial", OLD),
    if_khz=175,
    year=1935,
    plate_v=240,
    notes="Replace the 80 when the voltage across C9 falls below 200 with the line at 117 "
    "volts.|The shields of the 6A7 and the 6D6 must make good contact with the chassis, or "
    "the set whistles over the upper half of the dial.",
)
VC700 = make(
    "Vantrice",
    "vantrice-c-700",
    "MODEL C-700",
    "C-700",
    "700-P",
    CONSOLE,
    "transformer",
    _CONSOLE,
    year=1947,
    plate_v=260,
    notes="The two 6V6 tubes should be a pair: their cathode currents must agree within 10 per "
    "cent, or the output transformer hums.|A dim eye with good reception needs a new 6U5 and "
    "nothing else. Check R9 when the eye does not close on a strong station.",
)
LF41 = make(
    "Larkmoor",
    "larkmoor-f-41",
    "MODEL F-41",
    "F-41",
    "LK-4F",
    FARM,
    "battery",
    superhet(FARM.split(), "battery", "aerial"),
    year=1941,
    notes="This receiver is made for homes without power lines. It takes one pack with a 1.5 volt A"
    " section and a 90 volt B section. The filament drain is .2 ampere; a fresh pack serves "
    "about 1,000 hours at three hours a day.|Never put a tube in its socket, or take one out,"
    " with the pack connected and the switch on. A slip of the base pins can put the B "
    "voltage across the filaments.|When the volume falls, measure both sections with the set "
    "playing. Discard the pack when the A section is below 1.1 volts or the B section below "
    "60 volts.|A loud hum or a howl on strong stations is most often C7 open. Try another 10 "
    "mfd unit across it before any other test.",
)
T67 = make(
    "Tillbrook",
    "tillbrook-t-67",
    "MODEL T-67",
    "T-67",
    "CH-67",
    CAR,
    "vibrator",
    superhet(CAR.split(), "vibrator", "aerial"),
    if_khz=262,
    year=1949,
    plate_v=225,
    notes="Use a high resistance voltmeter when checking the vibrator supply. If the fuse opens "
    "again with the vibrator out of its socket, look for a shorted hash capacitor or a "
    "grounded A lead.|The buffer capacitor C11 must be replaced with one of the same capacity"
    " and at least the same rated voltage whenever a new vibrator is put in.|Ignition noise "
    "that stops when the aerial is unplugged enters by the aerial lead. Scrape the paint from"
    " the fender under the aerial base and tighten it.|The 0Z4 gas rectifier glows faintly in"
    " use and needs the full load to start. A set that hums without sound for a minute and "
    "then plays needs a new 0Z4.",
)
L62 = make(
    "Larkmoor",
    "larkmoor-62",
    "MODELS 62-A, 62-B",
    "62-A, 62-B",
    "LK-62",
    OCTAL_DC,
    "series string",
    superhet(
        OCTAL_DC.split(),
        "series string",
        "loop",
        {"first": "40", "second": "20", "osc cap": "50", "coupling": ".02"},
    ),
    year=1946,
    notes="Model 62-A has a walnut cabinet and model 62-B an ivory one.|The chassis is live with "
    "the plug one way round. Use an isolating transformer for all work.",
)
QFM = make(
    "Quarrydale",
    "quarrydale-fm-88",
    "MODEL FM-88",
    "FM-88",
    "88-F",
    FM_AM,
    "transformer",
    _FM,
    year=1950,
    plate_v=220,
    notes="The F.M. band must be aligned only after the A.M. band. Both use the same I.F. amplifier"
    " tubes, with the 10.7 mc and the 455 kc windings in series in each can.|A whistle near "
    "the low end of the F.M. band is most often a weak 6BE6. Try several: not every tube of "
    "this type will oscillate well at 118 mc.|If the tuning drifts for more than ten minutes,"
    " replace the ceramic capacitor across the F.M. oscillator coil with one of the same "
    "temperature mark.|Hum on F.M. only comes from heater to cathode leakage in the 6AL5.",
)
O207 = make(
    "Oxbarrow",
    "oxbarrow-207",
    "MODEL 207",
    "207",
    "21-C",
    MINI_AC,
    "transformer",
    superhet(MINI_AC.split(), "transformer", "loop", {"choke": "FILTER CHOKE 3 HENRYS"}),
    year=1950,
    plate_v=200,
    notes="The loop is fixed to the back. Make the last alignment step with the back in place.|The "
    "6X4 works close to its limit. Put in a new one when the filter capacitors have been "
    "replaced after a short.",
)
V3W4 = make(
    "Vantrice",
    "vantrice-3w-4",
    "MODEL 3W-4",
    "3W-4",
    "34-B",
    PORTABLE,
    "battery and line",
    superhet(PORTABLE.split(), "battery and line", "loop"),
    plate_v=85,
    notes="Always put the switch to OFF and wait half a minute before going from line to battery, "
    "so that the charge left in C8 does not pass through the filaments.|On the line the "
    "chassis may be live. Use an isolating transformer.",
)

ALL = (T5D10, Q60, O84, VC700, LF41, T67, L62, QFM, O207, V3W4)
