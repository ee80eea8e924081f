"""Every example in README and the guide runs: job files are read, commands typed, scripts executed.

Examples of a page run one after another in a folder with the samples, a street of two jobs, a drawing and,
where it is about them, a building model. A part of a job file is tried in the job of the page ``job``, or in
the file that its fence names, and saved under the second name there. What a page shows as printed was
printed, line for line and in this order, whatever the width of its columns.
"""

from __future__ import annotations

import re
import shlex
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from markdown_it import MarkdownIt

from evencourse.cli.guide.guide_pages import TOPICS, page_text
from evencourse.cli.main import main
from evencourse.layout.jobfile.job_file import parse_job
from tests.cli.jobs import FLUSH, TWO_FAULTS
from tests.layout.ifcin.buildings import shed

TOP = Path(__file__).resolve().parents[2]
TEXTS = {"README": (TOP / "README.md").read_text("utf-8"), **{topic: page_text(topic) for topic in TOPICS}}
#: Pages whose examples plan, cut and draw a house again and again.
MANY_COMMANDS = {
    "cad", "compare", "example", "ifc", "order", "page", "plan-file", "scripts", "sheets", "street", "sure"
}  # fmt: skip
KNOWN = {"", "toml", "csv", "sh", "python", "text"}


def examples(text: str) -> Iterator[tuple[list[str], str]]:
    """Every fence: the words behind it, and what stands in it."""
    for token in MarkdownIt("commonmark").parse(text):
        if token.type == "fence":
            yield token.info.split(), token.content


JOB = next(content for info, content in examples(TEXTS["job"]) if info == ["toml"])


def put_in(job: str, part: str) -> str:
    """A job with a part in the place of its own tables of that name, or at the end of its last face."""
    if re.match(r"\s*\[\[elevation\.", part):
        return f"{job}\n{part}"
    names = {*tomllib.loads(part)}
    names |= {"cladding"} if "claddings" in names else set()
    kept = [
        table
        for table in re.split(r"(?m)^(?=\[)", job)
        if not (found := re.match(r"\[+(\w+)", table)) or found[1] not in names
    ]
    return f"{part}\n{''.join(kept)}"


@pytest.fixture(scope="module")
def drawing(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("drawn")
    assert main(["draw", str(TOP / "samples" / "boat-house.toml"), "-o", str(folder), "--only", "dxf"]) == 0
    (found,) = folder.glob("*.dxf")
    return found


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(name, marks=pytest.mark.long) if name in MANY_COMMANDS else name
        for name, text in TEXTS.items()
        if "```" in text
    ],
)
def test_the_examples_of_a_page_run(
    name: str,
    drawing: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copytree(TOP / "samples", "samples", ignore=shutil.ignore_patterns("pictures"))
    Path("street").mkdir()
    for number, sample in enumerate(("lap-cottage", "old-house"), 1):
        shutil.copy(f"samples/{sample}.toml", f"street/lot-{number}.toml")
    shutil.copy(drawing, "drawing.dxf")
    if name == "ifc":
        shed().written(Path("model.ifc"))
    found = list(examples(TEXTS[name]))
    assert {info[0] if info else "" for info, _ in found} <= KNOWN
    for content in (content for info, content in found if info == ["csv"]):
        Path("openings.csv").write_text(content, encoding="utf-8")
    names: dict[str, Any] = {"__name__": "__main__"}
    printed = ""
    for info, content in found:
        match info:
            case ["toml", *where]:
                job = Path(where[0]).read_text("utf-8") if where else JOB
                text = content if "[job]" in content else put_in(job, content)
                assert parse_job(text, tmp_path).elevations
                if where:
                    Path(where[1]).write_text(text, encoding="utf-8")
            case ["sh"]:
                printed = "".join(type_in(line, capsys) for line in content.replace("\\\n", " ").splitlines())
            case ["python"]:
                exec(compile(content, name, "exec"), names)
                printed = capsys.readouterr().out
            case ["text"]:
                lines = (line.split() for line in printed.splitlines())
                assert [line for line in content.splitlines() if line.split() not in lines] == []


def type_in(line: str, capsys: pytest.CaptureFixture[str]) -> str:
    """Type a line as into a shell: patterns of files are spelled out, ``> FILE`` takes what is printed."""
    words = shlex.split(line)
    assert words[0] == "evencourse"
    target = words[words.index(">") + 1] if ">" in words else ""
    words = words[1 : words.index(">")] if target else words[1:]
    spelled = [sorted(map(str, Path().glob(word))) if "*" in word else [word] for word in words]
    assert main([word for one in spelled for word in one]) == 0
    out, _ = capsys.readouterr()
    if target:
        Path(target).write_text(out, encoding="utf-8")
    return out


def test_a_line_that_was_not_printed_would_be_found() -> None:
    """By hand: the check above on what does not hold; order counts, too."""
    lines = iter(["one", "two"])
    assert [line for line in ("two", "one") if line not in lines] == ["one"]


def test_a_part_takes_the_place_of_the_jobs_own() -> None:
    """By hand."""
    job = "[job]\nname = 'x'\n[cladding]\nprofile = 'a'\n[[elevation]]\nname = 'y'\n"
    assert put_in(job, "[cladding]\nprofile = 'b'\n") == (
        "[cladding]\nprofile = 'b'\n\n[job]\nname = 'x'\n[[elevation]]\nname = 'y'\n"
    )


@pytest.mark.long
def test_the_script_of_the_street_writes_what_the_command_writes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """An inch job, a metric one on other paper, one with its openings in a CSV file, a broken one."""
    monkeypatch.chdir(tmp_path)
    Path("street").mkdir()
    inches = FLUSH.partition("  [[elevation.opening]]")[0]
    metric = """[job]
name = "Alder Yard"
units = "mm"
[cladding]
profile = "bevel-8"
[[elevation]]
name = "Front"
width = "3000"
base = "0"
eave = "2400"
"""
    rows = "elevation,mark,left,sill,width,height\nFront,A,60,31,36,48\n"
    for name, text in (
        ("lot-1.toml", FLUSH),
        ("lot-2.toml", metric),
        ("lot-3.toml", f'openings = "openings.csv"\n{inches}'),
        ("lot-4.toml", TWO_FAULTS),
        ("openings.csv", rows),
    ):
        (Path("street") / name).write_text(text, encoding="utf-8")
    (script,) = (content for info, content in examples(TEXTS["street"]) if info == ["python"])
    exec(compile(script, "street", "exec"), {"__name__": "__main__"})
    capsys.readouterr()
    jobs = sorted(map(str, Path("street").glob("*.toml")))
    assert main(["sheets", *jobs, "-o", "by-command", "-j", "1"]) == 2
    written = {path.name: path.read_bytes() for path in Path("out").iterdir()}
    assert sorted(written) == ["lot-1.pdf", "lot-2.pdf", "lot-3.pdf"]
    assert written == {path.name: path.read_bytes() for path in Path("by-command").iterdir()}
