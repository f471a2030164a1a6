"""File names as text that can be shown and stored, and back again.

A name on disk is bytes; some are no text, and some hold control characters. Such bytes are written
as \\xNN, which leads back to the file.
"""

import os
import re
from pathlib import Path


def printable(name: str) -> str:
    r"""`name` with bytes that are not text, and control characters, written as \xNN.

    The result can be shown, stored and encoded as UTF-8. Ordinary names come back unchanged.
    """
    if name.isprintable():
        return name
    parts = []
    for char in name:
        code = ord(char)
        if 0xDC80 <= code <= 0xDCFF:  # a byte that Python's surrogateescape carried over
            parts.append(f"\\x{code - 0xDC00:02x}")
        elif char.isprintable() or char == " ":
            parts.append(char)
        elif code < 0x80:
            parts.append(f"\\x{code:02x}")
        else:
            parts.append(f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}")
    return "".join(parts)


def find_again(folder: Path | str, name: str) -> Path:
    r"""The file that was stored as `name` under `folder`, \xNN turned back into bytes.

    A name that holds such letters itself is tried as it stands first.
    """
    path = Path(folder) / name
    if "\\" not in str(path) or os.path.lexists(path):
        return path
    tops = [Path(folder), Path(_bytes_back(str(folder)))]
    for top in tops:
        for last in (name, _bytes_back(name)):
            if os.path.lexists(top / last):
                return top / last
    return path


def folder_again(stored: str) -> Path:
    """The folder that was stored as `printable` gave it."""
    path = Path(stored)
    if "\\" not in stored or os.path.lexists(path):
        return path
    back = Path(_bytes_back(stored))
    return back if os.path.lexists(back) else path


def _bytes_back(name: str) -> str:
    return re.sub(r"\\x([0-9a-f]{2})|\\u([0-9a-f]{4})|\\U([0-9a-f]{8})", _unescaped, name)


def _unescaped(found: re.Match[str]) -> str:
    code = int(found.group(1) or found.group(2) or found.group(3), 16)
    if found.group(1) and code >= 0x80:
        return chr(0xDC00 + code)  # the byte as surrogateescape carries it
    return chr(code) if code <= 0x10FFFF and code else found.group()
