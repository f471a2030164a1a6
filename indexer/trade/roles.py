"""The part each tube plays, worked out over the whole line-up. Common practice, no source."""

from collections.abc import Sequence

from indexer.trade.jobs import (
    CONVERTERS,
    LOW_PLATE,
    MIXER_HALVES,
    OUTPUTS,
    RECTIFIERS,
    RF_SECTIONS,
)
from indexer.trade.tubes import Tube

_REMOTE = frozenset({"remote pentode", "remote tetrode"})
_SHARP = frozenset({"sharp pentode", "tetrode"})
# Early general triodes, used anywhere from the aerial to the loudspeaker.
EARLY_TRIODES = frozenset({"01A", "26", "27", "37", "56", "76", "30", "99", "12A", "00A", "40"})
_FRONT_END_MU = 35.0  # triodes of FM front ends; audio types of this gain are told apart by order

Tubes = Sequence[Tube | None]


def assign_roles(tubes: Tubes) -> list[str]:
    """One role a tube, in order; "unknown" for types that are not known or not settled.

    Roles: converter, mixer, oscillator, RF amplifier, RF amplifier and converter, IF amplifier,
    IF amplifier and detector, IF amplifier and first audio, detector, FM detector, limiter,
    detector and first audio, first audio, phase inverter, first audio and phase inverter, driver,
    output (alone or after what else its envelope does), rectifier, output and rectifier,
    tuning eye, regulator, ballast, damper, high-voltage rectifier, unknown.
    """
    roles = [_alone(tube) for tube in tubes]
    fm = _fm(tubes)
    _converters(tubes, roles)
    if fm:
        _front_end(tubes, roles)
    _pentodes(tubes, roles, fm)
    _diodes(tubes, roles, fm)
    _triodes(tubes, roles)
    return [role or "unknown" for role in roles]


def _alone(tube: Tube | None) -> str:
    """Roles that the sections settle by themselves; "" where the company decides."""
    if tube is None or not tube.functions:
        return "unknown"
    parts = set(tube.functions)
    if parts & OUTPUTS:
        if parts & RECTIFIERS:
            return "output and rectifier"
        if parts & RF_SECTIONS or parts & CONVERTERS or tube.type in EARLY_TRIODES:
            return ""
        if "diode" in parts:
            first_audio = "triode" in parts
            return "detector, first audio and output" if first_audio else "detector and output"
        return "first audio and output" if "triode" in parts else "output"
    if parts & RECTIFIERS:
        return "rectifier"
    if tube.type in LOW_PLATE and "tetrode" in parts:
        return "driver"
    for name, role in (
        ("high-voltage rectifier", "high-voltage rectifier"),
        ("damper diode", "damper"),
        ("eye", "tuning eye"),
        ("gas regulator", "regulator"),
        ("ballast", "ballast"),
        ("gated-beam", "FM detector"),
    ):
        if name in parts:
            return role
    return "unknown" if parts & {"gas triode", "gas tetrode"} else ""


def _open(roles: Sequence[str]) -> list[int]:
    return [n for n, role in enumerate(roles) if not role]


def _has(tube: Tube | None, names: frozenset[str]) -> bool:
    return tube is not None and bool(set(tube.functions) & names)


def _superhet(roles: Sequence[str]) -> bool:
    return any("converter" in role or role == "mixer" for role in roles)


def _fm(tubes: Tubes) -> bool:
    """Whether the line-up points to FM.

    A triple diode or a gated-beam tube does, and a miniature twin diode beside a diode-triode or
    beside a limiter.
    """
    known = [t for t in tubes if t]
    if any(t.functions.count("diode") >= 3 or "gated-beam" in t.functions for t in known):
        return True
    twin = any(t.functions == ("diode", "diode") and t.base == "7-pin miniature" for t in known)
    triode = any("triode" in t.functions and "diode" in t.functions for t in known)
    limiter = any(t.functions == ("sharp pentode",) for t in known)
    remote = any("remote pentode" in t.functions for t in known)
    return twin and (triode or (limiter and remote))


def _converters(tubes: Tubes, roles: list[str]) -> None:
    """Converters; a mixer without its own oscillator takes a plain triode for it."""
    for n in _open(roles):
        tube = tubes[n]
        parts = set(tube.functions) if tube else set()
        if "pentagrid mixer" in parts:
            roles[n] = "mixer"
        elif parts & CONVERTERS or ("triode" in parts and parts & MIXER_HALVES):
            roles[n] = "converter"
        elif parts & MIXER_HALVES:
            roles[n] = "mixer"
    doubles = [n for n, role in enumerate(roles) if role == "converter" and _mixes(tubes[n])]
    if len(doubles) == 2 and not any(_has(tube, _REMOTE) for tube in tubes):
        roles[doubles[1]] = "IF amplifier and first audio"  # ECH21 twice and kin
    if "mixer" in roles and "converter" not in roles:
        for n in _open(roles):
            tube = tubes[n]
            if tube and tube.functions in (("triode",), ("power triode",)):
                roles[n] = "oscillator"
                break


def _mixes(tube: Tube | None) -> bool:
    return _has(tube, MIXER_HALVES) and _has(tube, frozenset({"triode"}))


