"""The desk in several languages: which one is spoken to whom, and that nothing is mixed or written in it."""

from __future__ import annotations

import asyncio
import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from playwright.sync_api import expect
from starlette.requests import HTTPConnection

from evencourse.cli.desk import desk_state
from evencourse.cli.desk.desk_state import desk_of
from evencourse.cli.desk.desk_words import _COUNTED, _said, script_words
from evencourse.cli.desk.editing import _edits
from evencourse.cli.desk.helper_processes import Helper
from evencourse.cli.desk.live import Live
from evencourse.cli.desk.request_language import language_of
from evencourse.cli.desk.screens import STATIC
from evencourse.cli.jobs.job_edits import edited
from evencourse.cli.jobs.new_jobs import new_job_text
from evencourse.cli.jobs.text_changes import tables_of
from evencourse.cli.views import plan_tasks
from evencourse.cli.views.drags import drag_edits
from evencourse.cli.views.field_words import field_label, label_of
from evencourse.cli.views.region_view import said
from evencourse.layout.language import speech
from evencourse.layout.language.speech import LANGUAGES, offered, speaking
from evencourse.render.words.result import result
from tests.cli.desk import spoken_tasks
from tests.cli.desk.client import SAMPLES, asking, put
from tests.cli.desk.running import LAPTOP, browser, desk, measuring, tab

JOB = """[job]
name = "Shed"
[cladding]
profile = "double-4"
[[elevation]]
name = "Street"
width = "10'"
base = 0
eave = "8'"
"""
SPANISH: Mapping[str | tuple[str, str], str | tuple[str, ...]] = {
    "Jobs": "Trabajos",
    "eave at the left corner": "alero en la esquina izquierda",
    "cutting the pieces": "cortando las piezas",
    "Width": "Ancho",
    "The job": "El trabajo",
    "Measure {job}": "Medir {job}",
    "No connection.": "Sin conexión.",
    ("{count} face is taken.", "{count} faces are taken."): (
        "Se toma {count} fachada.", "Se toman {count} de fachadas.", "Se toman {count} fachadas.",
    ),
    "cannot read {file}: {reason}": "no hay: {file}",
    "--tolerance {inches} lets them meet": "--tolerance {inches} las une",
    "a tolerance of {inches} lets them meet": "las une una tolerancia de {inches}",
    "for a job file add --units {units}": "para un archivo añada --units {units}",
    "choose the units below: {units}": "elija {units} abajo",
}  # fmt: skip


def catalogue(folder: Path, code: str, words: Mapping[str | tuple[str, str], str | tuple[str, ...]]) -> None:
    """Write a catalogue as it is shipped."""
    found = Catalog(locale=code.replace("-", "_"))
    for english, said_so in words.items():
        found.add(english, said_so)
    place = folder / code.replace("-", "_") / "LC_MESSAGES"
    place.mkdir(parents=True)
    with (place / "evencourse.mo").open("wb") as file:
        write_mo(file, found)


