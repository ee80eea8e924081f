"""Every fault of a broken job file at once: place, line, what was found and what is wanted.

``broken_jobs.py`` holds the files, ``broken_jobs.txt`` what each is told, checked by eye against the file.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.jobfile.job_file import LARGEST, parse_job, read_job
from evencourse.layout.jobfile.keys import COLUMNS, TABLES
from evencourse.layout.language.speech import speaking
from evencourse.layout.model.errors import Fault, JobError
from tests.layout.broken_jobs import JOBS, TOP, WALL, opening
from tests.lettering import PSEUDO


def _expected() -> dict[str, list[str]]:
    told: dict[str, list[str]] = {}
    for part in (Path(__file__).parent / "broken_jobs.txt").read_text("utf-8").split("== ")[1:]:
        kind, *faults = part.strip().split("\n")
        told[kind] = faults
    return told


EXPECTED = _expected()


def faults(text: str) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as refused:
        parse_job(text)
    return refused.value.faults


def test_each_broken_job_is_told_something() -> None:
    assert list(EXPECTED) == list(JOBS)
    assert len(JOBS) >= 24
    assert sum(len(told) > 1 for told in EXPECTED.values()) >= 24


@pytest.mark.parametrize("kind", JOBS)
def test_every_fault_is_told_at_once(kind: str) -> None:
    assert [str(fault) for fault in faults(JOBS[kind])] == EXPECTED[kind]


@pytest.mark.parametrize("kind", JOBS)
def test_faults_stand_in_the_order_of_the_file_on_the_line_that_names_their_key(kind: str) -> None:
    text = JOBS[kind]
    rows = text.split("\n")
    found = faults(text)
    assert [fault.line or 0 for fault in found] == sorted(fault.line or 0 for fault in found)
    for fault in found:
        if fault.line is None or fault.missing or "\\" in fault.place:
            continue
        last = fault.place.split(", ")[-1].split(" ")[0]
        if fault.place != "the file" and last not in ("outline", "opening", "zone", "fixture"):
            assert last in rows[fault.line - 1], fault


@pytest.mark.parametrize("kind", JOBS)
def test_a_message_is_one_short_printable_line(kind: str) -> None:
    for fault in faults(JOBS[kind]):
        assert str(fault).isprintable()
        assert len(str(fault)) < 400


#: What a message names as a job file or a command line must have it.
DATA = [
    *COLUMNS,
    *TABLES,
    "evencourse",
    "double",
    *(word for keys in TABLES.values() for key in keys for word in (key.name, *key.words)),
]


@pytest.mark.parametrize("kind", JOBS)
def test_a_fault_is_worded_in_the_language_that_is_spoken(kind: str) -> None:
    """What a message is not translated in stands in the file, or is typed into it as it is."""
    given = f"{JOBS[kind]} {' '.join(DATA)}"
    with speaking(PSEUDO):
        found = faults(JOBS[kind])
    for fault in found:
        words = re.findall(r"[^\W\d_]{2,}", f"{fault.found} {fault.wanted}".replace("\\x0a", " "))
        assert [word for word in words if word.isascii() and word not in given] == [], fault


def test_quotes_that_a_word_processor_curls_are_told_as_such() -> None:
    text = (
        TOP + WALL.replace('"Front"', "“Front”") + opening("A", "width = «36»") + '[order]\ncurrency = "“"\n'
    )
    assert [(fault.found, fault.wanted) for fault in faults(text)] == [
        (found, 'straight quotes, " and not “ or ”: a word processor curls them')
        for found in ("name = “Front”", "width = «36»")
    ]


def test_a_fault_in_one_face_does_not_hide_those_of_another() -> None:
    text = TOP + WALL + opening("A", "width = 0") + WALL.replace("Front", "Back") + opening("B", "height = 0")
    assert [fault.place for fault in faults(text)] == [
        'elevation "Front", opening "A", width',
        'elevation "Back", opening "B", height',
    ]


def test_a_quoted_key_and_an_inline_table_have_their_line() -> None:
    text = TOP + WALL + opening("A", 'trim = { head = "x", "side" = "y" }')
    assert [(fault.line, fault.place.split(", ")[-1]) for fault in faults(text)] == [
        (16, "head"),
        (16, "side"),
    ]


def test_lines_are_counted_in_a_file_with_windows_line_ends() -> None:
    text = (TOP + WALL + 'grade = "5 6"\n').replace("\n", "\r\n")
    assert [fault.line for fault in faults(text)] == [10]


def test_a_file_larger_than_any_job_is_not_read() -> None:
    (fault,) = faults("#" * (LARGEST + 1))
    assert str(fault) == f"the file: found {LARGEST + 1} characters; wanted at most {LARGEST}"


def test_many_decorative_dots_in_a_comment_are_no_key() -> None:
    assert parse_job("# " + "." * 500 + "\n" + TOP + WALL).name == "Test"


@pytest.mark.long
def test_ten_thousand_faulty_openings_are_all_told() -> None:
    many = "".join(
        f'[[elevation.opening]]\nmark = "{index}"\nwidth = 0\nleft = 1\nsill = 1\nheight = 1\n'
        for index in range(10_000)
    )
    found = faults(TOP + WALL + many)
    assert len(found) == 10_000
    assert found[-1].place == 'elevation "Front", opening "9999", width'


def test_more_tables_than_any_job_has_are_one_fault() -> None:
    (fault,) = faults(TOP + WALL + "opening = [" + "{}," * 20_001 + "]\n")
    assert str(fault) == 'line 10: elevation "Front", opening: found 20001 items; wanted at most 20000'


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(UnicodeDecodeError):
        read_job(path)


def test_an_empty_file_is_told_what_a_job_needs(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"")
    with pytest.raises(JobError) as refused:
        read_job(path)
    assert [fault.place for fault in refused.value.faults] == ["job", "elevation", "cladding"]


SAMPLES = [path.read_text("utf-8") for path in sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))]
STRANGE = [
    "0",
    "-1",
    "1e308",
    "-1e308",
    "inf",
    "nan",
    "true",
    '""',
    '"x"',
    "[]",
    "{}",
    "[[]]",
    "[0, 0]",
    "[1, 2, 3]",
    '"1/64"',
    "12000",
    '"1/0"',
    "1979-05-27",
    "07:32:00",
    "0x" + "f" * 300,
    "{ pitch = 1 }",
    "{ head = 9 }",
    '"\\u0000"',
    '"door"',
    '"round"',
    '"arch"',
    '"half-round"',
    '"triangle"',
    "[[0, 0], [1, 0], [0, 1]]",
    '"-1/64"',
    "1e-9",
]


@settings(max_examples=150, deadline=None)
@given(
    sample=st.sampled_from(SAMPLES), where=st.floats(0, 1, exclude_max=True), value=st.sampled_from(STRANGE)
)
def test_a_strange_value_anywhere_is_read_or_told_and_never_a_crash(
    sample: str, where: float, value: str
) -> None:
    rows = sample.split("\n")
    places = [index for index, row in enumerate(rows) if " = " in row and not row.startswith(("#", " " * 4))]
    index = places[int(where * len(places))]
    rows[index] = f"{rows[index].split(' = ')[0]} = {value}"
    try:
        parse_job("\n".join(rows))
    except JobError as refused:
        assert refused.faults
        assert all(str(fault).isprintable() for fault in refused.faults)


@settings(max_examples=60, deadline=None)
@given(sample=st.sampled_from(SAMPLES), where=st.floats(0, 1), cut=st.integers(1, 40))
def test_a_file_with_a_hole_in_it_is_read_or_told(sample: str, where: float, cut: int) -> None:
    at = int(where * len(sample))
    try:
        parse_job(sample[:at] + sample[at + cut :])
    except JobError as refused:
        assert refused.faults


def _two_faces(first: str, second: str) -> tuple[Fault, ...]:
    return faults(_faces(first, second))


def _faces(*names: str) -> str:
    return TOP + "".join(WALL.replace('name = "Front"', f'name = "{name}"') for name in names)


@pytest.mark.parametrize("unseen", ["\u034f", "\ufe0f", "\u3164", "\u2800"])
def test_faces_that_differ_in_nothing_that_is_seen_are_told(unseen: str) -> None:
    (fault,) = _two_faces("Lane", f"Lane{unseen}")
    assert fault.wanted == "a name of its own"
    (empty,) = _two_faces("Lane", unseen)
    assert empty.found == "an empty text"


def test_a_name_spelt_in_two_ways_is_one_name() -> None:
    """Unicode, canonical equivalence: é is one sign or an e with its accent."""
    assert [fault.wanted for fault in _two_faces("Caf\u00e9", "Cafe\u0301")] == ["a name of its own"]


@pytest.mark.parametrize("name", ["خانه\u200cها", "ශ්\u200dරී", "Rue\u00a0: nord", "5\u202f000 mm", "East 1"])
def test_names_are_spelt_as_their_scripts_are(name: str) -> None:
    assert [face.name for face in parse_job(_faces("East1", name)).elevations] == ["East1", name]
