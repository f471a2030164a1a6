"""What a file is goes by its content; the name only gives a reason when it disagrees."""

import os
import socket

import pytest
from PIL import Image, features

from indexer.errors import InputError
from indexer.intake.sources import FileKind, detect, examine, open_source


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("ocrmypdf/cardinal.pdf", FileKind.PDF),
        ("djvujs/alice.djvu", FileKind.DJVU),
        ("leptonica/form1.tif", FileKind.TIFF),
        ("ocrmypdf/linn.png", FileKind.IMAGE),
        ("ocrmypdf/linn.txt", FileKind.NOTES),
        ("SOURCES.md", FileKind.NOTES),
        ("pypdf/LICENSE", FileKind.NOTES),
        ("pdfbox-jbig2/002.jb2", FileKind.NONE),
        ("ocrmypdf/REUSE.toml", FileKind.NONE),
    ],
)
def test_real_files(scans, name, kind):
    found = examine(scans / name)
    assert found.kind is kind
    assert bool(found.reason) == (kind is FileKind.NONE)


@pytest.mark.parametrize(
    "suffix", ["jpg", "png", "webp", "gif", "bmp", "tif", "ppm", "jp2", "avif"]
)
def test_every_bitmap_pillow_writes_is_known_and_drawn(tmp_path, suffix):
    if suffix == "avif" and not features.check("avif"):
        pytest.skip("this Pillow was built without AVIF")
    if suffix == "jp2" and not features.check("jpg_2000"):
        pytest.skip("this Pillow was built without JPEG 2000")
    path = tmp_path / f"a.{suffix}"
    Image.new("RGB", (1700, 1800), (10, 200, 30)).save(path)
    assert detect(path) is (FileKind.TIFF if suffix == "tif" else FileKind.IMAGE)
    with open_source(path) as source:
        assert source.page(1).draw().size == (1700, 1800)


def test_a_wrong_suffix_is_read_by_content_and_said(tmp_path):
    path = tmp_path / "scan.pdf"
    Image.new("L", (1700, 1700), 128).save(path, format="JPEG")
    assert examine(path).kind is FileKind.IMAGE
    with open_source(path) as source:
        assert source.reason == "named .pdf but holds JPEG"
        assert source.page(1).reason == "", "the page itself is sound"


@pytest.mark.parametrize(
    ("name", "data", "word"),
    [
        ("a.pdf", b"", "empty"),
        ("a.tif", b"just some words\n", "plain text"),
        ("a.txt", b"\x00\x01\x02binary\xff", "not text"),
        ("a.djvu", b"\x00\x01\x02\x03 nothing", "is not DjVu"),
        ("a.pdf", b"PK\x03\x04rest", "ZIP"),
        ("a.jpg", b"\x00\x00\x00\x18ftypheic" + bytes(40), "HEIC"),
        ("a.docx", b"PK\x03\x04rest", "ZIP"),
        ("a.bin", b"\x00\x01\x02\x03", "not a kind"),
        ("a.dng", b"II*\0" + bytes(40), "raw photo"),
    ],
)
def test_what_is_not_read_has_a_plain_reason(tmp_path, name, data, word):
    path = tmp_path / name
    path.write_bytes(data)
    found = examine(path)
    assert found.kind is FileKind.NONE
    assert word in found.reason
    with pytest.raises(InputError) as caught:
        open_source(path)
    assert name in caught.value.message
    assert caught.value.remedy


def test_notes_that_begin_like_something_else_stay_notes(tmp_path):
    for text in ("MZ series, three chassis\n", "BM 12 sockets\n", "P1 pilot lamp\n", "BZh\n"):
        path = tmp_path / "note.txt"
        path.write_text(text, encoding="utf-8")
        assert detect(path) is FileKind.NOTES


def test_headers_without_their_pictures_are_refused(tmp_path):
    for name, data in [("a.tif", b"II*\0"), ("a.png", b"\x89PNG\r\n\x1a\n"), ("a.pdf", b"%PDF-1.4"),
                       ("a.djvu", b"AT&TFORM"), ("a.jpg", b"\xff\xd8\xff\xe0")]:  # fmt: skip
        path = tmp_path / name
        path.write_bytes(data)
        with pytest.raises(InputError) as caught:
            open_source(path)
        assert caught.value.remedy


def test_pipes_sockets_and_folders_are_never_opened(tmp_path, monkeypatch):
    os.mkfifo(tmp_path / "pipe.pdf")  # opening it would wait for ever
    with socket.socket(socket.AF_UNIX) as plug:
        monkeypatch.chdir(tmp_path)  # socket paths are short
        plug.bind("plug.pdf")
        for name in ("pipe.pdf", "plug.pdf"):
            assert "pipe, socket or device" in examine(tmp_path / name).reason
    assert "folder" in examine(tmp_path).reason


def test_missing_files_say_so(tmp_path):
    with pytest.raises(InputError) as caught:
        open_source(tmp_path / "gone.pdf")
    assert caught.value.message == "gone.pdf is not there."
