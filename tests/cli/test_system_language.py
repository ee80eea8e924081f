"""The program speaks the language of the system; what it writes does not follow it."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from evencourse.cli.commands import new as new_command
from evencourse.cli.main import main
from evencourse.cli.options.choices import read_language
from evencourse.cli.street.several_jobs import in_english
from evencourse.cli.street.workers import Done
from evencourse.layout.language import speech
from evencourse.layout.language.speech import LANGUAGES, Voice, offered, speaking, system_language
from evencourse.layout.model.errors import Fault
from tests.cli.jobs import SMALL
from tests.layout.dxfin.drawings import house, written
from tests.lettering import PSEUDO


@pytest.fixture
def every(monkeypatch: pytest.MonkeyPatch) -> None:
    """Catalogues of all languages, in letters that nobody writes."""
    monkeypatch.setattr(speech, "offered", lambda: list(LANGUAGES.values()))
    monkeypatch.setattr(new_command, "offered", lambda: list(LANGUAGES.values()))
    english = speech._spoken("en")

    def spoken(code: str) -> Voice:
        return english if code == "en" else Voice(LANGUAGES[code], PSEUDO.catalogue)

    monkeypatch.setattr(speech, "_spoken", spoken)
    for name in ("LC_ALL", "LC_MESSAGES"):
        monkeypatch.delenv(name, raising=False)


@pytest.mark.usefixtures("every")
@pytest.mark.parametrize(
    ("environ", "code"),
    [
        ({}, "en"),
        ({"LANG": "C.UTF-8"}, "en"),
        ({"LANG": "POSIX"}, "en"),
        ({"LANG": "en_GB.UTF-8"}, "en"),
        ({"LANG": "pl_PL.UTF-8"}, "en"),
        ({"LANG": "es_MX.UTF-8"}, "es"),
        ({"LANG": "fr_FR"}, "fr-CA"),
        ({"LANG": "de_AT@euro"}, "de"),
        ({"LANG": "sv"}, "sv"),
        ({"LANG": "sv_SE", "LC_MESSAGES": "de_DE"}, "de"),
        ({"LANG": "sv_SE", "LC_MESSAGES": "de_DE", "LC_ALL": "C"}, "en"),
        ({"LANG": "sv_SE", "LC_ALL": ""}, "sv"),
    ],
)
def test_the_first_variable_that_says_something_holds(environ: dict[str, str], code: str) -> None:
    assert system_language(environ) == code


def test_a_language_without_its_catalogue_is_not_spoken(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(speech, "_CATALOGUES", tmp_path)
    assert [one.code for one in offered()] == ["en"]
    assert system_language({"LANG": "de_DE"}) == "en"


@pytest.mark.usefixtures("every")
def test_help_refusals_and_faults_are_in_the_language_of_the_system(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setenv("LANG", "de_DE.UTF-8")
    (tmp_path / "broken.toml").write_text("[job]\n")
    monkeypatch.chdir(tmp_path)
    told = []
    for words in (["plan", "--help"], ["plna"], ["plan"], ["plan", "gone.toml"], ["plan", "broken.toml"]):
        main(words)
        captured = capsys.readouterr()
        told.append(captured.out + captured.err)
    wanted = ("Úsáágéé:", "Dííd ýýóóúú", "Mííssííñg", "çááññóót rééáád", "ñóóthííñg wrííttééñ")
    assert [word for text, word in zip(told, wanted, strict=True) if word not in text] == []
    assert "--json FILE" in told[0]


def _run(
    words: list[str], language: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> dict[str, bytes]:
    monkeypatch.setenv("LANG", language)
    folder = tmp_path / language
    folder.mkdir()
    main([word.replace("OUT", str(folder)) for word in words])
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.usefixtures("every")
@pytest.mark.parametrize(
    "words",
    [
        ["plan", "JOB", "--json", "OUT/plan.json", "--error", "1/8"],
        ["takeoff", "JOB", "--csv", "OUT/order.csv", "--xlsx", "OUT/order.xlsx"],
        ["cuts", "JOB", "--csv", "OUT/cuts.csv"],
        ["compare", "JOB", "--svg", "OUT/strips.svg"],
        ["draw", "JOB", "-o", "OUT/drawn", "--only", "svg,dxf,ifc"],
        ["sheets", "JOB", "-o", "OUT/sheets.pdf"],
        ["pole", "JOB", "-o", "OUT/pole.pdf"],
        ["page", "JOB", "-o", "OUT/page.html"],
        ["new", "--blank", "OUT/form.pdf"],
        [
            "import",
            "DRAWING",
            "-o",
            "OUT/job.toml",
            "--svg",
            "OUT/regions.svg",
            "--cladding",
            "double-4",
            "--yes",
        ],
    ],
    ids=lambda words: f"{words[0]}, {len(words)} words",
)
def test_files_do_not_follow_the_language_of_the_system(
    words: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    job, drawn = tmp_path / "house.toml", tmp_path / "house.dxf"
    job.write_text(SMALL.replace('starter = ["-1", "-1"]', ""), encoding="utf-8")
    drawn.write_bytes(written(house()))
    named = [{"JOB": str(job), "DRAWING": str(drawn)}.get(word, word) for word in words]
    english = _run(named, "C", monkeypatch, tmp_path)
    assert english
    assert _run(named, "de_DE", monkeypatch, tmp_path) == english


@pytest.mark.usefixtures("every")
def test_faults_of_a_job_are_in_english_in_files(tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text("[job]\n", encoding="utf-8")
    with speaking("de"):
        found = in_english(
            [str(broken), "gone.toml"], [Done[str](None, ("ñóó",)), Done[str](None, ("ñóó",), "unread")]
        )
    assert "job, name: found nothing; wanted the job's name" in found[0].faults[-1]
    assert found[1].faults == ("cannot read gone.toml: no such file or folder",)


@pytest.mark.usefixtures("every")
@pytest.mark.parametrize("command", ["cuts", "takeoff"])
@pytest.mark.parametrize(
    ("asked", "job", "english"),
    [("", "", False), ("", "en", True), ("sv", "en", False), ("en", "de", True), ("en", "", True)],
)
def test_lists_speak_as_asked_then_as_the_job_then_as_the_system(
    command: str,
    asked: str,
    job: str,
    english: bool,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
) -> None:
    monkeypatch.setenv("LANG", "de_DE")
    path = tmp_path / "house.toml"
    path.write_text(
        SMALL.replace("[job]\n", f'[job]\nlanguage = "{job}"\n') if job else SMALL, encoding="utf-8"
    )
    assert main([command, str(path), *(["--lang", asked] if asked else [])]) == 0
    assert ("panel" in capsys.readouterr().out) is english


@pytest.mark.usefixtures("every")
def test_questions_go_on_in_the_language_in_which_they_were_begun(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LANG", "de_DE")
    monkeypatch.setattr(sys, "stdin", io.StringIO("Heron Lane\nmm\n"))
    main(["new", "-o", "job.toml"])
    kept = (tmp_path / "job-unfinished.toml").read_text("utf-8")
    assert 'name = "Heron Lane"' in kept and "# asked in: de\n" in kept
    assert "NOT FINISHED" in kept
    capsys.readouterr()
    monkeypatch.setenv("LANG", "C")
    monkeypatch.setattr(sys, "stdin", io.StringIO("yes\n1\n"))
    main(["new", "-o", "job.toml"])
    told = capsys.readouterr().out
    assert "holds 2 answers" in told
    assert "Fíínéést" in told.replace("ñ", "n") and "Finest" not in told and "Námé" not in told


def test_a_language_goes_by_its_family_as_well() -> None:
    faults: list[Fault] = []
    asked = ("fr", "es-MX", "FR-ca", "EN, de_AT")
    assert [read_language(one, faults) for one in asked] == ["fr-CA", "es", "fr-CA", "en,de"]
    assert faults == []
    assert read_language("no", faults) is None
    assert [str(one) for one in faults] == ['--lang: found "no"; wanted one of en, es, fr-CA, de, sv']
