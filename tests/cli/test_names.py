"""File names made from what users call their jobs and faces."""

from __future__ import annotations

import unicodedata
from pathlib import PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencourse.cli.files.file_names import STEM_BYTES, file_names, safe_stem


def test_a_plain_name_reads_as_the_crew_wrote_it() -> None:
    assert file_names("Linden Row, lot 4", ["Front", "Left side"]) == (
        "Linden-Row-lot-4-Front",
        "Linden-Row-lot-4-Left-side",
    )


def test_letters_of_every_script_are_kept() -> None:
    assert file_names("Haus Weiß", ["Südseite", "正面"]) == ("Haus-Weiß-Südseite", "Haus-Weiß-正面")


def test_the_same_letters_composed_in_two_ways_are_the_same_name() -> None:
    assert file_names("a", ["é", "e\u0301"]) == ("a-é", "a-é-2")


def test_faces_with_like_names_get_numbers() -> None:
    assert file_names("J", ["North", "NORTH", "north!", "North-2"]) == (
        "J-North",
        "J-NORTH-2",
        "J-north-3",
        "J-North-2-2",
    )


@pytest.mark.parametrize(
    "word",
    ["../../etc/passwd", "..\\..\\x", "a\0b", "a\nb", "C:evil", "a\u202egnp.exe", '"<>|?*', "~", "-o", " "],
)
def test_hostile_names_become_plain_ones(word: str) -> None:
    (stem,) = file_names(word, [word])
    assert stem.strip("-") == stem
    assert not set(stem) & set('/\\\0\n:"<>|?*~.\u202e ')


@pytest.mark.parametrize("device", ["CON", "con", "Nul", "com1", "LPT9", "COM¹"])
def test_no_device_name_of_windows(device: str) -> None:
    assert safe_stem(device) == f"{unicodedata.normalize('NFC', device)}-file"


def test_nothing_left_of_a_name() -> None:
    assert file_names("///", ["..."]) == ("unnamed",)


def test_a_long_name_is_cut_between_letters() -> None:
    assert safe_stem("ü" * 500) == "ü" * (STEM_BYTES // 2)
    assert safe_stem("x" + "ü" * 500) == "x" + "ü" * ((STEM_BYTES - 1) // 2)


@given(st.text(), st.lists(st.text(), max_size=6))
def test_any_names_are_safe_and_different(job: str, faces: list[str]) -> None:
    stems = file_names(job, faces)
    assert len({stem.casefold() for stem in stems}) == len(faces)
    for stem in stems:
        assert PurePosixPath(stem).name == PureWindowsPath(stem).name == stem
        assert 0 < len(f"{stem}.svg".encode()) <= 143
        assert all(unicodedata.category(sign)[0] in "LNM" or sign == "-" for sign in stem)
