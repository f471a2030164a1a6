"""What a set is, how its maker's pages look, and what its charts should read."""

from __future__ import annotations

from dataclasses import dataclass, field

from .schematic import Circuit
from .tubes import TUBES


@dataclass(frozen=True)
class Style:
    """Faces a maker's printer used."""

    head: str = "narrow bold"
    body: str = "roman"
    bold: str = "roman bold"
    drawing: str = "drafting"
    number: str = "{0}-{1}"


@dataclass(frozen=True)
class Receiver:
    """One set as its maker printed it. if_khz is 0 for sets without an I.F."""

    id: str
    maker: str
    firm: str
    heading: str
    models: tuple[str, ...]
    chassis: tuple[str, ...]
    tubes: tuple[str, ...]
    supply: str
    circuit: Circuit
    if_khz: int = 455
    year: int | None = None
    style: Style = field(default_factory=Style)
    printed_models: tuple[str, ...] = ()
    plate_v: int = 90
    notes: str = ""

    @property
    def chassis_heading(self) -> str:
        """The chassis as a masthead prints it, or an empty string."""
        return f"CHASSIS {' , '.join(self.chassis)}" if self.chassis else ""


JOBS = {
    "tapped cathode": "CONVERTER",
    "anode grid": "CONVERTER",
    "triode hexode": "CONVERTER",
    "diode triode": "DET. - A.V.C. - 1ST AUDIO",
    "diode pentode": "DET. - 1ST AUDIO",
    "output": "POWER OUTPUT",
    "half": "RECTIFIER",
    "full filament": "RECTIFIER",
    "full cathode": "RECTIFIER",
    "gas": "RECTIFIER",
    "double triode": "PHASE INVERTER",
    "double diode": "RATIO DETECTOR",
    "eye": "TUNING EYE",
}


def jobs(rx: Receiver) -> list[str]:
    """What each tube of the set does, in socket order."""
    named: list[str] = []
    kinds = [TUBES[t].kind for t in rx.tubes]
    has_converter = any(k in ("tapped cathode", "anode grid", "triode hexode") for k in kinds)
    for i, kind in enumerate(kinds):
        if kind == "tetrode":
            named.append("R.F. AMPLIFIER" if i == 0 else "DETECTOR")
        elif kind == "pentode":
            early = has_converter and i == 0
            named.append(
                "R.F. AMPLIFIER"
                if early
                else "DRIVER"
                if rx.tubes[i] == "6AU6"
                else "I.F. AMPLIFIER"
            )
        elif rx.tubes[i] == "6AT6" and "6AL5" in rx.tubes:
            named.append("1ST AUDIO")
        else:
            named.append(JOBS[kind])
    return named


def volts(rx: Receiver, tube: str, job: str, electrode: str) -> str:
    """A typical reading for the electrode, as a chart prints it."""
    b, live = rx.plate_v, rx.supply == "series string"
    heat = TUBES[tube].heater_v
    rect = job == "RECTIFIER"
    if electrode == "s" and TUBES[tube].kind == "diode triode":
        return "-"
    if rect and electrode in ("f", "s", "g1"):
        return f"{b + 95}" if electrode == "f" else "-"
    if TUBES[tube].filament and electrode == "k":
        return "0"
    table = {
        "nc": "NC",
        "g3": "0",
        "d": "0",
        "tap": "110 AC",
        "t": f"{b}",
        "ga": f"{b * 2 // 3}",
        "h": f"{heat:g} {'AC' if rx.supply != 'vibrator' else 'DC'}",
        "f": f"{heat:g}",
    }
    if electrode == "p":
        if rect:
            return "117 AC" if live or rx.supply == "battery and line" else f"{b + 90} AC"
        return f"{b // 2}" if "AUDIO" in job else f"{b + 12}" if job == "POWER OUTPUT" else f"{b}"
    if electrode == "s":
        return f"{b}" if job == "POWER OUTPUT" or live else f"{b * 2 // 5}"
    if electrode == "g1":
        return "-6.5" if job == "CONVERTER" else "-.8" if job != "POWER OUTPUT" else "0"
    if electrode == "k":
        return f"{b + 25}" if rect else ("5.6" if live else "13") if job == "POWER OUTPUT" else "0"
    return table[electrode]


def ohms(rx: Receiver, job: str, electrode: str) -> str:
    """A typical resistance to common negative, as a chart prints it."""
    rect = job == "RECTIFIER"
    if (rect and electrode in ("s", "g1")) or (electrode == "s" and "DET." in job):
        return "INF"
    table = {
        "nc": "INF",
        "g3": "2.8 MEG",
        "d": "550K",
        "tap": "90",
        "h": "40",
        "f": "8",
        "k": "INF" if rect else "150" if job == "POWER OUTPUT" else "0",
        "g1": "22K" if job == "CONVERTER" else "10 MEG" if "AUDIO" in job else "470K",
        "p": "125" if rect else "470K*" if "AUDIO" in job else "1,250*",
        "s": "1,200*",
        "t": "0*",
        "ga": "20K*",
    }
    return table[electrode]
