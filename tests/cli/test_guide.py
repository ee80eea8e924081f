"""The guide on the terminal. The project's own rules, no source outside it; Markdown as CommonMark has it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evencourse.cli.guide.guide_pages import TOPICS, page_text, summary
from evencourse.cli.guide.terminal_text import text_lines
from evencourse.cli.main import main
from evencourse.cli.reports.table import Screen, cells
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.solver.score import TERMS
from evencourse.layout.trade.rules import rules
from tests.cli.jobs import run
from tests.job_keys import PAGE, page

TOP = Path(__file__).resolve().parents[2]
README = (TOP / "README.md").read_text("utf-8")
PAGES = TOP / "cli" / "guide" / "pages"
DOCUMENTS = {"README.md": README, **{f"{topic}.md": page_text(topic) for topic in TOPICS}}
#: A command in a text: its name, and what follows.
COMMAND = re.compile(r"`evencourse ([a-z]+)([^`]*)`")
each_topic = pytest.mark.parametrize("topic", TOPICS)


def test_without_a_topic_every_page_has_its_line(capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "guide")
    assert code == 0
    assert [line.split()[0] for line in lines if line and line[0].islower()] == [*TOPICS, "evencourse"]
    assert any(line.split() == ["words", *summary("words").split()] for line in lines)
    assert max(map(cells, lines)) <= 80


@each_topic
def test_a_page_is_printed(topic: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "guide", topic)
    assert (code, lines[0]) == (0, page_text(topic).splitlines()[0].removeprefix("# "))
    assert lines[1] == "=" * len(lines[0])


def test_an_unknown_topic_is_told_what_there_is(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["guide", "layer"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert 'found "layer"; wanted example, desk, words' in err
    assert all(topic in err for topic in TOPICS)


def test_marks_are_taken_away_and_words_wrapped() -> None:
    """Written by hand."""
    text = """\
# Cuts and `rips`

