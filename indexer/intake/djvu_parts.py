"""The outer structure of a DjVu file: where its pages lie, their size and turn.

Source: the DjVu 3 specification (Lizardtech, November 2005), chapters on the IFF container, the
DIRM directory and the INFO chunk. Nothing here decodes pictures or text.
"""

from dataclasses import dataclass

# INFO flags, lowest three bits: the turn that shows the page upright, here clockwise degrees.
_TURNS = {1: 0, 6: 270, 2: 180, 5: 90}


@dataclass(frozen=True, slots=True)
class PagePart:
    """One page's place and header. Sizes are pixels before the turn; 0 when unreadable."""

    start: int
    end: int  # as declared; beyond the file's bytes when it was cut short
    width: int = 0
    height: int = 0
    dpi: int = 0
    turn_deg: int = 0


@dataclass(frozen=True, slots=True)
class Container:
    """What the outermost form says. `declared_bytes` is the whole length the file should have."""

    form: str  # DJVU, DJVM, or another form type
    declared_bytes: int
    indirect: bool = False  # pages lie in files of their own
    pages: tuple[PagePart, ...] = ()


def container(data: bytes) -> Container | None:
    """Read the structure, or None when `data` does not begin as a DjVu file does."""
    if data[:8] != b"AT&TFORM" or len(data) < 16:
        return None
    declared = 12 + _number(data, 8, 4)
    form = data[12:16].decode("latin-1")
    if form == "DJVU":
        return Container(form, declared, pages=(_page(data, 4, declared),))
    if form != "DJVM" or data[16:20] != b"DIRM" or len(data) < 27:
        return Container(form, declared)
    # DIRM: one byte of flags (bundled if the top bit is set), the count, then the offsets.
    if not data[24] & 0x80:
        return Container(form, declared, indirect=True)
    count = _number(data, 25, 2)
    starts = [_number(data, 27 + 4 * index, 4) for index in range(count)]
    return Container(form, declared, pages=_pages(data, starts, declared))


def _pages(data: bytes, starts: list[int], declared: int) -> tuple[PagePart, ...]:
    """The parts that are pages, in order. Parts beyond the cut can't be told from shared ones,
    so any of them gives no answer at all: then the caller asks the decoder."""
    pages = []
    for start in starts:
        head = data[start : start + 12]
        if len(head) < 12 or head[:4] != b"FORM":
            return ()
        if head[8:12] in (b"DJVU", b"BM44", b"PM44"):
            end = start + 8 + _number(data, start + 4, 4)
            pages.append(_page(data, start, min(end, declared)))
    return tuple(pages)


def _page(data: bytes, start: int, end: int) -> PagePart:
    """The page form at `start`; its INFO chunk comes first."""
    info = start + 12
    if data[info : info + 4] != b"INFO" or len(data) < info + 18:
        return PagePart(start, end)
    length = _number(data, info + 4, 4)
    body = data[info + 8 : info + 8 + min(length, 10)]
    if len(body) < 5:
        return PagePart(start, end)
    dpi = body[6] | body[7] << 8 if len(body) >= 8 else 0  # the one little-endian number
    turn = _TURNS.get(body[9] & 7, 0) if len(body) >= 10 else 0
    return PagePart(start, end, _number(body, 0, 2), _number(body, 2, 2), dpi, turn)


def _number(data: bytes, at: int, size: int) -> int:
    return int.from_bytes(data[at : at + size], "big")


def completed(data: bytes, whole: Container) -> bytes:
    """`data` of a file that was cut short, made up to its declared length.

    A single page is padded with zeros. In a bundle every part that does not lie wholly before
    the cut is replaced by an empty page of size 0, since the decoder refuses a bundle whose
    directory names parts that are not there.
    """
    padded = bytearray(data)
    padded.extend(bytes(whole.declared_bytes - len(data)))
    if whole.form != "DJVM" or len(data) < 27:
        return bytes(padded)
    count = _number(data, 25, 2)
    starts = [_number(data, 27 + 4 * index, 4) for index in range(count)]
    ends = [*starts[1:], whole.declared_bytes]
    for start, end in zip(starts, ends, strict=True):
        size = end - start - 8
        if end <= len(data) or start < 27 + 4 * count or end > len(padded) or size < 30:
            continue
        filler = size - 30
        padded[start:end] = (
            b"FORM" + size.to_bytes(4, "big") + b"DJVU"
            + b"INFO" + (10).to_bytes(4, "big") + bytes(10)
            + b"NONE" + filler.to_bytes(4, "big") + bytes(filler)
        )  # fmt: skip
    return bytes(padded)
