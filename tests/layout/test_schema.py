"""The JSON Schema says what the reader says, key by key; read by the ``jsonschema`` package (2020-12)."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from evencourse.layout.jobfile.job_file import parse_job, schema
from evencourse.layout.jobfile.keys import TABLES, Key
from evencourse.layout.jobfile.syntax import parse
from evencourse.layout.jobfile.table_reader import Reader
from evencourse.layout.model.errors import JobError, LengthError
from evencourse.layout.model.lengths import FRACTIONS, parse_length
from tests.layout.broken_jobs import JOBS, TOP, WALL, opening
from tests.samples import SAMPLES, each_sample

SCHEMA = schema()
WHOLE = Draft202012Validator(SCHEMA)
#: What the reader wants that no pattern says: sums of digits, and units that stand in another table.
BEYOND = (
    "a fraction below one after the whole number",
    "inches below 12 after the feet",
    "a length of less than 1000 feet",
    "the lowest first, then the highest",
    'a share such as 0.05 or "5 %", from 0 to 1',
    "a rise over 12: 6/12",
    'a temperature such as "55 F" or "13 C", from -100 to 200',
)
KEYS = [(table, key) for table, keys in TABLES.items() for key in keys]


def at(table: str) -> dict[str, Any]:
    """The schema of one table."""
    found: dict[str, Any] = SCHEMA["$defs"][table.replace(" ", "_")] if table else SCHEMA
    return found


def checker(table: str, key: Key) -> Draft202012Validator:
    return Draft202012Validator({"$defs": SCHEMA["$defs"], **at(table)["properties"][key.name]})


def objects(part: Any) -> Iterator[dict[str, Any]]:
    if isinstance(part, dict):
        if part.get("type") == "object":
            yield part
        for inner in part.values():
            yield from objects(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from objects(inner)


def test_it_is_a_schema_of_the_draft_that_it_names() -> None:
    assert SCHEMA["$schema"].endswith("2020-12/schema")
    Draft202012Validator.check_schema(SCHEMA)


def test_it_has_the_reader_s_tables_and_keys_and_no_others() -> None:
    assert set(SCHEMA["$defs"]) == {"length"} | {name.replace(" ", "_") for name in TABLES if name}
    for table, keys in TABLES.items():
        assert list(at(table)["properties"]) == [key.name for key in keys]
        assert at(table).get("required", []) == [key.name for key in keys if key.required]
        assert at(table)["additionalProperties"] is False


def test_nothing_in_it_is_open_to_unknown_keys() -> None:
    assert all("additionalProperties" in part for part in objects(SCHEMA) if "properties" in part)


def test_every_key_has_a_line_on_what_it_means() -> None:
    for table, key in KEYS:
        assert at(table)["properties"][key.name]["description"].startswith(key.doc)


@each_sample
def test_every_sample_is_what_it_describes(path: Path) -> None:
    assert [error.message for error in WHOLE.iter_errors(tomllib.loads(path.read_text("utf-8")))] == []


STRANGE: list[Any] = [
    *(0, -1, 1, 0.5, 2.5, 3.0, 120, 120.5, 121, -100, -101, 200, 201, 1e6, 1e6 + 1, 12000, 1e9, 1001),
    *(True, False, [], [1, 2], [2, 1], ["1", "2"], [1], [1, 2, 3], [[0, 0], [1, 0], [0, 1]]),
    *([[0, 0], [1, 0]], [[0, 0], [1, 0], ["x", 1]], [0, [1, 2]], {}, {"a": 1}),
    *("", "  ", "x", " x ", "a\nb", "a\x07b", "a\u202eb", "a\u200fb", "x" * 200, "x" * 201, "été"),
    *("0", "-0", "0'", "0/5", "-0/5", "0 1/2", "1/0", "-1", "−1", "- 1/2", "1/2", "1 / 2", "½", "-½", "3½"),
    *("3-½", "3 - ½", "36-1/2", "36  1/2", "14' 3-1/2\"", "14'", "0' 0\"", "0' 1", "14' 13", "3 5/4"),
    *("14ft 3in", "4356 mm", "0 mm", "4.5 m", "-4 cm", "5 6", "14-3", "1.", ".", ".5", "1.5'", "in", "mm"),
    *("6/12", "6 in 12", "6:12", "0/12", "130/12", "5 %", "5%", "101 %", "55 F", "13 °C", "-40C", "300 F"),
    *("1" * 64, "1" * 65, "window", "rectangle", "must", "outside corner", "panel", "double-4", "left"),
    *("roof", "fr-CA"),
]


@pytest.mark.parametrize(
    ("table", "key"),
    [
        (table, key)
        for table, key in KEYS
        if key.kind not in ("table", "tables", "prices", "lengths", "names")
    ],
    ids=lambda part: part if isinstance(part, str) else part.name,
)
def test_schema_and_reader_take_and_refuse_the_same_values(table: str, key: Key) -> None:
    """Which profiles there are and how heavy a face may be, the reader looks up later than its value."""
    known = checker(table, key)
    later = key.name in ("profile", "weight")
    taken = 0
    for value in STRANGE:
        reader = Reader({"here": {}})
        found = reader.table({key.name: value}, table, ("here",))
        told = [wanted for path, _, wanted in reader.faults if path[:2] == ("here", key.name)]
        if not told and not later:
            taken += 1
            assert known.is_valid(value), value
        elif told and not set(told) & set(BEYOND):
            assert not known.is_valid(value), (value, found, told)
    assert later or 0 < taken < len(STRANGE)


@pytest.mark.parametrize(
    ("lines", "good"),
    [
        ('prices = { panel = 3, "starter strip" = 0.5 }', True),
        ("prices = { panel = -1 }", False),
        ('prices = { panel = "3" }', False),
        ("prices = { panel = true }", False),
        ("prices = { panel = 1e9 }", False),
        ('prices = { " " = 3 }', False),
        ('prices = { "a\\u0007" = 3 }', False),
        ("prices = [3]", False),
        ('lengths = { channel = "12\'" }', True),
        ("lengths = { channel = 144 }", True),
        ("lengths = { channel = 11 }", False),
        ('lengths = { channel = "12-3" }', False),
        ("lengths = { chanel = 144 }", False),
        ("lengths = 3", False),
    ],
)
def test_schema_and_reader_take_and_refuse_the_same_orders(lines: str, good: bool) -> None:
    text = f"{TOP}[order]\n{lines}\n{WALL}"
    assert WHOLE.is_valid(tomllib.loads(text)) == good
    if good:
        parse_job(text)
    else:
        with pytest.raises(JobError):
            parse_job(text)


SIGNS = "".join(FRACTIONS)
PARTS = st.sampled_from(
    ["-", "−", " ", "  ", "'", '"', "′", "″", "ft", "in.", "mm", "m", "/", "⁄", ".", ",", "x"]
)


@pytest.mark.long
@settings(max_examples=400, deadline=None)
@given(
    st.lists(st.one_of(PARTS, st.integers(0, 40).map(str), st.sampled_from(SIGNS)), max_size=8).map("".join)
)
@example("14' 3-1/2\"")
@example("14′ 3½″")
@example("- 2'6")
@example("3-½")
@example("007")
def test_a_length_is_one_for_both(text: str) -> None:
    known = Draft202012Validator(SCHEMA["$defs"]["length"])
    try:
        parse_length(text, "in")
    except LengthError as error:
        assert error.wanted in BEYOND or not known.is_valid(text), text
    else:
        assert known.is_valid(text), text


def _places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Path of every value in a job."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, inner in items:
        yield (*path, name)
        yield from _places(inner, (*path, name))


def toml(value: Any) -> str:
    """A value as TOML writes it within a line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{toml(str(name))} = {toml(inner)}" for name, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        shown = "".join(c if c.isprintable() and c not in '"\\' else f"\\U{ord(c):08x}" for c in value)
        return f'"{shown}"'
    return repr(value)


