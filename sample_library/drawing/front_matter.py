"""The annual's pages that belong to no set: title, index, advertisement, running header."""

from __future__ import annotations

from .fonts import face
from .listings import Listing
from .sheet import Sheet


def running_header(sheet: Sheet, printed: str) -> float:
    """Running header; page number on the outer edge. Returns the y below it."""
    odd = printed.isdigit() and int(printed) % 2 == 1
    title = "SERVICE ANNUAL of the WRENFIELD TRADE PRESS"
    mid = (sheet.left + sheet.right) / 2
    sheet.text(mid, 110, f"{title}    VOLUME IV", "century", 38, "ma")
    if odd:
        sheet.text(sheet.right, 104, printed, "century bold", 50, "ra")
    else:
        sheet.text(sheet.left, 104, printed, "century bold", 50)
    sheet.rule(sheet.left, 168, sheet.right, 4)
    return 200.0


def title_page() -> Sheet:
    """The title page."""
    sheet = Sheet("title")
    sheet.page_label = "i"
    sheet.printed.kind("cover or other")
    mid = (sheet.left + sheet.right) / 2
    for inset in (0, 24):
        sheet.pen.rectangle(
            [200 + inset, 220 + inset, 2350 - inset, 3080 - inset], outline=0, width=10 - inset // 4
        )
    sheet.spaced(mid, 560, "SERVICE ANNUAL", "century bold", 172, 10)
    sheet.text(mid, 830, "of the", "century italic", 90, "ma")
    sheet.spaced(mid, 980, "WRENFIELD TRADE PRESS", "century bold", 116, 8)
    sheet.rule(mid - 400, 1190, mid + 400, 6)
    sheet.spaced(mid, 1270, "VOLUME IV", "century bold", 130, 12)
    y = 1560.0
    for line in (
        "Circuit diagrams, parts lists, alignment and voltage data",
        "of radio receivers",
        "for the use of the service trade",
    ):
        sheet.text(mid, y, line, "century", 62, "ma")
        y += 92
    sheet.pen.ellipse([mid - 210, 1960, mid + 210, 2380], outline=0, width=8)
    sheet.text(mid, 2170, "W T P", "century bold", 92, "mm")
    for y, line in (
        (2600, "WRENFIELD TRADE PRESS"),
        (2680, "Bound for subscribers"),
        (2760, "1952"),
    ):
        sheet.text(mid, y, line, "century", 60, "ma")
    return sheet


def index_page(printed: str, listings: list[Listing]) -> Sheet:
    """A page of the index: maker, model, volume, page, with dots and ditto marks."""
    sheet = Sheet("index " + printed)
    sheet.page_label = printed
    sheet.printed.kind("index page")
    y = running_header(sheet, printed)
    sheet.spaced(
        (sheet.left + sheet.right) / 2, y + 10, "INDEX TO VOLUMES 1 TO 4", "century bold", 66, 4
    )
    y += 120
    at = (sheet.left + 90, sheet.left + 640, sheet.right - 420, sheet.right - 100)
    for x, words, anchor in zip(
        at, ("MAKER", "MODEL", "VOL.", "PAGE"), ("la", "la", "ma", "ra"), strict=True
    ):
        sheet.text(x, y, words, "century bold", 42, anchor)
    sheet.rule(sheet.left + 60, y + 58, sheet.right - 60, 3)
    y += 78
    last = ""
    step = 60
    for item in listings:
        if item.maker != last:
            y += 8 if last else 0
            sheet.text(at[0], y, item.maker, "century", 42)
        else:
            sheet.text(at[0] + 90, y - 4, '"', "century", 44)
            sheet.text(at[0] + 240, y - 4, '"', "century", 44)
        last = item.maker
        width = sheet.text(at[1], y, item.model, "century", 42)
        sheet.leader(at[1] + width + 10, at[2] - 60, y, "century", 42)
        sheet.text(at[2], y, item.volume, "century", 42, "ma")
        digits = face("century", 42).getlength(item.page)
        sheet.leader(at[2] + 60, at[3] - digits - 12, y, "century", 42)
        sheet.text(at[3], y, item.page, "century", 42, "ra")
        y += step
    if y < 2700:
        y = max(y + 60, 2480)
        sheet.rule(sheet.left + 60, y, sheet.right - 60, 3)
        sheet.text(
            (sheet.left + sheet.right) / 2,
            y + 30,
            "HOW TO USE THIS INDEX",
            "century bold",
            46,
            "ma",
        )
        sheet.prose(
            sheet.left + 90,
            y + 110,
            "Find the maker, then the model as it stands on the "
            "label. Ditto marks repeat the maker above. The volume and the page follow on "
            "the same line. Models given as a first and a last number take in all numbers "
            "between them. Sets that were left out of earlier volumes for want of data "
            "are printed as soon as their makers send it.",
            "century",
            46,
            sheet.right - sheet.left - 180,
        )
    return sheet


def advertisement() -> Sheet:
    """A full-page advertisement between two pages of one set."""
    sheet = Sheet("ad")
    sheet.page_label = "210"
    sheet.printed.kind("cover or other")
    running_header(sheet, "210")
    mid = (sheet.left + sheet.right) / 2
    sheet.pen.rectangle([260, 320, 2290, 3000], outline=0, width=12)
    sheet.pen.rectangle([290, 350, 2260, 2970], outline=0, width=4)
    y = 520.0
    for words, font, size in (
        ("ADVERTISEMENT", "sans", 44),
        ("Keep a fresh stock", "chancery", 190),
        ("of THISTLECOTE solder and dial cord", "century bold", 84),
    ):
        sheet.text(mid, y, words, font, size, "ma")
        y += size * 1.5
    for i in range(7):
        x = 560 + i * 220
        sheet.pen.ellipse([x - 90, 1200, x + 90, 1380], outline=0, width=7)
        sheet.pen.ellipse([x - 34, 1256, x + 34, 1324], outline=0, width=5)
        sheet.pen.rectangle([x - 90, 1420, x + 90, 1700], outline=0, width=7)
        for k in range(9):
            sheet.rule(x - 90, 1436 + k * 30, x + 90, 4)
    y = 1840.0
    for line in (
        "Your customers come back for a set that stays mended. Our rosin core solder flows",
        "at once, leaves no acid behind, and comes in half pound and one pound reels.",
        "Dial cord in woven silk, fifty feet to the spool, will not stretch.",
    ):
        sheet.text(mid, y, line, "century", 50, "ma")
        y += 76
    sheet.text(mid, 2360, "Ask your jobber", "century italic", 120, "ma")
    sheet.text(mid, 2700, "THISTLECOTE SUPPLY COMPANY", "century bold", 88, "ma")
    return sheet
