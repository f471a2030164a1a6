"""Typed notes: encodings, pages, lists, and boxes on the grid."""

import numpy as np
import pytest

from indexer import limits
from indexer.errors import InputError, TooLarge
from indexer.intake.sources import FileKind, open_source

TEXT = "Model 41A\r\nΩ 470K  – see p. 12\r\n\tV1 6SN7GT"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_unicode_encodings_give_the_same_words(tmp_path, encoding):
    path = tmp_path / "note.txt"
    path.write_bytes(TEXT.encode(encoding))
    with open_source(path) as source:
        assert source.kind is FileKind.NOTES
        reading = source.page(1).embedded
    assert reading.reader == "typed"
    assert reading.text == "Model 41A\nΩ 470K – see p. 12\nV1 6SN7GT"


def test_latin_1_is_the_fallback(tmp_path):
    path = tmp_path / "note.txt"
    path.write_bytes("café 25 µF – “ok”".encode("cp1252"))
    with open_source(path) as source:
        assert source.page(1).embedded.text == "café 25 µF – “ok”"
    path.write_bytes(b"caf\xe9 \x81 25 \xb5F")  # 0x81 is in Latin-1 only, as a control
    with open_source(path) as source:
        assert source.page(1).embedded.text == "café 25 µF"


def test_form_feeds_begin_pages_and_control_characters_go(tmp_path):
    path = tmp_path / "note.txt"
    path.write_bytes(b"one\x1b\x08\x0cthree\x0c\x0cfive\x0c\n")
    with open_source(path) as source:
        assert source.page_count == 4
        texts = [page.embedded.text if page.embedded else "" for page in source]
    assert texts == ["one", "three", "", "five"]


def test_words_stand_on_the_drawn_letters(tmp_path):
    path = tmp_path / "note.md"
    path.write_text("# Bench notes\n\nV1    6SN7\nV2    6V6GT\n", encoding="utf-8")
    with open_source(path) as source:
        page = source.page(1)
        reading, ink = page.embedded, np.asarray(page.draw()) < 128
        assert source.title == "Bench notes"
        assert not page.has_picture
    assert ink.shape == (reading.height_px, reading.width_px)
    covered = np.zeros_like(ink)
    for word in reading.words:
        area = np.s_[
            int(word.box.top) : int(word.box.bottom), int(word.box.left) : int(word.box.right)
        ]
        assert ink[area].any(), word.text
        covered[area] = True
    assert ink[covered].sum() > 0.99 * ink.sum()
    by_text = {word.text: word.box for word in reading.words}
    assert by_text["6SN7"].left == by_text["6V6GT"].left, "columns stay columns"


@pytest.mark.parametrize("comma", [",", ";", "\t"])
def test_typed_lists_become_columns(tmp_path, comma):
    rows = [["type", "count", "note"], ["6SN7GT", "2", "NOS, boxed"], ["80", "1", ""]]
    path = tmp_path / "spares.csv"
    path.write_text(
        "\n".join(comma.join(f'"{cell}"' for cell in row) for row in rows), encoding="utf-8"
    )
    with open_source(path) as source:
        reading = source.page(1).embedded
    assert reading.text.split("\n") == ["type count note", "6SN7GT 2 NOS, boxed", "80 1"]
    lefts = [line[1].box.left for line in reading.lines]
    assert len(set(lefts)) == 1


def test_long_notes_are_divided_and_never_scaled(tmp_path):
    path = tmp_path / "long.txt"
    path.write_text("\n".join(f"line {n} " + "word " * 90 for n in range(300)), encoding="utf-8")
    with open_source(path) as source:
        words = [word.text for page in source for word in page.embedded.words]
        assert source.page_count > 1
        for page in source:
            assert max(page.draw_size()) <= limits.RENDER_MAX_SIDE_PX
            assert page.draw_size() == (page.embedded.width_px, page.embedded.height_px)
    assert len(words) == 300 * 92


def test_empty_and_oversized_notes_are_refused(tmp_path):
    blank, log = tmp_path / "blank.txt", tmp_path / "log.txt"
    blank.write_text(" \n\t\n\f\n", encoding="utf-8")
    log.write_bytes(b"x" * (limits.MAX_NOTE_BYTES + 1))
    with pytest.raises(InputError) as caught:
        open_source(blank)
    assert "no text" in caught.value.message
    with pytest.raises(TooLarge):
        open_source(log)
