"""What a page says of a set besides its name: year, intermediate frequency, supply."""

import re

from indexer.cataloguing.region import squeeze

_YEAR = re.compile(r"\b(19[2-6]\d)\b(?!\s*(?:K[CH]|CYCLES|VOLTS|OHMS|MMF|M?FD))")
_IF = re.compile(
    r"\bI\.?\s?F\.?\b[^0-9]{0,25}(\d{2,3}(?:\.\d)?)\s*K\.?(?:C|H)"
    r"|\b(\d{3}(?:\.\d)?)\s*K\.?(?:C|HZ)[^0-9]{0,12}\bI\.?\s?F\.?\b"
    r"|\bINTERMEDIATE FREQ\w*[^0-9]{0,25}(\d{2,3}(?:\.\d)?)"
    # the step that feeds the converter's grid is made at the intermediate frequency
    r"|\b(?:CONVERTER|MIXER|1ST DET\w*\.?) GRID\W{0,8}(?:\.?\d+\W?MM?FD?)?\W{0,4}"
    r"(\d{3}(?:\.\d)?)\s*K\.?C",
    re.IGNORECASE,
)

SUPPLY_WORDS: tuple[tuple[str, str], ...] = (
    (r"\bVIBRATOR\b", "vibrator"),
    (
        r"\bA\.?C\.?[ ,/-]*D\.?C\.?[ ,/-]*(OR |AND |/)? ?BATTERY\b|\b(THREE|3)[ -]?WAY\b"
        r"|\bBATTERY (OR|AND) (LINE|A\.?C)\b",
        "battery and line",
    ),
    (r"\bA\.?C\.?[ /-]+(OR )?D\.?C\b", "series string"),
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
