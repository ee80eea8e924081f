"""Tables as they stand on the screen."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencourse.cli.reports.table import Cell, Column, Screen, cells, clean, screen, styled, table, wrapped

EDGES = [Column("edge"), Column("height", right=True), Column("what to do", wraps=True)]
ROWS = [
    ["A head", "7' 6-3/4\"", 'notch: cut course 12 at 2-1/4"'],
    ["正面 sill", '36"', "flush"],
]


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_columns_stand_under_their_headings() -> None:
    assert table(EDGES, ROWS, Screen()) == [
        "edge          height  what to do",
        'A head     7\' 6-3/4"  notch: cut course 12 at 2-1/4"',
        '正面 sill        36"  flush',
    ]


def test_wide_signs_take_two_cells_and_marks_none() -> None:
    assert cells("正面") == 4
    assert cells("e\u0301") == 1
    assert cells('3-1/2"') == 6


def test_sentences_wrap_on_a_narrow_screen() -> None:
    lines = table(EDGES, ROWS, Screen(width=40))
    assert lines == [
        "edge          height  what to do",
        "A head     7' 6-3/4\"  notch: cut course",
        '                      12 at 2-1/4"',
        '正面 sill        36"  flush',
    ]
    assert all(cells(line) <= 40 for line in lines)


def test_a_very_narrow_screen_gets_a_list() -> None:
    assert table(EDGES, ROWS, Screen(width=24)) == [
        "- edge: A head",
        "  height: 7' 6-3/4\"",
        "  what to do: notch:",
        "    cut course 12 at",
        '    2-1/4"',
        "- edge: 正面 sill",
        '  height: 36"',
        "  what to do: flush",
    ]


def test_no_rows_no_table() -> None:
    assert table(EDGES, [], Screen()) == []


def test_colour_changes_no_width() -> None:
    rows = [[Cell("sliver", "bad"), "1", "x"], ["flush", "2", "y"]]
    plain = table(EDGES, rows, Screen())
    bright = table(EDGES, rows, Screen(colour=True))
    assert "\x1b[1;31msliver\x1b[0m" in bright[1]
    assert [
        line.replace("\x1b[1;31m", "").replace("\x1b[1m", "").replace("\x1b[0m", "").rstrip()
        for line in bright
    ] == plain


def test_no_colour_when_piped() -> None:
    assert screen(io.StringIO()) == Screen(None, False)
    assert styled("sliver", "bad", screen(io.StringIO())) == "sliver"


def test_no_colour_when_the_user_wants_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "90")
    assert screen(Terminal()) == Screen(90, True)
    monkeypatch.setenv("NO_COLOR", "1")
    assert screen(Terminal()) == Screen(90, False)
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert screen(Terminal()) == Screen(90, False)


def test_names_cannot_steer_the_terminal() -> None:
    assert clean("a\x1b[2Jb\u202e\n\udc80") == "a\\u001b[2Jb\\u202e\\u000a\\udc80"
    (_, row) = table([Column("face")], [["\x1b]0;x\x07"]], Screen(colour=True))
    assert "\x1b" not in row


@given(st.text(), st.integers(1, 30))
def test_wrapping_loses_no_letter(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(cells(line) <= max(width, 2) for line in lines if len(line) > 1)
