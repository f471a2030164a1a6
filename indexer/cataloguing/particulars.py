"""What a page says of a set besides its name: year, intermediate frequency, supply."""

import re

from indexer.cataloguing.region import squeeze

_YEAR = re.compile(r"\b(19[2-6]\d)\b(?!\s*(?:K[CH]|CYCLES|VOLTS|OHMS|MMF|M?FD))")
_KHZ = r"(?:K\.?(?:C|H)|KE\b|KILO)"  # "ke" is how a reader sees a worn "kc"
_IF = re.compile(
    r"(?<![A-Z0-9])[I1L|]\.?\s?F\.?(?![A-Z])[^0-9]{0,25}(\d{2,3}(?:\.\d)?)\s*"
    + _KHZ
    + r"|\b(\d{3}(?:\.\d)?)\s*"
    + _KHZ
    + r"[^0-9]{0,12}(?<![A-Z])[I|]\.?\s?F\b"
    r"|\bINTERMEDIATE\W{0,3}FREQ\w*[^0-9]{0,25}(\d{2,3}(?:\.\d)?)"
    # the step that feeds the converter's grid is made at the intermediate frequency
    r"|\b(?:CONVERTER|MIXER|1ST DET\w*\.?) GRID\W{0,8}(?:\.?\d+\W?MM?FD?)?\W{0,4}"
    r"(\d{3}(?:\.\d)?)\s*K\.?C",
    re.IGNORECASE,
)
# What says, in words, that the chassis may hang on the line, whatever the tubes look like.
_AC = r"(?:\bA\.? ?C\.?|\bALTERNATING)"
_DC = r"(?:\bD\.? ?C\.?(?![A-Z])|\bDIRECT)"
_JOINED = r"(?: ?CURRENT)?[ ,]*(?:[/–—‐‑-]|,|OR|AND|&| )+ ?"
_LINE_WORDS = re.compile(rf"{_AC}{_JOINED}{_DC}|{_DC}{_JOINED}{_AC}|\bUNIVERSAL (MAINS|SUPPLY|SET)")
_ONE_SIDE = re.compile(
    r"\b(CHASSIS|FRAME|GROUND|B MINUS|B[-–—])[^.]{0,40}\b(ONE|A) (SIDE|POLE|WIRE|LEG) OF THE"
    r" (MAINS|LINE|POWER|SUPPLY)"
    r"|\bCHASSIS[^.]{0,20}\b(IS|MAY BE) (LIVE|HOT|ALIVE)\b|\bTRANSFORMERLESS\b"
)

SUPPLY_WORDS: tuple[tuple[str, str], ...] = (
    (r"\bVIBRATOR\b", "vibrator"),
    (
        r"\bA\.?C\.?[ ,/–—-]*(OR )?D\.?C\.?[ ,/–—-]*(OR |AND )?(SELF.CONTAINED )?BATTER"
        r"|\b(THREE|3)[ -]?WAY\b|\bBATTERY (OR|AND) (LINE|MAINS|A\.?C)\b"
        r"|\bBATTERY[ ,/–—-]*A\.?C\.?[ ,/–—-]*D\.?C\b",
        "battery and line",
    ),
    (rf"{_AC}{_JOINED}{_DC}|{_DC}{_JOINED}{_AC}", "series string"),
    (r"\bPOWER TRANS(FORMER|\.)", "transformer"),
    (
        r"\bBATTERY (OPERATED|POWERED|SET|RECEIVER)\b|\bFARM (RADIO|SET|RECEIVER)\b"
        r"|[\"“]A[\"”] BATTERY\b",
        "battery",
    ),
)


def year_in(text: str) -> int | None:
    """The year most often printed (1920 to 1969), or None."""
    years = [int(y) for y in _YEAR.findall(text)]
    return max(years, key=lambda y: (years.count(y), -years.index(y))) if years else None


def if_khz_in(text: str) -> float | None:
    """The intermediate frequency in kilohertz, where one is named as such (100 to 2,000)."""
    for match in _IF.finditer(text.replace("\n", " ")):
        value = float(next(group for group in match.groups() if group))
        if 100 <= value <= 2000:
            return value
    return None


def supply_in(text: str) -> str:
    """The supply as the words name it, or ""."""
    body = squeeze(text)
    for pattern, supply in SUPPLY_WORDS:
        if re.search(pattern, body):
            return supply
    return ""


def on_the_line(text: str) -> str:
    """Whether the words tell that the chassis may hang on the line: "likely" where they say that
    one side of the line is on it, "unknown" where they say that the set works on alternating or
    direct current; "" where they say neither."""
    body = squeeze(text)
    if _ONE_SIDE.search(body):
        return "likely"
    return "unknown" if _LINE_WORDS.search(body) else ""
