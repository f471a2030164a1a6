"""Titles that name a set without the word MODEL, and what is none. How the trade prints them is
common practice, no source; makers and models are invented."""

import pytest

from indexer.cataloguing import identity
from indexer.cataloguing.headings import mended
from indexer.cataloguing.region import whole_page
from indexer.cataloguing.spread import facing
from indexer.model import PageInput, PageReading
from tests.cataloguing.pages import HEIGHT, page

KNOWN = ("Tillbrook", "Quarrydale")
BODY = "\n".join(["ANT.", "12BE6 CONV", "R5 270K", "I.F. = 455 KC"])


def named(text: str, known: tuple[str, ...] = KNOWN) -> tuple[tuple[str, ...], tuple[str, ...]]:
    heads = identity.mastheads(whole_page(page(text)).lines, HEIGHT, known)
    head = identity.with_same_set(heads)
    return (head.models, head.chassis) if head else ((), ())


@pytest.mark.parametrize("at_foot", [False, True])
@pytest.mark.parametrize(
    ("title", "models", "chassis"),
    [
        ("TILLBROOK  T-7410 T-7411  CH. 74-R  AM-FM PHONO", ("T-7410", "T-7411"), ("74-R",)),
        ("TILLBROOK 514   Circuit diagram", ("514",), ()),
        ("TILLBROOK 514RG RADIOGRAM", ("514RG",), ()),
        ("TILLBROOK 61-T, 61-TC   Schematic", ("61-T", "61-TC"), ()),
        ("TILLBROOK Aldena 58W", ("Aldena 58W",), ()),
        ("TILLBROOK Aldena 58W  Schaltbild  Chassis K58", ("Aldena 58W",), ("K58",)),
        ("Aldena 58W  Chassis K58  Service-Anleitung 1957/58", ("Aldena 58W",), ("K58",)),
        ("Tillbrook 8-60 Alignment", ("8-60",), ()),
        ("QUARRYDALE U96  PARTS AND VOLTAGES", ("U96",), ()),
        ("TILLBROOK 738 A  Récepteur", ("738 A",), ()),
    ],
)
def test_titles(
    title: str, models: tuple[str, ...], chassis: tuple[str, ...], at_foot: bool
) -> None:
    text = f"{BODY}\n" + "\n" * 48 + title if at_foot else f"{title}\n\n{BODY}"
    assert named(text) == (models, chassis)


@pytest.mark.parametrize(
    "line",
    [
        "TILLBROOK 455 KC ALIGNMENT",
        "TILLBROOK 117 VOLTS",
        "TILLBROOK 6 TUBE RECEIVER",
        "TILLBROOK 1938 RECEIVERS",
        "TILLBROOK Patent 1847221",
        "TILLBROOK Form 2210",
        "TILLBROOK Part 77-1204",
        "TILLBROOK Bulletin 44",
        "TILLBROOK March 1951",
        "TILLBROOK 12SA7 Converter",
        "TILLBROOK Converter 12SA7",
        "TILLBROOK .05 MFD",
        "TILLBROOK R12 Volume",
        "TILLBROOK 60 W",
        "TILLBROOK 110 V",
        "Sets of 1957 and 58W use it, as the Aldena does, with no other change at all",
        "Output 3W Chassis earthed",
        "and 250 volts",
    ],
)
def test_what_names_no_set(line: str) -> None:
    assert named(f"{line}\n\n{BODY}")[0] == ()


def test_a_heading_goes_on_below() -> None:
    assert named(f"TILLBROOK 514\nand 514RG radiogram\n\n{BODY}")[0] == ("514", "514RG")
    assert named(f"MODELS 61, 62\nand 63 Console\n\n{BODY}")[0] == ("61", "62", "63")
    for other in ("and 12SA7 tubes", "and 455 KC", "and 250 volts", "and 7 tubes", "AND 80"):
        assert named(f"TILLBROOK 514\n{other}\n\n{BODY}")[0] == ("514",)


@pytest.mark.parametrize(
    ("read", "meant"),
    [
        ("MODELS V-51 20, V-5121, V-5122", "MODELS V-5120, V-5121, V-5122"),
        ("MODELS 61-T, 481 02, 48103", "MODELS 61-T, 48102, 48103"),
        ("MODELS V-51, 20", "MODELS V-51, 20"),
        ("MODELS 51 20", "MODELS 51 20"),
        ("MODELS 12 14 1214", "MODELS 12 14 1214"),
        ("MODELS V-51 20, W-77", "MODELS V-51 20, W-77"),
    ],
)
def test_a_code_torn_by_a_blank(read: str, meant: str) -> None:
    assert mended(read) == meant


def test_one_title_across_a_wide_drawing_is_one_set() -> None:
    sheet = page(f"TILLBROOK Aldena 58W {' ' * 60} Chassis K58\n\n{BODY}")
    wide = PageReading(sheet.reading.words, 2 * 1000, 1400, "tesseract")
    assert facing(whole_page(PageInput(sheet.ref, sheet.file, wide)), KNOWN) == ()
