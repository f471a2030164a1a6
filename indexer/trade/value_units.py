"""Units as printed from the 1920s on, and numbers as written with them. Common practice, no source.

IEC 60062 is the source of the letter code (4K7, 2n2); its rule is in `value_parse`.
"""

import re
import unicodedata
from dataclasses import dataclass

KINDS = ("ohms", "farads", "henries", "volts", "amperes", "hertz", "watts")


@dataclass(frozen=True, slots=True)
class Value:
    """One value of one section. `number` is in the SI unit that `kind` names (see KINDS).

    Tolerance is in percent either way; where the lower limit differs, `minus_percent` has it.
    `working_v` is the printed working voltage of a capacitor, `watts` the rating of a resistor.
    """

    kind: str
    number: float
    tolerance_percent: float | None = None
    working_v: float | None = None
    watts: float | None = None
    minus_percent: float | None = None


_SPELLINGS: dict[tuple[str, float], str] = {
    ("ohms", 1.0): "ohm ohms r",
    ("ohms", 1e3): "k kohm kohms kilohm kilohms kiloohm kiloohms",
    ("ohms", 1e6): "meg megs megohm megohms m mohm mohms",
    ("farads", 1.0): "farad farads",
    ("farads", 1e-6): "mfd mfds mf mfs ufd uf u microfarad microfarads",
    ("farads", 1e-9): "nf nfd n nanofarad nanofarads",
    ("farads", 1e-12): (
        "mmfd mmfds mmf mmfs uuf uufd pf pfd p micromicrofarad micromicrofarads "
        "picofarad picofarads"
    ),
    ("henries", 1.0): "h hy hys henry henries henrys",
    ("henries", 1e-3): "mh mhy millihenry millihenries",
    ("henries", 1e-6): "uh uhy microhenry microhenries",
    ("hertz", 1.0): "hz cps cycle cycles cy c/s ~",
    ("hertz", 1e3): "kc kcs kc/s khz kilocycle kilocycles",
    ("hertz", 1e6): "mc mcs mc/s mhz megacycle megacycles",
    ("amperes", 1.0): "a amp amps ampere amperes",
    ("amperes", 1e-3): "ma milliampere milliamperes milliamp milliamps",
    ("amperes", 1e-6): "ua microampere microamperes",
    ("volts", 1.0): "v volt volts vdc vac wv wvdc vdcw vw vwdc dcwv dcv acv",
    ("volts", 1e-3): "mv millivolt millivolts",
    ("volts", 1e-6): "uv microvolt microvolts",
    ("volts", 1e3): "kv kilovolt kilovolts",
    ("watts", 1.0): "w watt watts",
    ("watts", 1e-3): "mw milliwatt milliwatts",
}
_UNITS: dict[str, tuple[str, float]] = {
    word: unit for unit, words in _SPELLINGS.items() for word in words.split()
}
_UNITS.update({f"{word}dc": _UNITS["v"] for word in ("v", "volts", "wv")})

_SPLIT_UNITS = r"(?:k|kilo|meg|m)\s?ohms?|micro\s?(?:micro\s?)?farads?|volts?\s?dc|wv\s?dc|v\s?dc"
UNIT = (
    rf"(?:{_SPLIT_UNITS}|"
    + "|".join(re.escape(word) for word in sorted(_UNITS, key=len, reverse=True))
    + r")(?![a-z])"
)
NUMBER = r"(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\s\d/\d{1,2}|\d+/\d+|\d+[.,]\d+|[.,]\d+|\d+)"


def tidy(text: str) -> str:
    """Printed text with one spelling for each sign: u for micro, ohm for Ω, plain dashes, 1/2.

    Dots of abbreviations go ("K.C." gives "KC", "Mfd." gives "Mfd"); case is kept.
    """
    text = text.replace("½", " 1/2").replace("¼", " 1/4").replace("¾", " 3/4")
    text = text.replace("μμ", "uu").replace("µµ", "uu").replace("μ", "u").replace("µ", "u")
    text = text.replace("\u2126", " ohm").replace("Ω", " ohm").replace("ω", " ohm")
    text = unicodedata.normalize("NFKC", text)
    for dash in "\u2010\u2011\u2012\u2013\u2014\u2212":
        text = text.replace(dash, "-")
    text = re.sub(r"(?<=[A-Za-z])\.(?![0-9])", "", text)
    return re.sub(r"\s+", " ", text).strip()


def unit_of(printed: str, old_m: bool = False) -> tuple[str, float]:
    """Kind and factor of a unit as matched by UNIT. With old_m, M before ohms is a thousand."""
    word = printed.lower().replace(" ", "")
    if old_m and word in ("m", "mohm", "mohms"):
        return "ohms", 1e3
    return _UNITS[word]


def number_of(printed: str) -> float:
    """A printed number: "4,700" is 4700, "0,05" and ",05" 0.05, "1/2" 0.5, "1 1/2" 1.5."""
    if "/" in printed:
        whole, _, fraction = printed.rpartition(" ")
        top, bottom = fraction.split("/")
        return (float(whole) if whole else 0.0) + float(top) / float(bottom)
    if "," in printed:
        grouped = re.fullmatch(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?", printed)
        printed = printed.replace(",", "" if grouped else ".")
    return float(printed)


def scaled(number: float, factor: float) -> float:
    """number × factor without the tail of binary rounding: .05 × 1e-6 gives 5e-08."""
    return float(f"{number * factor:.12g}")
