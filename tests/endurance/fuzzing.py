"""Odd input for our own parsers: guided by coverage where atheris is installed, else at random.

Each parser runs in a process of its own for its share of the time; what it trips over is printed
with the text, to be kept as a regression test.
"""

import json
import os
import random
import subprocess
import sys
import time
from dataclasses import dataclass
from itertools import product
from pathlib import Path

from tests.endurance.targets import MOST_CHARS, SEEDS, TARGETS, tried

ROOT = Path(__file__).parents[2]
_ALPHABET = (
    "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ abcdefgiklmnoprstu-/.,;:()\"'\n\t#*+±µΩ%|&$"
    "\u00bd\u2013\u0660\u00b2\u2153\x00\u202e\U0001d7d8\ud800\uff15"
)
_WORDS = ("MODEL ", "CHASSIS ", " to ", " thru ", "12BE6", "6SN7GT/", "mfd", " meg", "K", "VOL. ")


@dataclass(frozen=True, slots=True)
class Fuzzed:
    """One parser: how it was tried, how often, and (what went wrong, the text)."""

    target: str
    guided: bool
    runs: int
    faults: tuple[tuple[str, str], ...]


def guided() -> bool:
    """Whether coverage can guide."""
    from importlib.util import find_spec

    return find_spec("atheris") is not None


def fuzz(target: str, seconds: float, seed: int) -> Fuzzed:
    """Tries a parser for that long, in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.endurance.fuzzing", target, str(seconds), str(seed)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=seconds + 120,
        check=False,
    )
    runs, faults = 0, []
    for line in done.stdout.splitlines():
        if line.startswith("{"):
            said = json.loads(line)
            runs = max(runs, said.get("runs", 0))
            if "fault" in said:
                faults.append((said["fault"], said["text"]))
    if not runs:
        faults.append(("the fuzzer itself ended", done.stderr[-300:]))
    return Fuzzed(target, guided(), runs, tuple(faults))


def _mutated(text: str, chance: random.Random) -> str:
    parts = list(text)
    for _ in range(chance.randint(1, 12)):
        at = chance.randint(0, len(parts))
        way = chance.random()
        if way < 0.4:
            parts.insert(at, chance.choice(_ALPHABET))
        elif way < 0.6:
            parts.insert(at, chance.choice(_WORDS))
        elif way < 0.8 and parts:
            del parts[at - 1 : at + chance.randint(0, 4)]
        elif parts:
            piece = parts[at : at + chance.randint(1, 20)] * chance.choice((1, 2, 3, 40))
            parts[at:at] = piece
    return "".join(parts)[:MOST_CHARS]


class _Teller:
    """Says each sort of fault once, and how often the parser was tried."""

    def __init__(self, target: str) -> None:
        self.target = target
        self.runs = 0
        self.said: set[str] = set()

    def __call__(self, text: str) -> None:
        self.runs += 1
        fault = tried(self.target, text)
        if fault and fault[:60] not in self.said:
            self.said.add(fault[:60])
            print(json.dumps({"fault": fault, "text": text}), flush=True)
        if self.runs % 500 == 0:
            print(json.dumps({"runs": self.runs}), flush=True)


def _at_random(target: str, seconds: float, seed: int) -> None:
    chance, tell = random.Random(seed), _Teller(target)
    kept = list(SEEDS[target])
    for seed_text, between in product(kept, ("", " ", "\n")):  # what takes ever longer shows here
        tell((f"{seed_text}{between}" * MOST_CHARS)[:MOST_CHARS])
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        text = _mutated(chance.choice(kept), chance)
        tell(text)
        if len(kept) < 2_000 and chance.random() < 0.05:
            kept.append(text)
    print(json.dumps({"runs": tell.runs}), flush=True)


def _guided(target: str, seconds: float, seed: int) -> None:
    import tempfile

    import atheris  # type: ignore[import-not-found]

    tell = _Teller(target)

    def once(data: bytes) -> None:
        tell(data.decode("utf-8", "surrogateescape"))

    for name, module in list(sys.modules.items()):
        if name.startswith(("indexer.trade", "indexer.search.query", "indexer.cataloguing")):
            for thing in vars(module).values():
                if callable(thing) and getattr(thing, "__module__", "") == name:
                    instrument(atheris, thing)
    with tempfile.TemporaryDirectory() as folder:
        for n, text in enumerate(SEEDS[target]):
            (Path(folder) / str(n)).write_text(text, encoding="utf-8")
        atheris.Setup(
            [
                "fuzzing",
                f"-max_total_time={int(seconds)}",
                f"-seed={seed}",
                f"-max_len={MOST_CHARS}",
                "-verbosity=0",
                folder,
            ],
            once,
        )
        print(json.dumps({"runs": 1}), flush=True)
        atheris.Fuzz()


def instrument(atheris: object, thing: object) -> None:
    """Coverage of one function, where it can be followed."""
    import types

    if isinstance(thing, types.FunctionType):
        try:
            thing.__code__ = atheris.instrument_func(thing).__code__  # type: ignore[attr-defined]
        except Exception:  # generators and cached functions can't always be
            return


if __name__ == "__main__":
    name, time_s, start = sys.argv[1], float(sys.argv[2]), int(sys.argv[3])
    assert name in TARGETS
    (_guided if guided() else _at_random)(name, time_s, start)
