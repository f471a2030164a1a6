"""What a file holds, judged by its first bytes; its name only settles what they leave open."""

import stat
from dataclasses import dataclass
from pathlib import Path

from indexer.intake.quiet import os_trouble
from indexer.intake.shape import FileKind

_HEAD_BYTES = 8_192

# Suffixes that promise a content, in the words of the reasons below.
_PROMISES = {
    ".pdf": "PDF", ".djvu": "DjVu", ".djv": "DjVu", ".tif": "TIFF", ".tiff": "TIFF",
    ".jpg": "JPEG", ".jpeg": "JPEG", ".png": "PNG", ".webp": "WebP", ".gif": "GIF",
    ".bmp": "BMP", ".jp2": "JPEG 2000", ".avif": "AVIF", ".pbm": "PNM", ".pgm": "PNM",
    ".ppm": "PNM", ".pnm": "PNM",
    ".txt": "text", ".text": "text", ".md": "text", ".markdown": "text", ".csv": "text",
    ".tsv": "text", ".asc": "text",
}  # fmt: skip
_KINDS = {
    "PDF": FileKind.PDF,
    "DjVu": FileKind.DJVU,
    "TIFF": FileKind.TIFF,
    "text": FileKind.NOTES,
    **dict.fromkeys(
        ("JPEG", "PNG", "WebP", "GIF", "BMP", "JPEG 2000", "AVIF", "PNM"), FileKind.IMAGE
    ),
}
_READ: tuple[tuple[bytes, str], ...] = (
    (b"AT&TFORM", "DjVu"),
    (b"II*\0", "TIFF"),
    (b"MM\0*", "TIFF"),
    (b"II+\0", "TIFF"),
    (b"MM\0+", "TIFF"),
    (b"\xff\xd8\xff", "JPEG"),
    (b"\x89PNG\r\n\x1a\n", "PNG"),
    (b"GIF87a", "GIF"),
    (b"GIF89a", "GIF"),
    (b"\0\0\0\x0cjP  \r\n\x87\n", "JPEG 2000"),
    (b"\xff\x4f\xff\x51", "JPEG 2000"),
)
_UNREAD: tuple[tuple[bytes, str], ...] = (
    (b"PK\x03\x04", "a ZIP archive or an office document"),
    (b"Rar!", "a RAR archive"),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"BZh", "a bzip2 archive"),
    (b"\xfd7zXZ", "an xz archive"),
    (b"\xd0\xcf\x11\xe0", "an old office document"),
    (b"{\\rtf", "an RTF document"),
    (b"%!PS", "a PostScript file"),
    (b"\x97JB2", "a bare JBIG2 picture"),
    (b"SDJVFORM", "an encrypted DjVu"),
    (b"SQLite format 3", "a database"),
    (b"\x7fELF", "a program"),
    (b"MZ", "a program"),
)
_RAW_PHOTOS = {".dng", ".nef", ".cr2", ".arw", ".orf", ".pef", ".rw2"}


@dataclass(frozen=True, slots=True)
class Detection:
    """`kind` NONE always comes with a `reason`; other kinds have one when the name disagrees."""

    kind: FileKind
    reason: str = ""


def examine(path: Path) -> Detection:
    """What the file at `path` is, with a reason in plain words where there is one to give.

    Pipes, devices, sockets and folders are never opened. Raises InputError when the file is not
    there or may not be read.
    """
    try:
        facts = path.stat()
        if stat.S_ISDIR(facts.st_mode):
            return Detection(FileKind.NONE, "a folder, not a file")
        if not stat.S_ISREG(facts.st_mode):
            return Detection(FileKind.NONE, "a pipe, socket or device, not a file")
        with path.open("rb") as stream:
            head = stream.read(_HEAD_BYTES)
    except OSError as error:
        raise os_trouble(path, error) from error
    if not head:
        return Detection(FileKind.NONE, "an empty file (0 bytes)")
    return _judged(head, path.suffix.lower())


def detect(path: Path) -> FileKind:
    """What the file at `path` is, by its content; `examine` says why. Raises like `examine`."""
    return examine(path).kind


def _judged(head: bytes, suffix: str) -> Detection:
    promised = _PROMISES.get(suffix, "")
    if suffix in _RAW_PHOTOS:
        return Detection(FileKind.NONE, "a camera's raw photo; save it as JPEG or TIFF")
    unread = _unread(head)
    if unread:
        named = f"named {suffix} but holds " if promised else ""
        return Detection(FileKind.NONE, f"{named}{unread}, which is not read")
    found = _format(head, suffix)
    if found in ("", "text") and promised == "PDF" and _pdf_remains(head):
        return Detection(FileKind.PDF, "its PDF header is missing")
    if found == "text":
        return _text(promised, suffix)
    if not found:
        if promised == "text":
            return Detection(FileKind.NONE, f"named {suffix} but is not text")
        if promised:
            return Detection(FileKind.NONE, f"named {suffix} but is not {promised}, or is damaged")
        return Detection(FileKind.NONE, "not a kind of file that is read")
    if promised and promised != found:
        return Detection(_KINDS[found], f"named {suffix} but holds {found}")
    return Detection(_KINDS[found])


def _text(promised: str, suffix: str) -> Detection:
    if promised == "text" or not suffix:
        return Detection(FileKind.NOTES)
    if promised:
        return Detection(FileKind.NONE, f"named {suffix} but holds plain text")
    return Detection(FileKind.NONE, f"text in a {suffix} file; typed notes end in .txt or .md")


def _format(head: bytes, suffix: str) -> str:
    for magic, name in _READ:
        if head.startswith(magic):
            return name
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "WebP"
    if head[4:8] == b"ftyp" and head[8:12] in (b"avif", b"avis"):
        return "AVIF"
    if head[:2] == b"BM" and head[6:10] == bytes(4) and head[14:18] in _BMP_HEADERS:
        return "BMP"
    if head[:1] == b"P" and head[1:2] in b"123456" and head[2:3].isspace() and suffix in _PNM:
        return "PNM"
    # PDF 32000-1, annex H: readers accept the header anywhere in the first 1,024 bytes.
    at = head[:1024].find(b"%PDF-")
    if at == 0 or (at > 0 and (suffix == ".pdf" or not head[:at].strip(b"\xef\xbb\xbf \r\n\t"))):
        return "PDF"
    return "text" if _is_text(head) else ""


_BMP_HEADERS = {size.to_bytes(4, "little") for size in (12, 40, 52, 56, 64, 108, 124)}
_PNM = {".pbm", ".pgm", ".ppm", ".pnm"}


def _unread(head: bytes) -> str:
    for magic, name in _UNREAD:
        # Two letters are little to go by: a note may begin with them too.
        if head.startswith(magic) and not (len(magic) < 4 and _is_text(head)):
            return name
    if head[4:8] == b"ftyp" and head[8:12] in (b"heic", b"heix", b"hevc", b"mif1", b"msf1"):
        return "a HEIC photo (set the phone to save JPEG, or convert it)"
    if head[4:8] == b"ftyp" and head[8:12] not in (b"avif", b"avis"):
        return "a film"
    return ""


def _pdf_remains(head: bytes) -> bool:
    """Numbered objects of a PDF whose first line is lost."""
    return b" obj" in head and b"<<" in head


def _is_text(head: bytes) -> bool:
    """UTF-16 with its mark, or bytes with hardly any control characters among them."""
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return True
    if b"\0" in head:
        return False
    odd = sum(1 for byte in head if byte < 32 and byte not in b"\t\n\r\f\x0b\x1a\x1b\x08")
    return odd * 50 <= len(head)
