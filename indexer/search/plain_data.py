"""Whoosh kept from building objects out of what lies on disk.

Whoosh 2.7.4 stores its tables of contents and postings as pickles; a pickle that someone else made
can run anything when it is read. Its readers are given one that builds plain data and Whoosh's own
segment, nothing else: the restriction that Python's documentation of `pickle` describes.
"""

import io
import pickle
from functools import cache
from typing import Any, BinaryIO

_WHOOSH = "whoosh.codec.whoosh3"
_ALLOWED = {
    (_WHOOSH, "W3Segment"),
    (_WHOOSH, "W3Codec"),
    ("builtins", "set"),
    ("builtins", "int"),
    ("builtins", "bytes"),
    ("_codecs", "encode"),  # how older pickle protocols write bytes
    ("collections", "defaultdict"),
}


class _Plain(pickle.Unpickler):
    def find_class(self, module: str, name: str) -> Any:
        if (module, name) not in _ALLOWED:
            raise pickle.UnpicklingError(f"the index holds {module}.{name}, which is not allowed")
        return super().find_class(module, name)


def load(stream: BinaryIO) -> Any:
    """The plain data that a stream holds next. Raises UnpicklingError for anything else."""
    return _Plain(stream).load()


def loads(data: bytes) -> Any:
    """As `load`, from bytes."""
    return _Plain(io.BytesIO(data)).load()


@cache
def restrict() -> None:
    """Puts these readers in place of Whoosh's own, for the whole process."""
    from whoosh import columns
    from whoosh.codec import whoosh3
    from whoosh.filedb import structfile

    structfile.load_pickle = load
    whoosh3.loads = loads
    columns.loads = loads
