"""How volumes name and head things. Two splits that share no house style and no maker."""

from dataclasses import dataclass

from indexer.model import PageKind


@dataclass(frozen=True)
class House:
    """One volume's house style. Patterns take {M} maker in capitals, {m} maker, {models},
    {chassis}; `header` is the running header of later pages ("" for none)."""

    masthead: tuple[str, ...]  # lines from the top, "L|R" sets two pieces apart
    header: str
    headings: dict[PageKind, tuple[str, ...]]
    line_up: str  # "numbered", "running", "counted", "chart only"
    folio: str  # "foot", "outer", "header", "page"
    index: str  # "leaders", "headed", "dashed", "columns"
    joiner: str = ", "  # between models
    continued: str = "(Continued)"
    publication_on: str = "every"  # or "cover"
    capitals: bool = True


K = PageKind
MAKERS = {
    "look": ("Tillbrook", "Quarrydale", "Oxbarrow", "Vantrice", "Larkmoor", "Brennock",
             "Haldersey", "Sandrell", "Wexmoor", "Dorrigan", "Pellhurst", "Yarrowgate"),
    "report": ("Ansterlow", "Dunmarrow", "Quellgate", "Marrowby", "Tarnholt", "Eskmere",
               "Fallowick", "Hesperwick", "Ironmarsh", "Jorvane", "Kelderstone", "Unthorpe"),
}  # fmt: skip
PUBLICATION = {
    "look": "SERVICE ANNUAL of the WRENFIELD TRADE PRESS",
    "report": "COLTBRIDGE RADIO SERVICE MANUAL",
}
VOLUME = {"look": ("VOLUME {n}", "VOL. {r}", "Volume {n}"),
          "report": ("VOL. {n}", "Volume {r}", "VOLUME {r}")}  # fmt: skip

