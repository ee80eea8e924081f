"""Tables as CSV and as a workbook: the same bytes every run, and no text that a spreadsheet would run."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

Value = str | int | float | None

#: A text that begins so is taken for a formula by spreadsheets.
_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n")
#: Characters that no XML file may hold.
_FORBIDDEN = dict.fromkeys((*range(9), 11, 12, *range(14, 32), *range(55296, 57344), 65534, 65535), "�")
#: Longest text and most rows of a sheet in a workbook.
_LONGEST_TEXT = 32_767


@dataclass(frozen=True)
class SheetTable:
    """One table.

    Attributes:
        title: name of the sheet, at most 31 signs.
        columns: headings.
        rows: as many values each as there are columns.
    """

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


def safe_text(text: str) -> str:
    """A text that stays a text in a spreadsheet: an apostrophe before what would be a formula."""
    return f"'{text}" if text.startswith(_RISKY) else text


def csv_bytes(sheet: SheetTable) -> bytes:
    """A table as CSV (RFC 4180), in UTF-8.

    Every text stands in quotes: a spreadsheet that takes another sign than the comma between cells would
    else cut ``A;=2+3`` in two and run the second half.
    """
    rows = (",".join(map(_csv, row)) for row in (sheet.columns, *sheet.rows))
    return "".join(f"{row}\r\n" for row in rows).encode("utf-8", "backslashreplace")


def _csv(value: Value) -> str:
    if isinstance(value, str):
        doubled = safe_text(value).replace('"', '""')
        return f'"{doubled}"'
    return "" if value is None else f"{value:.10g}"


def xlsx_bytes(sheets: Sequence[SheetTable]) -> bytes:
    """Tables as a workbook (Office Open XML), a sheet each; its date of making is fixed.

    Texts are written as texts and numbers as numbers, never as formulas or links.
    """
    from datetime import datetime

    import xlsxwriter

    data = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(data, options)
    book.set_properties({"created": datetime(1980, 1, 1)})
    head = book.add_format({"bold": True, "bottom": 1})
    for sheet in sheets:
        page = book.add_worksheet(sheet.title)
        page.freeze_panes(1, 0)
        for column, title in enumerate(sheet.columns):
            page.write_string(0, column, title, head)
            longest = max([len(title), *(len(_shown(row[column])) for row in sheet.rows)])
            page.set_column(column, column, min(60, longest + 2))
        for line, row in enumerate(sheet.rows, start=1):
            for column, value in enumerate(row):
                if isinstance(value, str):
                    page.write_string(line, column, safe_text(_legal(value)))
                elif value is not None:
                    page.write_number(line, column, value)
    book.close()
    return data.getvalue()


def _shown(value: Value) -> str:
    return "" if value is None else str(value)


def _legal(text: str) -> str:
    return text.translate(_FORBIDDEN)[: _LONGEST_TEXT - 1]