@pytest.mark.long
@settings(max_examples=150, deadline=None)
@given(sample=st.sampled_from(SAMPLES), where=st.floats(0, 1, exclude_max=True), data=st.data())
def test_no_job_that_the_reader_takes_is_refused_by_the_schema(sample: Path, where: float, data: Any) -> None:
    job = tomllib.loads(sample.read_text("utf-8"))
    places = list(_places(job))
    *above, last = places[int(where * len(places))]
    holder = job
    for name in above:
        holder = holder[name]
    holder[last] = data.draw(st.sampled_from(STRANGE))
    try:
        parse_job("\n".join(f"{name} = {toml(value)}" for name, value in job.items()))
    except JobError:
        return
    assert [error.message for error in WHOLE.iter_errors(job)] == []


#: Wrong in what one key says, or in what keys of one table say together.
WRONG = {
    "no job": 'elevation = []\n[cladding]\nprofile = "double-4"\n',
    "no face": TOP,
    "no cladding": '[job]\nname = "x"\n' + WALL,
    "both cladding tables": TOP + '[claddings.a]\nprofile = "double-4"\n' + WALL,
    "an unknown table": TOP + "[trims]\nhead = 1\n" + WALL,
    "an unknown key": TOP + WALL + 'colour = "grey"\n',
    "an unknown profile": TOP.replace("fiber", "fibre") + WALL,
    "unknown units": TOP.replace('"Test"', '"Test"\nunits = "cm"') + WALL,
    "a length that is none": TOP + WALL.replace('"8\'"', '"8-3"'),
    "a width of nothing": TOP + WALL.replace('"20\'"', "0"),
    "a pair of three": TOP + WALL + "grade = [1, 2, 3]\n",
    "a wall without its eave": TOP + '[[elevation]]\nname = "Front"\nwidth = 3\n',
    "a width beside an outline": TOP + WALL + "outline = [[0, 0], [9, 0], [0, 9]]\n",
    "pitch and peak": TOP + WALL + 'gable = { pitch = "6/12", peak = 300 }\n',
    "neither pitch nor peak": TOP + WALL + "gable = { at = 9 }\n",
    "left and right": TOP + WALL + opening("A", "right = 3", "left = 3"),
    "an opening from no corner": TOP + WALL + opening("A", "left = none"),
    "an opening without its mark": TOP + WALL + opening("A").replace('mark = "A"', ""),
    "an unknown word": TOP + WALL + opening("A", 'kind = "windwo"'),
    "trim below nothing": TOP + WALL + opening("A", "trim = { head = -1 }"),
    "a fixture without its height": TOP
    + WALL
    + '[[elevation.fixture]]\nmark = "S"\nleft = 1\nbottom = 1\nwidth = 1\n',
    "a zone without its cladding": TOP + WALL + "[[elevation.zone]]\ntop = 9\n",
    "a price below nothing": TOP + "[order.prices]\npanel = -1\n" + WALL,
    "a table that is none": "limits = 3\n" + TOP + WALL,
    "a CSV file that has no name": TOP + WALL + 'openings = ""\n',
}
#: Wrong only in what the geometry says.
BEYOND_A_SCHEMA = {
    "an opening outside its wall": TOP + WALL + opening("A", 'left = "30\'"'),
    "two faces of one name": TOP + WALL + WALL,
    "an eave below the base": TOP + WALL.replace('"8\'"', '"-2\'"'),
}


@pytest.mark.parametrize("kind", WRONG)
def test_a_wrong_job_is_refused_by_both(kind: str) -> None:
    assert not WHOLE.is_valid(tomllib.loads(WRONG[kind]))
    with pytest.raises(JobError):
        parse_job(WRONG[kind])


@pytest.mark.parametrize("kind", BEYOND_A_SCHEMA)
def test_geometry_is_left_to_the_reader(kind: str) -> None:
    assert WHOLE.is_valid(tomllib.loads(BEYOND_A_SCHEMA[kind]))
    with pytest.raises(JobError):
        parse_job(BEYOND_A_SCHEMA[kind])


def test_most_broken_jobs_are_seen_while_they_are_typed() -> None:
    """Of the reader's own collection: those that are TOML at all."""
    parsed = map(parse, JOBS.values())
    read = [one.tables for one in parsed if one.tables is not None and not one.faults]
    assert len(read) > 30
    assert sum(not WHOLE.is_valid(job) for job in read) > len(read) / 2