_LOOK_A = {
    K.SCHEMATIC: ("SCHEMATIC DIAGRAM", "CIRCUIT DIAGRAM"),
    K.PARTS_LIST: ("PARTS LIST", "REPLACEMENT PARTS LIST"),
    K.ALIGNMENT: ("ALIGNMENT PROCEDURE", "ALIGNMENT"),
    K.VOLTAGE_CHART: ("VOLTAGE CHART", "SOCKET VOLTAGES"),
    K.RESISTANCE_CHART: ("RESISTANCE CHART", "RESISTANCE READINGS"),
    K.TUBE_LAYOUT: ("TUBE LAYOUT", "TUBE LOCATIONS"),
    K.CHASSIS_VIEW: ("CHASSIS TOP VIEW", "BOTTOM VIEW OF CHASSIS"),
    K.DIAL_STRINGING: ("DIAL CORD STRINGING", "DIAL STRINGING"),
    K.SERVICE_NOTES: ("SERVICE NOTES", "GENERAL INFORMATION"),
}
_LOOK_B = {
    K.SCHEMATIC: ("Wiring Diagram", "Schematic"),
    K.PARTS_LIST: ("List of Replacement Parts", "Service Parts"),
    K.ALIGNMENT: ("Aligning the Receiver", "How to Align"),
    K.VOLTAGE_CHART: ("Voltages at Sockets", "Table of Voltages"),
    K.RESISTANCE_CHART: ("Point-to-Point Resistances", "Table of Resistances"),
    K.TUBE_LAYOUT: ("Location of Tubes", "Position of Tubes"),
    K.CHASSIS_VIEW: ("View of Chassis from Above", "Chassis, Underside"),
    K.DIAL_STRINGING: ("Replacing the Dial Cord", "Dial Drive"),
    K.SERVICE_NOTES: ("Notes for the Service Man", "Description"),
}
_LOOK_C = {
    K.SCHEMATIC: ("SCHEMATIC CIRCUIT", "FIG. 1 - SCHEMATIC"),
    K.PARTS_LIST: ("COMPONENT PARTS", "PARTS AND PRICES"),
    K.ALIGNMENT: ("ALIGNMENT CHART", "R.F. AND I.F. ALIGNMENT"),
    K.VOLTAGE_CHART: ("TUBE SOCKET VOLTAGES", "VOLTAGE MEASUREMENTS"),
    K.RESISTANCE_CHART: ("SOCKET RESISTANCES", "RESISTANCE MEASUREMENTS"),
    K.TUBE_LAYOUT: ("TUBE PLACEMENT", "FIG. 3 - TUBE POSITIONS"),
    K.CHASSIS_VIEW: ("CHASSIS LAYOUT", "FIG. 2 - CHASSIS, TOP VIEW"),
    K.DIAL_STRINGING: ("DRIVE CORD REPLACEMENT", "POINTER DRIVE"),
    K.SERVICE_NOTES: ("SERVICE HINTS", "PRODUCTION CHANGES"),
}
_REPORT_A = {
    K.SCHEMATIC: ("SCHEMATIC WIRING DIAGRAM", "DIAGRAM OF CONNECTIONS"),
    K.PARTS_LIST: ("SERVICE PARTS LIST", "REPAIR PARTS"),
    K.ALIGNMENT: ("ALIGNMENT INSTRUCTIONS", "REALIGNMENT"),
    K.VOLTAGE_CHART: ("VOLTAGE TABLE", "OPERATING VOLTAGES"),
    K.RESISTANCE_CHART: ("RESISTANCE TABLE", "RESISTANCE TO CHASSIS"),
    K.TUBE_LAYOUT: ("TUBE ARRANGEMENT", "TUBE LOCATION DIAGRAM"),
    K.CHASSIS_VIEW: ("TOP VIEW OF CHASSIS", "CHASSIS VIEW"),
    K.DIAL_STRINGING: ("DIAL CABLE DRIVE", "STRINGING THE DIAL"),
    K.SERVICE_NOTES: ("SERVICE INFORMATION", "GENERAL SERVICE DATA"),
}
_REPORT_B = {
    K.SCHEMATIC: ("Schematic Drawing", "Circuit Schematic"),
    K.PARTS_LIST: ("Parts for Replacement", "Part Numbers"),
    K.ALIGNMENT: ("Trimmer Adjustment", "Alignment Table"),
    K.VOLTAGE_CHART: ("Voltage Readings", "Voltage Analysis"),
    K.RESISTANCE_CHART: ("Resistance Analysis", "Resistance Measurements"),
    K.TUBE_LAYOUT: ("Layout of Tubes", "Where the Tubes Are"),
    K.CHASSIS_VIEW: ("Chassis Seen from Below", "Parts Layout on Chassis"),
    K.DIAL_STRINGING: ("Dial Cord Arrangement", "Cord Drive"),
    K.SERVICE_NOTES: ("General Notes", "Service Suggestions"),
}
_REPORT_C = {
    K.SCHEMATIC: ("CIRCUIT", "SCHEMATIC, ALL MODELS"),
    K.PARTS_LIST: ("PARTS", "PARTS CATALOG"),
    K.ALIGNMENT: ("ALIGNMENT DATA", "I.F. AND R.F. ADJUSTMENTS"),
    K.VOLTAGE_CHART: ("VOLTAGES", "D.C. VOLTAGES AT TUBE PINS"),
    K.RESISTANCE_CHART: ("RESISTANCES", "OHMMETER READINGS"),
    K.TUBE_LAYOUT: ("TUBES ON CHASSIS", "TUBE DIAGRAM"),
    K.CHASSIS_VIEW: ("REAR VIEW OF CHASSIS", "CHASSIS DRAWING"),
    K.DIAL_STRINGING: ("DIAL MECHANISM", "TUNING CORD"),
    K.SERVICE_NOTES: ("SERVICE BULLETIN", "MODIFICATIONS"),
}
HOUSES = {
    "look": (
        House(("{M} RADIO MFG. CO.", "MODELS {models}|CHASSIS {chassis}"),
              "{M} MODELS {models} CHASSIS {chassis}", _LOOK_A, "numbered", "outer", "leaders"),
        House(("{m} Model {models}", "Chassis {chassis}"), "{m}|Model {model}", _LOOK_B,
              "running", "foot", "headed", continued="continued", publication_on="cover",
              capitals=False),
        House(("{M}|{models}", "Ch. {chassis}"), "{M}|{models}", _LOOK_C, "counted", "page",
              "columns", joiner=" / "),
        House(("SERVICE DATA FOR {M} RECEIVERS", "TYPES {models}", "Chassis No. {chassis}"), "",
              _LOOK_A, "chart only", "foot", "dashed", joiner=" and "),
    ),
    "report": (
        House(("THE {M} CORPORATION", "RECEIVER MODELS {models}", "CHASSIS NO. {chassis}"),
              "{M} CORP.|MODELS {models}", _REPORT_A, "counted", "foot", "headed"),
        House(("{m} {models} (Chassis {chassis})",), "{m} {model}", _REPORT_B, "numbered",
              "page", "columns", continued="Cont'd", publication_on="cover", capitals=False),
        House(("MAKE: {M}|MODEL: {models}", "CHASSIS: {chassis}"), "{M}|{model}", _REPORT_C,
              "running", "outer", "leaders", joiner=" & "),
        House(("{M} ELECTRIC COMPANY", "Mod. {models}|Chas. {chassis}"), "", _REPORT_A,
              "chart only", "foot", "dashed", joiner=", "),
    ),
}  # fmt: skip
ADS = {
    "look": (
        ("SOLDER THAT FLOWS", "Ask your jobber for a pound today"),
        ("KEEP A FRESH STOCK OF TUBES", "12SA7 12SK7 12SQ7 50L6 35Z5 6V6 5U4 80",
         "all types at one price each"),
        ("A TESTER FOR EVERY BENCH", "Tests 6SN7, 6SL7, 12AX7, 50C5 and 600 others",
         "Model 88 price $ 49.50"),
    ),
    "report": (
        ("CONDENSERS YOU CAN TRUST", "Paper, mica and electrolytic, in stock at your dealer"),
        ("BIG SAVINGS ON TUBES", "6SA7 .89  6SK7 .85  6SQ7 .79  35W4 .59  50B5 .72  12AV6 .66",
         "write for our catalog"),
        ("THE NEW SIGNAL GENERATOR", "Order our Model 430, five bands, 150 kc to 30 mc"),
    ),
}  # fmt: skip
CHARTS = {
    "look": ("TUBE SUBSTITUTION CHART", "FOR", "USE"),
    "report": ("TUBE INTERCHANGE TABLE", "TYPE", "REPLACE WITH"),
}
SAME = {
    "look": ("Model {a} is the same as Model {b} except for the cabinet.",
             "Model {a} is similar to Model {b}.", "Model {a} replaces Model {b}."),
    "report": ("Model {a} is electrically the same as Model {b}.",
               "This set, Model {a}, is similar to Model {b} but has a larger speaker.",
               "Model {a} replaces Model {b} in the line."),
}  # fmt: skip
ADDENDUM = {"look": ("ADDENDUM", "SUPPLEMENT"), "report": ("ADDENDA", "SUPPLEMENTARY DATA")}
INDEX = {"look": ("INDEX TO SETS", "INDEX OF MODELS"),
         "report": ("CUMULATIVE INDEX", "MODEL INDEX")}  # fmt: skip