A *notch* is **cut**, a [rake](lines.md)
is [not](https://example.org).

- first, which is long
- second

1. one

| a | b |
|---|---|
| `x` | y |

```sh
evencourse  plan  JOB and more
```

> Mind.
"""
    assert list(text_lines(text, Screen(24))) == [
        "Cuts and rips",
        "=============",
        "",
        "A notch is cut, a rake",
        "(evencourse guide lines)",
        "is not.",
        "",
        "- first, which is long",
        "- second",
        "",
        "1. one",
        "",
        "a  b",
        "x  y",
        "",
        "    evencourse  plan  JOB and more",
        "",
        "  Mind.",
    ]


def test_an_indented_example_is_printed_as_it_stands() -> None:
    """As CommonMark has it: four spaces make a block of code."""
    lines = list(
        text_lines("Printed smaller:\n\n    evencourse import a.pdf\n    evencourse plan\n", Screen(60))
    )
    assert lines == ["Printed smaller:", "", "    evencourse import a.pdf", "    evencourse plan"]


def test_a_heading_is_strong_where_there_is_colour() -> None:
    assert list(text_lines("### Cuts", Screen(80, colour=True))) == ["\x1b[1mCuts\x1b[0m"]


@each_topic
@pytest.mark.parametrize("width", [30, 80, 200])
def test_prose_keeps_to_the_width_and_carries_no_marks(topic: str, width: int) -> None:
    text = re.sub(r"(?ms)^```.*?^```$|^    .*?$", "", page_text(topic))
    lines = list(text_lines(text, Screen(width)))
    assert max(map(cells, lines)) <= min(width, 100)
    assert not [line for line in lines if re.search(r"\*\*|\]\(|`|^#+ |^\|", line)]


@each_topic
def test_an_example_fits_eighty_columns(topic: str) -> None:
    examples = re.findall(r"(?ms)^```\w.*?\n(.*?)^```$|^(    .*?)$", page_text(topic))
    examples = ["".join(pair) for pair in examples]
    assert [line for text in examples for line in text.splitlines() if cells(line) > 76] == []


def test_every_page_is_listed_in_the_guide_and_in_the_readme() -> None:
    assert {path.stem for path in PAGES.glob("*")} == {*TOPICS}
    rows = re.findall(r"^\| \[`([\w-]+)`\]\(cli/guide/pages/([\w-]+)\.md\) \| (.+) \|$", README, re.MULTILINE)
    assert rows == [(topic, topic, summary(topic)) for topic in TOPICS]


def test_a_page_begins_with_what_it_is_about() -> None:
    assert {
        topic: summary(topic) for topic in TOPICS if not re.fullmatch(r"[A-Z][^|#]+\.", summary(topic))
    } == {}


def test_the_readme_is_short_and_has_its_commands_on_the_first_screen() -> None:
    lines = README.splitlines()
    assert len(lines) <= 200
    assert sum(line.startswith("python3 -m venv") for line in lines[:24]) == 2


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_link_leads_somewhere(name: str) -> None:
    folder = TOP if name == "README.md" else PAGES
    links = re.findall(r"\]\(([^)#]+)\)", DOCUMENTS[name])
    assert [link for link in links if not (folder / link).exists()] == []


def test_commands_are_named_by_the_dozen() -> None:
    assert len(COMMAND.findall("".join(DOCUMENTS.values()))) > 36


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_command_named_is_one_with_its_options(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    named = set(COMMAND.findall(DOCUMENTS[name]))
    for command, rest in named:
        assert main([command, "--help"]) == 0
        told = capsys.readouterr().out
        assert [one for one in re.findall(r"(?<![\w-])--?[a-z][a-z-]*", rest) if one not in told] == []


def test_the_page_of_keys_is_what_is_read() -> None:
    assert PAGE.read_text("utf-8") == page(), "python -m tests.job_keys writes it anew"


def test_every_length_of_the_table_is_read() -> None:
    """36-1/2 and 14 ft 3-1/2 in by hand: 36.5 and 171.5; 4356 mm over 25.4 is 171.496."""
    table = page_text("job").partition("| written |")[2].partition("\n\n")[0]
    written = [
        [text.strip('"').replace("\\", "") for text in re.findall("`([^`]+)`", line.split(" | ")[0])]
        for line in table.splitlines()[2:]
    ]
    lengths = [[round(parse_length(text, "in"), 3) for text in row] for row in written]
    assert lengths == [
        [36.5, 36.5, 36.5],
        [171.5, 171.5, 171.5],
        [0.5, -2.375, -30],
        [0.5, 3.625, 171.5],
        [171.496, 171.496, 171.496],
    ]


def test_the_order_of_importance_has_every_term_and_the_weights_are_those_that_count() -> None:
    text = page_text("lines")
    assert len(re.findall(r"^\d+\. ", text, re.MULTILINE)) == len(TERMS)
    told = re.findall(r"^\| (\w+(?: \w+)?) \| (\d+) \|$", text, re.MULTILINE)
    weights = {name: float(weight) for name, weight in told}
    assert weights == rules().weights


@pytest.mark.long
def test_every_key_that_the_page_of_the_plan_file_names_is_in_one(tmp_path: Path) -> None:
    found: set[str] = set()
    sloping = tmp_path / "sloping.toml"
    sloping.write_text(_SLOPING, encoding="utf-8")
    for job in (*(TOP / "samples" / f"{name}.toml" for name in ("gabled-house", "carried-on")), sloping):
        file = tmp_path / f"{job.stem}.json"
        assert main(["plan", str(job), "--error", "1/16", "--json", str(file)]) in (0, 1)
        found |= set(re.findall(r'"(\w+)":', file.read_text("utf-8")))
    cells_of = re.findall(r"^\| (`.+?) \|", page_text("plan-file"), re.MULTILINE)
    named = {key for cell in cells_of for key in re.findall(r"`(\w+)`", cell)}
    assert len(named) > 40
    assert named - found == set()


_SLOPING = """
[job]
name = "Sloping"
[cladding]
profile = "bevel-8"
[[elevation]]
name = "Wall"
width = 240
base = [0, -4]
eave = 96
"""
