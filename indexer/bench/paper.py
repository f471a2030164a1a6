"""The sheets that are set in type: fonts, headings, tables, the foot line. Points throughout."""

import logging
from collections.abc import Sequence
from typing import Any

import font_source_sans_pro
from fpdf import FPDF, FontFace
from fpdf.enums import XPos, YPos

from indexer.bench.place import FOOT_PT, MARGIN_PT, PAPER_PT, Window

LEFT_PT = 48.0
TOP_PT = 44.0
BODY, SMALL, FOOT, TITLE, HEADING = 10.0, 8.5, 8.0, 21.0, 12.0
_INK, _GREY, _RULE = 0, 95, 170
_MARK_PT = 10.0  # length of a cut mark


class Sheets(FPDF):
    """A document of sheets in one sans face, embedded with Ω, µ and accented letters."""

    def __init__(self, paper: str, foot: str) -> None:
        super().__init__(orientation="portrait", unit="pt", format=PAPER_PT[paper])
        logging.getLogger("fpdf").setLevel(logging.ERROR)  # letters that no font has
        logging.getLogger("fontTools").setLevel(logging.ERROR)
        files = font_source_sans_pro.font_files_ttf
        self.add_font("text", "", files["SourceSansPro"])
        self.add_font("text", "B", files["SourceSansProBold"])
        self.set_margins(LEFT_PT, TOP_PT, LEFT_PT)
        self.c_margin = 0.0
        self.set_auto_page_break(True, margin=FOOT_PT + 12)
        self.source = foot  # what the foot of the sheet in hand says
        self._plain_foot = foot

    def footer(self) -> None:
        """The source at the left, the sheet number at the right, outside any picture."""
        self.set_y(-MARGIN_PT - FOOT)
        self.set_font("text", "", FOOT)
        self.set_text_color(_GREY)
        number = f"{self.page_no()} / {{nb}}"
        room = self.w - 2 * MARGIN_PT - 60
        self.set_x(MARGIN_PT)
        self.cell(room, FOOT * 1.3, self.shortened(self.source, room))
        self.set_font("text", "B", FOOT + 1)
        self.set_text_color(_INK)
        self.set_x(self.w - MARGIN_PT - 60)
        self.cell(60, FOOT * 1.3, number, align="R")

    def shortened(self, text: str, room: float) -> str:
        """Text that fits in one line, cut in the middle with an ellipsis where it must be."""
        if self.get_string_width(text) <= room:
            return text
        keep = len(text)
        while keep > 8:
            keep -= 2
            cut = text[: keep // 2].rstrip() + " … " + text[-(keep // 2) :].lstrip()
            if self.get_string_width(cut) <= room:
                return cut
        return text[:8]

    def typed_sheet(self) -> None:
        """A new upright sheet for type."""
        self.set_auto_page_break(True, margin=FOOT_PT + 12)
        self.add_page(orientation="portrait")  # which writes the foot of the sheet before
        self.source = self._plain_foot

    def picture_sheet(self, window: Window, source: str) -> None:
        """A new sheet that a picture will be laid on; tiles get their marks."""
        self.set_auto_page_break(False)
        wide = window.sheet_width > window.sheet_height
        self.add_page(orientation="landscape" if wide else "portrait")
        self.source = source
        if window.is_tile:
            self._cut_marks(window)

    def photo_sheet(self, title: str) -> None:
        """A new upright sheet for photos, with its title."""
        self.set_auto_page_break(False)
        self.add_page(orientation="portrait")
        self.source = self._plain_foot
        self.set_xy(LEFT_PT, TOP_PT)
        self.set_font("text", "B", HEADING)
        self.set_text_color(_INK)
        self.cell(0, HEADING * 1.3, title)

    def caption(self, x: float, y: float, room: float, text: str, *, grey: bool = False) -> None:
        """One line in the middle of `room` points from `x`, its top `y` below the sheet's edge."""
        self.set_font("text", "", SMALL if grey else BODY)
        self.set_text_color(_GREY if grey else _INK)
        self.set_xy(x, y)
        line = self.shortened(" ".join(text.split()), room)
        self.cell(room, (SMALL if grey else BODY) * 1.3, line, align="C")

    def _cut_marks(self, window: Window) -> None:
        """Where to cut at the left and top, and where the next sheets are laid over."""
        from indexer.bench.place import OVERLAP_PT

        left, bottom, width, height = window.clip
        top = self.h - bottom - height
        right, foot = left + width, top + height
        self.set_line_width(0.6)
        self.set_draw_color(_INK)
        gap = 3.0
        ends = [(left, window.column > 0), (right - OVERLAP_PT, window.column < window.columns - 1)]
        for x, wanted in ends:
            if wanted:
                self.line(x, top - gap - _MARK_PT, x, top - gap)
                self.line(x, foot + gap, x, foot + gap + _MARK_PT)
        ends = [(top, window.row > 0), (foot - OVERLAP_PT, window.row < window.rows - 1)]
        for y, wanted in ends:
            if wanted:
                self.line(left - gap - _MARK_PT, y, left - gap, y)
                self.line(right + gap, y, right + gap + _MARK_PT, y)
        cell, line = 11.0, self.h - MARGIN_PT - FOOT - 9
        across = self.w - MARGIN_PT - 60 - window.columns * cell
        self.set_line_width(0.4)
        for row in range(window.rows):
            for column in range(window.columns):
                here = (row, column) == (window.row, window.column)
                self.set_fill_color(_INK if here else 255)
                y = line + 13 - (window.rows - row) * cell * 0.7
                self.rect(across + column * cell, y, cell, cell * 0.7, style="DF")

    def para(self, text: str, size: float = BODY, style: str = "", gap: float = 3) -> None:
        """One paragraph, wrapped."""
        self.set_font("text", style, size)
        self.set_text_color(_INK)
        self.multi_cell(0, size * 1.3, text, align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        self.ln(gap)

    def heading(self, text: str, room: float = 70) -> None:
        """A heading with a rule under it, never alone at the foot of a sheet."""
        if self.get_y() + room > self.page_break_trigger:
            self.typed_sheet()
        self.ln(8)
        self.para(text, HEADING, "B", gap=1)
        self.set_draw_color(_INK)
        self.set_line_width(0.8)
        self.line(LEFT_PT, self.get_y(), self.w - LEFT_PT, self.get_y())
        self.ln(4)

    def rows(
        self,
        rows: Sequence[Sequence[str]],
        shares: Sequence[float],
        size: float = BODY,
        gap_pt: float = 6,
        foot_pt: float = 1.5,
    ) -> None:
        """A table whose first row is its head, repeated on every sheet; long cells wrap.

        `shares` are the columns' widths in proportion, `gap_pt` keeps columns apart,
        `foot_pt` rows.
        """
        self.set_font("text", "", size)
        self.set_text_color(_INK)
        self.set_draw_color(_RULE)
        self.set_line_width(0.4)
        with self.table(
            rows,
            col_widths=tuple(shares),
            borders_layout="HORIZONTAL_LINES",
            headings_style=FontFace(emphasis="BOLD", color=_INK),
            text_align="LEFT",
            v_align="TOP",
            line_height=size * 1.3,
            padding=(1.5, gap_pt, foot_pt, 0),
        ):
            pass
        self.ln(4)

    def boxed(self, title: str, text: str) -> None:
        """A framed warning."""
        self.ln(9)
        inner = self.w - 2 * LEFT_PT - 20
        self.set_font("text", "", BODY)
        lines: Any = self.multi_cell(inner, BODY * 1.3, text, dry_run=True, output="LINES")
        height = 14 * 1.3 + len(lines) * BODY * 1.3 + 18
        top = self.get_y()
        self.set_draw_color(_INK)
        self.set_line_width(2)
        self.rect(LEFT_PT, top, self.w - 2 * LEFT_PT, height)
        self.set_xy(LEFT_PT + 10, top + 8)
        self.set_font("text", "B", 14)
        self.multi_cell(inner, 14 * 1.3, title, new_x=XPos.LEFT, new_y=YPos.NEXT)
        self.set_font("text", "", BODY)
        self.multi_cell(inner, BODY * 1.3, text, align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        self.set_y(top + height + 6)
