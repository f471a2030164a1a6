"""Page work for tests of where it runs: workers import it by name."""

import hashlib
import os
import time
from pathlib import Path


def digest(path: Path, number: int) -> tuple[str, int]:
    """What the file holds, after a moment's work."""
    time.sleep(0.05)
    return hashlib.sha256(path.read_bytes()).hexdigest(), number


def place(path: Path, number: int) -> str:
    """Where the file was read."""
    return str(path)


def trouble(path: Path, number: int) -> int:
    """A page that is well, raises, hangs, ends its process or wants all the memory."""
    if number == 1:
        raise ValueError(f"{path.name} is torn")
    if number == 2:
        time.sleep(60)
    if number == 3:
        os._exit(7)
    if number == 4:
        return len(bytearray(60_000_000_000))
    return number
