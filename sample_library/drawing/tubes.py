"""The tube types on the shelf: symbol, base pins and heater.

Pins and heaters are from memory of published tube data; where a base is in doubt the pins
are left out and charts are printed by electrode.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tube:
    """kind of symbol, heater volts and amperes, electrodes by pin from 1, top cap."""

    kind: str
    heater_v: float
    heater_a: float
    pins: tuple[str, ...] = ()
    cap: str = ""
    filament: bool = False


def _t(
    kind: str, volts: float, amps: float, pins: str = "", cap: str = "", filament: bool = False
) -> Tube:
    return Tube(kind, volts, amps, tuple(pins.split()), cap, filament)


MINI_CONV, MINI_RF, MINI_DDT = "g1 k h h p s g3", "g1 g3 h h p s k", "g1 k h h d d p"
OCT_CONV, OCT_RF, OCT_DDT = "nc h p s g1 k h g3", "nc h g3 g1 k s h p", "nc g1 k d d p h h"
OCT_OUT = "nc h p s g1 nc h k"
TUBES: dict[str, Tube] = {
    "12BE6": _t("tapped cathode", 12.6, 0.15, MINI_CONV),
    "6BE6": _t("tapped cathode", 6.3, 0.3, MINI_CONV),
    "12SA7": _t("tapped cathode", 12.6, 0.15, OCT_CONV),
    "6SA7": _t("tapped cathode", 6.3, 0.3, OCT_CONV),
    "14Q7": _t("tapped cathode", 12.6, 0.15, "h p s g1 nc g3 k h"),
    "6A8": _t("anode grid", 6.3, 0.3, "nc h p s g1 ga h k", "g3"),
    "6A7": _t("anode grid", 6.3, 0.3, "h p s ga g1 k h", "g3"),
    "2A7": _t("anode grid", 2.5, 0.8, "h p s ga g1 k h", "g3"),
    "1A7": _t("anode grid", 1.4, 0.05, "nc f p s g1 ga f nc", "g3", True),
    "1L6": _t("anode grid", 1.4, 0.05, filament=True),
    "UCH42": _t("triode hexode", 14.0, 0.1),
    "12BA6": _t("pentode", 12.6, 0.15, MINI_RF),
    "6BA6": _t("pentode", 6.3, 0.3, MINI_RF),
    "6AU6": _t("pentode", 6.3, 0.3, "g1 g3 h h p s k"),
    "12SK7": _t("pentode", 12.6, 0.15, OCT_RF),
    "6SK7": _t("pentode", 6.3, 0.3, OCT_RF),
    "6K7": _t("pentode", 6.3, 0.3, "nc h p s g3 nc h k", "g1"),
    "14A7": _t("pentode", 12.6, 0.15, "h p s g3 nc g1 k h"),
    "6D6": _t("pentode", 6.3, 0.3, "h p s g3 k h", "g1"),
    "58": _t("pentode", 2.5, 1.0, "h p s g3 k h", "g1"),
    "1N5": _t("pentode", 1.4, 0.05, "nc f p s nc nc f nc", "g1", True),
    "1U4": _t("pentode", 1.4, 0.05, filament=True),
    "UF41": _t("pentode", 12.6, 0.1),
    "24A": _t("tetrode", 2.5, 1.75, "h p s k h", "g1"),
    "12AV6": _t("diode triode", 12.6, 0.15, MINI_DDT),
    "12AT6": _t("diode triode", 12.6, 0.15, MINI_DDT),
    "6AT6": _t("diode triode", 6.3, 0.3, MINI_DDT),
    "6AV6": _t("diode triode", 6.3, 0.3, MINI_DDT),
    "12SQ7": _t("diode triode", 12.6, 0.15, OCT_DDT),
    "6SQ7": _t("diode triode", 6.3, 0.3, OCT_DDT),
    "6Q7": _t("diode triode", 6.3, 0.3, "nc h p d d nc h k", "g1"),
    "14B6": _t("diode triode", 12.6, 0.15, "h p g1 nc d d k h"),
    "75": _t("diode triode", 6.3, 0.3, "h p d d k h", "g1"),
    "2A6": _t("diode triode", 2.5, 0.8, "h p d d k h", "g1"),
    "1H5": _t("diode triode", 1.4, 0.05, "nc f p nc d nc f nc", "g1", True),
    "1U5": _t("diode pentode", 1.4, 0.05, filament=True),
    "UBC41": _t("diode triode", 14.0, 0.1),
    "50C5": _t("output", 50.0, 0.15, "k g1 h h g1 s p"),
    "35C5": _t("output", 35.0, 0.15, "k g1 h h g1 s p"),
    "50L6": _t("output", 50.0, 0.15, OCT_OUT),
    "35L6": _t("output", 35.0, 0.15, OCT_OUT),
    "6V6": _t("output", 6.3, 0.45, OCT_OUT),
    "6F6": _t("output", 6.3, 0.7, OCT_OUT),
    "6AQ5": _t("output", 6.3, 0.45, "g1 k h h p s g1"),
    "50A5": _t("output", 50.0, 0.15, "h p s nc nc g1 k h"),
    "41": _t("output", 6.3, 0.4, "h p s g1 k h"),
    "2A5": _t("output", 2.5, 1.75, "h p s g1 k h"),
    "47": _t("output", 2.5, 1.75, "f p g1 s f", filament=True),
    "1A5": _t("output", 1.4, 0.05, "nc f p s g1 nc f nc", filament=True),
    "3V4": _t("output", 2.8, 0.05, filament=True),
    "UL41": _t("output", 45.0, 0.1),
    "35W4": _t("half", 35.0, 0.15, "nc nc h h p tap k"),
    "35Z5": _t("half", 35.0, 0.15, "nc h tap nc p nc h k"),
    "35Y4": _t("half", 35.0, 0.15, "h p nc tap nc nc k h"),
    "117Z3": _t("half", 117.0, 0.04),
    "UY41": _t("half", 31.0, 0.1),
    "5Y3": _t("full filament", 5.0, 2.0, "nc f nc p nc p nc f"),
    "5U4": _t("full filament", 5.0, 3.0, "nc f nc p nc p nc f"),
    "80": _t("full filament", 5.0, 2.0, "f p p f"),
    "6X4": _t("full cathode", 6.3, 0.6, "p nc h h nc p k"),
    "0Z4": _t("gas", 0.0, 0.0, "nc nc p nc p nc nc k"),
    "6SN7": _t("double triode", 6.3, 0.6, "g1 p k g1 p k h h"),
    "6AL5": _t("double diode", 6.3, 0.3, "k d h h k nc d"),
    "6U5": _t("eye", 6.3, 0.3, "h p g1 t k h"),
}
