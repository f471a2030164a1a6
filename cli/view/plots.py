"""What the drawn plots show, worked out in user units of their own: no drawing here."""

from dataclasses import dataclass
from typing import Any

from indexer import ReadingLine, tube_json

LINE_V = 117.0  # what the heater string is held against; 110 to 125 V is met in practice
_MOST_V = 140.0
_FARTHEST = 1.0  # readings farther off than this share of the nominal stand at the edge


@dataclass(frozen=True)
class Piece:
    """One heater in the string: where it begins and how long it is, in volts."""

    tube: str
    start_v: float
    volts: float


@dataclass(frozen=True)
class HeaterString:
    """The heater string as a bar against the line. `scale_v` is the plot's whole length."""

    pieces: tuple[Piece, ...]
    total_v: float
    line_v: float
    scale_v: float
    current_a: float | None

    @property
    def in_words(self) -> str:
        """The same for those who don't see the plot."""
        parts = ", ".join(f"{piece.tube} {piece.volts:g} V" for piece in self.pieces)
        left = self.line_v - self.total_v
        said = f"{parts}: together {self.total_v:.1f} V of a {self.line_v:g} V line"
        if abs(left) < 1:
            return said + "."
        return f"{said}, {abs(left):.1f} V {'less' if left > 0 else 'more'} than the line."


def heater_string(facts: Any) -> HeaterString | None:
    """The bar of a series string, from `Library.line_up`; None for sets without one."""
    if facts.supply != "series string" or not facts.string_volts:
        return None
    pieces: list[Piece] = []
    at = 0.0
    for kind in facts.types:
        volts = tube_json(kind)["heater_v"] or 0.0
        pieces.append(Piece(kind, at, volts))
        at += volts
    scale = max(_MOST_V, at * 1.05)
    return HeaterString(tuple(pieces), at, LINE_V, scale, facts.string_current_a)


@dataclass(frozen=True)
class Band:
    """A reading against its tolerance, as percent off the nominal value, from -100 to 100."""

    low: float
    high: float
    reads: float
    beyond: bool  # the reading lies beyond the plot's edge


def band(line: ReadingLine) -> Band | None:
    """The plot of one reading; None where nothing was read or there is no scale."""
    if line.shares is None:
        return None
    low, high, reads = (share - 1.0 for share in line.shares)
    kept = max(-_FARTHEST, min(_FARTHEST, reads))
    return Band(100 * max(-_FARTHEST, low), 100 * min(_FARTHEST, high), 100 * kept, kept != reads)
