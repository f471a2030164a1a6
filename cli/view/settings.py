"""How one view is served."""

import secrets
from dataclasses import dataclass, field
from pathlib import Path

_SECRET_FILE = "view.secret"  # beside the stores; forms open in a browser outlive a restart


@dataclass(frozen=True)
class Settings:
    """`viewers` are origins (or "*") whose scripts may read the page pictures and manifests.
    `warm` starts the processes that draw at once, not with the first picture."""

    home: Path
    host: str = "127.0.0.1"
    port: int = 8437
    lan: bool = False
    viewers: tuple[str, ...] = ()
    warm: bool = True
    secret: bytes = field(default_factory=lambda: secrets.token_bytes(32), repr=False)


def kept_secret(home: Path) -> bytes:
    """The home's own secret for form tokens, made on first use; a passing one if unwritable."""
    path = home / _SECRET_FILE
    try:
        kept = path.read_bytes()
        if len(kept) >= 32:
            return kept
    except OSError:
        pass
    made = secrets.token_bytes(32)
    try:
        path.touch(mode=0o600)
        path.write_bytes(made)
    except OSError:
        pass
    return made
