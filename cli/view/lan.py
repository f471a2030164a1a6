"""The code that lets a tablet in when the view is served to the local network."""

import hmac
import secrets
import threading
import time
from collections.abc import Callable

CODE_PATH = "/code"
_LETTERS = "bcdfghjkmnpqrtvwxy346789"  # nothing that looks like something else
_LENGTH = 8  # 24^8 codes: about 36 bits
_TRIES = 5  # wrong codes before another is made
_PAUSE_S = 30.0  # and how long none is taken then
_MOST_SESSIONS = 50


class Door:
    """Sessions let in by one-time codes. `announce` is given each new code, to be printed."""

    def __init__(self, announce: Callable[[str], None]) -> None:
        self._announce = announce
        self._lock = threading.Lock()
        self._admitted: dict[str, float] = {}
        self._tries = 0
        self._closed_until = 0.0
        self._code = ""
        self._renew()

    def _renew(self) -> None:
        self._code = "".join(secrets.choice(_LETTERS) for _ in range(_LENGTH))
        self._tries = 0
        self._announce(self._code)

    def admits(self, session: str) -> bool:
        """Whether this session gave a code."""
        return session in self._admitted

    def try_code(self, session: str, code: str) -> bool:
        """Lets the session in when the code fits; a code serves once, then a new one is made."""
        with self._lock:
            if time.monotonic() < self._closed_until:
                return False
            said = "".join(code.lower().split()).replace("-", "")
            if not hmac.compare_digest(said.encode(), self._code.encode()):
                self._tries += 1
                if self._tries >= _TRIES:
                    self._closed_until = time.monotonic() + _PAUSE_S
                    self._renew()
                return False
            self._admitted[session] = time.monotonic()
            if len(self._admitted) > _MOST_SESSIONS:
                self._admitted.pop(next(iter(self._admitted)))
            self._renew()
            return True