@pytest.fixture(autouse=True)
def catalogues(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "catalogues"
    for code in LANGUAGES:
        if code != "en":
            catalogue(folder, code, SPANISH if code == "es" else {"Width": "Breite"})
    monkeypatch.setattr(speech, "_CATALOGUES", folder)
    monkeypatch.setenv(spoken_tasks.PLACE, str(folder))
    speech._spoken.cache_clear()
    monkeypatch.setattr(plan_tasks, "_results", type(plan_tasks._results)())
    for module in ("_PLANS", "_MAKES"):
        monkeypatch.setattr(desk_state, module, spoken_tasks.__name__)
    return folder


def asked(accept: str, cookie: str = "") -> HTTPConnection:
    headers = [(b"accept-language", accept.encode()), (b"cookie", cookie.encode())]
    return HTTPConnection({"type": "http", "headers": headers})


@pytest.mark.parametrize(
    ("accept", "code"),
    [
        ("", "en"), ("es", "es"), ("es-MX,es;q=0.9,en;q=0.8", "es"), ("fr", "fr-CA"), ("fr-ca", "fr-CA"),
        ("fr-FR, en;q=0.5", "fr-CA"), ("de-AT", "de"), ("sv-SE,sv", "sv"), ("en-GB, de", "en"),
        ("da, de;q=0.5", "de"), ("en;q=0.2, sv ; q=0.3", "sv"), ("de;q=0, sv;q=0.1", "sv"), ("da, nb", "en"),
        ("*", "en"), ("de;q=0", "en"), (",;q=,de;q=x,=", "en"), ("de;" * 4000, "en"), ("\u00e9s", "en"),
    ],
)  # fmt: skip
def test_the_browsers_language_is_spoken_where_it_is_offered(accept: str, code: str) -> None:
    assert language_of(asked(accept)) == code


def test_the_chosen_language_wins_where_there_is_such_a_one() -> None:
    assert language_of(asked("es", "other=1; language=sv")) == "sv"
    assert language_of(asked("es", "language=tlh")) == "es"
    assert language_of(asked("", "language=en-XA")) == "en"


def test_only_languages_with_a_catalogue_are_offered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert [one.code for one in offered()] == list(LANGUAGES)
    (tmp_path / "few").mkdir()
    catalogue(tmp_path / "few", "de", {})
    monkeypatch.setattr(speech, "_CATALOGUES", tmp_path / "few")
    assert [one.code for one in offered()] == ["en", "de"]
    assert language_of(asked("es, de;q=0.1", "language=sv")) == "de"


def test_a_page_is_in_the_language_of_who_asks(tmp_path: Path) -> None:
    with asking(tmp_path, "lap-cottage") as client:
        english = client.get("/").text
        spanish = client.get("/", headers={"accept-language": "es-MX"}).text
        client.cookies.set("language", "es")
        chosen = client.get("/", headers={"accept-language": "de"}).text
        field = client.get("/job/lap-cottage/fields?face=0").text
        refused = client.get("/job/nix/choices").json()["error"]
    assert '<html lang="en">' in english and ">Jobs<" in english
    for page in (spanish, chosen):
        assert '<html lang="es">' in page and ">Trabajos<" in page and ">Jobs<" not in page
        assert re.search(r'<option value="es" lang="es" selected>Español', page)
        (table,) = re.findall(r'<script type="application/json" id="words">(.*)</script>', page)
        words = json.loads(table)
        assert words["No connection."] == "Sin conexión."
        assert words["{count} faces are taken."] == {
            "one": "Se toma {count} fachada.", "other": "Se toman {count} fachadas."
        }  # fmt: skip
    assert ">Ancho<" in field
    assert refused == "no hay: nix.toml"


def test_helpers_speak_the_language_of_each_task(tmp_path: Path) -> None:
    """One process, asked in turn: what it keeps of a job is worded anew."""

    async def found() -> tuple[list[str], list[str]]:
        helper = Helper(spoken_tasks.__name__, 60.0)
        labels, steps = [], []
        try:
            for code in ("es", "en", "es"):
                with speaking(code):
                    view, _ = await helper.ask("planned", JOB, str(tmp_path), 0, (800, 500))
                    labels.append(next(one for one in view["handles"] if one["path"][-1] == "eave")["label"])
                    await helper.ask("material", JOB, str(tmp_path), on_step=steps.append)
        finally:
            helper.stop()
        return labels, steps[::2]

    spanish, english = "alero en la esquina izquierda", "eave at the left corner"
    labels, steps = asyncio.run(found())
    assert labels == [spanish, english, spanish]
    assert steps == ["cortando las piezas", "cutting the pieces", "cortando las piezas"]


def test_a_job_is_planned_once_in_whatever_languages_it_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    planned = []

    def counted(job: Any) -> Any:
        planned.append(job)
        return result(job)

    monkeypatch.setattr(plan_tasks, "result", counted)
    told = []
    for code in ("en", "es", "en"):
        with speaking(code):
            found = plan_tasks.whole_result(JOB, str(tmp_path))
            told.append((found, found.instructions))
    assert len(planned) == 1
    assert told[0][1] is told[2][1] and told[0][1] is not told[1][1]
    assert told[0][0].material is told[1][0].material


def test_background_work_is_done_for_each_language_and_stopped_for_none(tmp_path: Path) -> None:
    opened = desk_of(tmp_path, frozenset())

    async def ask(task: str, text: str, folder: str, on_step: Any) -> dict[str, str]:
        on_step("step")
        await asyncio.sleep(0.01)
        return {"text": text, "code": speech.spoken().code}

    opened.maker.ask = ask  # type: ignore[method-assign]

    async def both(text: str) -> list[dict[str, str]]:
        asked = []
        for code in ("es", "en", "es"):
            with speaking(code):
                asked.append(asyncio.create_task(opened.in_background("material", "shed", text)))
        return await asyncio.gather(*asked)

    async def changed() -> tuple[Any, ...]:
        before = asyncio.create_task(both("old"))
        await asyncio.sleep(0.005)
        return await both("new"), await before

    now, before = asyncio.run(changed())
    assert now == [{"text": "new", "code": code} for code in ("es", "en", "es")]
    assert before == [{"stopped": True}] * 3


def test_steps_are_told_to_those_who_read_their_language() -> None:
    async def told() -> dict[str, list[str]]:
        live, found = Live(), {}

        async def hello() -> dict[str, object]:
            return {}

        async def watched(code: str) -> None:
            found[code] = [event async for event in live.events("shed", hello)]

        watching = []
        for code in ("es", "en"):
            with speaking(code):
                watching.append(asyncio.create_task(watched(code)))
        await asyncio.sleep(0.01)
        live.tell("shed", {"words": "paso"}, "es")
        live.tell("shed", {"kind": "ticks"})
        await asyncio.sleep(0.01)
        live.end()
        await asyncio.gather(*watching)
        return found

    told_to = asyncio.run(told())
    assert ["paso" in "".join(told_to[code]) for code in ("es", "en")] == [True, False]
    assert all("ticks" in "".join(events) for events in told_to.values())


def test_nothing_is_written_in_a_language() -> None:
    """Figures of a drag, of a new job and of what is added keep their point and their words."""
    metric = {"job": {"units": "mm"}, "elevation": [{"name": "Street", "base": "0", "eave": "2400.5"}]}
    written = []
    for code in ("en", "de"):
        with speaking(code):
            edits = drag_edits(metric, "level", ("elevation", 0, "eave"), "left", (0.0, 2412.5))
            written.append((edits, new_job_text("Shed", "mm", "double-4", "Ann")))
    assert written[0] == written[1]
    text, texts = (SAMPLES / "lap-cottage.toml").read_text("utf-8"), []
    asked = put(["elevation", 0, "width"], "38.5"), {"kind": "add", "path": ["elevation"]}
    for code in ("en", "de"):
        with speaking(code):
            texts.append(edited(text, [one for raw in asked for one in _edits(tables_of(text) or {}, raw)]))
    assert texts[0] == texts[1] != text


def test_advice_of_the_command_is_that_of_the_desk_in_every_language() -> None:
    with speaking("es"):
        assert said("separados; --tolerance 1/2 las une") == "separados; las une una tolerancia de 1/2"
        assert said("así; para un archivo añada --units in") == "así; elija in abajo"
    assert said("apart; --tolerance 1/2 lets them meet") == "apart; a tolerance of 1/2 lets them meet"
    assert said("so; for a job file add --units in") == "so; choose the units below: in"


def test_a_field_within_a_sentence_begins_small_in_english_alone() -> None:
    assert label_of("elevation", "width") == "width"
    with speaking("de"):
        assert label_of("elevation", "width") == "Breite"


def test_every_sentence_of_the_scripts_is_in_their_table() -> None:
    known = {english for english, _ in _said()} | set(_COUNTED)
    scripts = [path.read_text("utf-8") for path in sorted(STATIC.glob("*.js"))]
    sentences = {one for text in scripts for one in re.findall(r'\bspoken\("([^"]+)"', text)}
    assert sentences and sentences <= known
    # The others are what the desk sends by name: kinds, shapes, importance, who and what.
    assert all(f'"{one}"' in "".join(scripts) for one in _COUNTED)
    assert set(script_words()) == set(_COUNTED)


def test_a_language_is_chosen_on_a_page_and_stays_chosen(tmp_path: Path) -> None:
    folder = tmp_path / "jobs"
    folder.mkdir()
    (folder / "shed.toml").write_text(JOB)
    helpers = f"from evencourse.cli.desk import desk_state; desk_state._PLANS = {spoken_tasks.__name__!r}"
    before = f"from tests.cli.desk import spoken_tasks; {helpers}; desk_state._MAKES = desk_state._PLANS"
    with (
        desk(folder, before=before) as running,
        browser() as found,
        tab(found, running, LAPTOP, False) as (page, wrong),
    ):
        html = page.locator("html")
        expect(html).to_have_attribute("lang", "en")
        page.select_option("#language", "es")
        expect(html).to_have_attribute("lang", "es")
        expect(page.locator("header .home span")).to_have_text("Trabajos")
        measuring(page, running, "shed", 0)
        expect(page.locator("h1")).to_have_text("Medir Shed")
        expect(page.locator("#walk a").first).to_have_text("El trabajo")
        expect(page.locator("#handles title", has_text="alero en la esquina izquierda")).to_have_count(1)
        page.select_option("#language", "en")
        expect(page.locator("#walk a").first).to_have_text("The job")
        assert wrong == []


def test_what_a_key_says_too_shortly_has_a_label_in_words() -> None:
    assert [field_label("cladding", "faces"), field_label("order", "faces")] == ["Steps", "Faces"]
    labels = [field_label("cladding", "carton_squares"), field_label("job", "model_datum")]
    assert labels == ["Squares in a carton", "Datum in the model"]
    assert label_of("job", "model_datum") == "datum in the model"
