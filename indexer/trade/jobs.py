"""What a tube does in a set, from the sections in its envelope: the ground for relations."""

from indexer.trade.tubes import Tube

CONVERTERS = frozenset({"pentagrid converter", "octode", "pentagrid mixer"})
MIXER_HALVES = frozenset({"hexode", "heptode", "remote hexode"})
RF_SECTIONS = frozenset({"tetrode", "remote tetrode", "sharp pentode", "remote pentode"})
OUTPUTS = frozenset({"power triode", "power pentode", "beam power"})
RECTIFIERS = frozenset(
    {"half-wave rectifier", "full-wave rectifier", "rectifier-doubler", "gas rectifier"}
)
OTHER_DIODES = frozenset({"high-voltage rectifier", "damper diode"})


# Pentagrid converters whose oscillator has a plate grid of its own; the others (6SA7, 6BE6 and
# kin) take the cathode or screen for it, so the oscillator is wired otherwise. From memory.
_OSCILLATOR_PLATE = frozenset(
    (
        "1A6", "1A7", "1B7", "1C6", "1C7", "1D7", "1LA6", "2A7", "6A7", "6A8", "6D8", "7A8", "7B8",
        "12A8", "14B8",
    )
)  # fmt: skip


# Types for 12 V on the plate, straight from a car's battery (hybrid sets). From memory.
LOW_PLATE = frozenset(
    (
        "12AC6", "12AD6", "12AE6", "12AF6", "12AG6", "12AJ6", "12AL8", "12BL6", "12CN5", "12CX6",
        "12DE8", "12DK7", "12DL8", "12DS7", "12DU7", "12DV7", "12DV8", "12DY8", "12DZ6", "12EA6",
        "12EC8", "12EG6", "12EK6", "12EL6", "12EM6", "12EZ6", "12F8", "12FA6", "12FK6", "12FM6",
        "12FR8", "12FT6", "12FX8", "12GA6", "12J8", "12K5", "12U7",
    )
)  # fmt: skip


def sections(tube: Tube) -> tuple[str, ...]:
    """The sections in a fixed order, so that two tubes compare whatever order a row lists them.

    A mixer's heptode and hexode do one job beside their triode and count alike; so do an octode
    and a pentagrid converter.
    """
    if "triode" in tube.functions and set(tube.functions) & MIXER_HALVES:
        return ("mixer", "triode")
    return tuple(sorted("pentagrid converter" if s == "octode" else s for s in tube.functions))


def oscillator_plate(tube: Tube) -> bool | None:
    """Whether a pentagrid converter or octode has an oscillator plate grid; None for others."""
    if "octode" in tube.functions:
        return True
    if "pentagrid converter" not in tube.functions:
        return None
    return tube.type in _OSCILLATOR_PLATE


def main_sections(tube: Tube) -> tuple[str, ...]:
    """The sections without small diodes; the diodes themselves when there is nothing else."""
    main = tuple(s for s in sections(tube) if s != "diode")
    return main or sections(tube)


_SWEEP = frozenset(
    ("6AU5", "6AV5", "6BD5", "6FW5", "12AV5", "17AV5", "18A5", "25AV5", "6BL7", "6BX7")
)


def role_class(tube: Tube) -> str:
    """One word for the part that a tube plays, "" when its sections are not known.

    Two tubes of one class may do each other's work after changes; of two classes they can't.
    """
    parts = set(tube.functions)
    main = main_sections(tube)
    if not parts:
        return ""
    if parts & OUTPUTS and parts & RECTIFIERS:
        return "output and rectifier"
    if parts & CONVERTERS or parts & MIXER_HALVES:
        return "converter"
    if parts & RECTIFIERS:
        return "rectifier"
    if parts & OTHER_DIODES:
        return next(iter(parts & OTHER_DIODES))
    if "eye" in parts:
        return "eye"
    if parts == {"diode"}:
        return "diode"
    if parts & OUTPUTS:
        if tube.top_cap == "plate" or tube.type in _SWEEP:
            return "capped output"  # television sweep and transmitting types
        return _output_class(main)
    if parts & RF_SECTIONS:
        return "triode and pentode" if "triode" in parts else "voltage pentode"
    if "triode" in parts:
        return "twin triode" if main.count("triode") > 1 else "triode"
    return main[0]


def _output_class(main: tuple[str, ...]) -> str:
    powers = sum(section in OUTPUTS for section in main)
    if powers > 1:
        return "twin output"
    return "output" if len(main) == 1 else "triode and output"


def is_output(tube: Tube) -> bool:
    """Whether the tube feeds a loudspeaker by design."""
    return bool(set(tube.functions) & OUTPUTS)


def is_rectifier(tube: Tube) -> bool:
    """Whether the tube makes the set's B supply (not a detector, damper or picture-tube type)."""
    return bool(set(tube.functions) & RECTIFIERS)
