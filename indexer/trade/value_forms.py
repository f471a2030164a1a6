"""A value as the trade wrote it (.05 mfd, 470K, 455 kc) and as it is written today."""

from indexer.trade.value_units import Value


def plain(number: float, figures: int = 6) -> str:
    """A number without exponent or trailing zeros: 0.05, 50, 4700."""
    text = f"{number:.{figures}g}"
    if "e" in text:
        text = f"{float(text):.12f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _no_zero(text: str) -> str:
    return text[1:] if text.startswith("0.") else text


def _steps(number: float, steps: tuple[tuple[float, str], ...]) -> str:
    """The number in the largest unit that it reaches, with that unit's word."""
    for size, word in steps:
        if number >= size * (1 - 1e-9):
            return f"{plain(number / size)}{word}"
    size, word = steps[-1]
    return f"{plain(number / size)}{word}"


_TRADE = {
    "ohms": ((1e6, " meg"), (1e3, "K"), (1.0, " ohms")),
    "henries": ((1.0, " hy"), (1e-3, " mh"), (1e-6, " uh")),
    "volts": ((1.0, " V"), (1e-3, " mv")),
    "amperes": ((1.0, " amp"), (1e-3, " ma")),
    "hertz": ((3e6, ""), (1e3, " kc"), (1.0, " cycles")),
    "watts": ((1.0, " W"),),
}
_TODAY = {
    "ohms": ((1e6, " MΩ"), (1e3, " kΩ"), (1.0, " Ω")),
    "farads": ((1e-8, ""), (1e-9, " nF"), (1e-12, " pF")),
    "henries": ((1.0, " H"), (1e-3, " mH"), (1e-6, " µH")),
    "volts": ((1.0, " V"), (1e-3, " mV")),
    "amperes": ((1.0, " A"), (1e-3, " mA")),
    "hertz": ((1e6, " MHz"), (1e3, " kHz"), (1.0, " Hz")),
    "watts": ((1.0, " W"),),
}


def watts_form(watts: float) -> str:
    """Watts as the trade writes them: "1/3 W", "2 W"."""
    part = round(1 / watts) if 0 < watts < 1 else 0
    if part in (2, 3, 4, 5, 8, 10) and abs(watts * part - 1) < 1e-9:
        return f"1/{part} W"
    return f"{plain(watts)} W"


def _marks(value: Value) -> str:
    marks = ""
    if value.working_v is not None:
        marks += f" {plain(value.working_v)} V"
    if value.watts is not None and value.kind == "ohms":
        marks += " " + watts_form(value.watts)
    if value.tolerance_percent is not None:
        percent = plain(value.tolerance_percent)
        if value.minus_percent is None:
            marks += f" {percent}%"
        else:
            marks += f" +{percent} -{plain(value.minus_percent)}%"
    return marks


def trade_form(value: Value) -> str:
    """As parts lists of the period print it: .05 mfd, 250 mmf, 470K, 2.2 meg, 455 kc."""
    number = value.number
    if value.kind == "farads":
        micro = number * 1e6
        small = micro < 0.001 * (1 - 1e-9)
        text = f"{plain(number * 1e12)} mmf" if small else f"{_no_zero(plain(micro))} mfd"
    elif value.kind == "hertz" and number >= 3e6:
        text = f"{plain(number / 1e6)} mc"
    elif value.kind == "watts":
        text = watts_form(number)
    else:
        text = _steps(number, _TRADE[value.kind])
    return text + _marks(value)


def today_form(value: Value) -> str:
    """As parts are sold today: 0.047 µF, 4.7 nF, 220 pF, 470 kΩ, 2.2 MΩ, 455 kHz."""
    number = value.number
    if value.kind == "farads" and number >= 1e-8 * (1 - 1e-9):
        return f"{plain(number * 1e6)} µF" + _marks(value)
    return _steps(number, _TODAY[value.kind]) + _marks(value)