def _front_end(tubes: Tubes, roles: list[str]) -> None:
    """The first high-mu triode or triode-pentode of an FM set stands before its IF amplifiers."""
    pentodes = [n for n in _open(roles) if tubes[n] and _plain_pentode(tubes[n])]
    for n in _open(roles):
        tube = tubes[n]
        if tube is None or "diode" in tube.functions or "triode" not in tube.functions:
            continue
        if pentodes and n > pentodes[0]:
            return
        if len(tube.functions) > 1:
            roles[n] = "RF amplifier and converter"
            return
        if (tube.mu or 0) >= _FRONT_END_MU:
            roles[n] = "RF amplifier"


def _plain_pentode(tube: Tube | None) -> bool:
    return tube is not None and len(tube.functions) == 1 and bool(set(tube.functions) & RF_SECTIONS)


def _pentodes(tubes: Tubes, roles: list[str], fm: bool) -> None:
    superhet = _superhet(roles)
    diodes = any(t and "diode" in t.functions for t in tubes)
    remote = [n for n in _open(roles) if _has(tubes[n], _REMOTE)]
    sharp = [n for n in _open(roles) if _has(tubes[n], _SHARP) and _plain_pentode(tubes[n])]
    if fm and len(remote) + len(sharp) > 1 and sharp:
        roles[sharp[-1]] = "limiter"
        remote, sharp = sorted(remote + sharp[:-1]), []
    elif superhet and not remote and sharp:  # sharp types stand in the IF: 1N5, 1U4
        keep = len(sharp) if diodes or len(sharp) == 1 else len(sharp) - 1
        remote, sharp = sharp[:keep], sharp[keep:]
    if not superhet and not diodes:
        superhet = _without_converter(tubes, roles, remote, sharp)
    _name_amplifiers(tubes, roles, remote, superhet or fm)
    for n in sharp:
        if not roles[n]:
            first = not diodes and "detector" not in roles
            roles[n] = "detector" if first else "first audio"


def _without_converter(tubes: Tubes, roles: list[str], remote: list[int], sharp: list[int]) -> bool:
    """Sets of the early 1930s: tuned RF, or a sharp pentode that mixes and oscillates (autodyne).

    Beside a plain triode, which then detects, all screen-grid tubes amplify RF. True when the
    order sharp, remote, sharp shows an autodyne superhet, whose remote types amplify the IF.
    """
    if any(t and t.type in EARLY_TRIODES and not roles[n] for n, t in enumerate(tubes)):
        for n in sharp:
            roles[n] = "RF amplifier"
        return False
    if remote and len(sharp) >= 2 and sharp[0] < remote[0] < sharp[-1]:
        roles[sharp[0]] = "converter"
        return True
    for n in sharp[:-1] if not remote else ():
        roles[n] = "RF amplifier"
    return False


def _name_amplifiers(tubes: Tubes, roles: list[str], places: list[int], superhet: bool) -> None:
    """One beside a converter is the IF amplifier; of two, the first is RF unless an RF stage or
    the front end is elsewhere. A last one with diodes and no audio triode leads the audio."""
    placed = any(role.startswith("RF amplifier") for role in roles)
    triodes = any(
        t and not roles[n] and {"triode", "sharp pentode"} & set(t.functions)
        for n, t in enumerate(tubes)
        if n not in places
    )
    for order, n in enumerate(places):
        tube = tubes[n]
        diode = tube is not None and "diode" in tube.functions
        if not superhet:
            roles[n] = "RF amplifier"
        elif diode and order == len(places) - 1 > 0 and not triodes:
            roles[n] = "detector and first audio"
        elif diode:
            roles[n] = "IF amplifier and detector"
        elif order == 0 and len(places) > 1 and not placed and _plain_pentode(tubes[places[1]]):
            roles[n] = "RF amplifier"
        else:
            roles[n] = "IF amplifier"


def _diodes(tubes: Tubes, roles: list[str], fm: bool) -> None:
    for n in _open(roles):
        tube = tubes[n]
        if tube is None or "diode" not in tube.functions:
            continue
        if set(tube.functions) == {"diode"}:
            roles[n] = "FM detector" if fm else "detector"
        else:
            roles[n] = "detector and first audio"


def _triodes(tubes: Tubes, roles: list[str]) -> None:
    outputs = sum(role in {"output", "output and rectifier"} for role in roles)
    radio = _superhet(roles) or any(role.startswith("RF amplifier") for role in roles)
    if not radio and all(
        t is None or t.type in EARLY_TRIODES for n, t in enumerate(tubes) if not roles[n]
    ):
        radio = True
    left = _open(roles)
    early = not _superhet(roles) and not any("detector" in role for role in roles)
    for order, n in enumerate(left):
        tube = tubes[n]
        if tube is None:
            continue
        if early and radio and tube.type in EARLY_TRIODES:
            roles[n] = _early_role(order, len(left), outputs)
        elif radio and not any("detector" in role for role in roles):
            roles[n] = "detector"
        else:
            audio = any("first audio" in role for role in roles)
            roles[n] = _audio_role(tube, outputs, audio, order == len(left) - 1)


def _early_role(order: int, count: int, outputs: int) -> str:
    """Triode receivers: RF stages, then the detector, then one audio tube before the outputs."""
    audio = 1 if outputs else 2
    if count <= audio:
        return "detector" if order == 0 else "first audio"
    if order == count - audio - 1:
        return "detector"
    if order < count - audio - 1:
        return "RF amplifier"
    return "first audio" if order == count - audio else "output"


def _audio_role(tube: Tube, outputs: int, audio: bool, last: bool) -> str:
    twin = len(tube.functions) > 1
    if outputs >= 2 and last:
        if audio:
            return "phase inverter"
        return "first audio and phase inverter" if twin else "first audio"
    return "driver" if audio else "first audio"
