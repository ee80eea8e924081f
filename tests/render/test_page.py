"""The page for the phone, read as text: one file, nothing fetched, no way out for hostile names."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections import Counter
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from evencourse.cli.options.job_reading import read
from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.keys import KINDS
from evencourse.layout.language.speech import gettext, ngettext, speaking
from evencourse.layout.model.job import Job
from evencourse.layout.pieces.piece import End, Seam
from evencourse.render.page.html_words import html_words
from evencourse.render.page.page_pieces import meets_words
from evencourse.render.page.page_table import RESULTS
from evencourse.render.page.phone_page import SCRIPTS, embedded, phone_page
from evencourse.render.page.script_words import script_words
from evencourse.render.words.edge_counts import result_counts
from evencourse.render.words.result import Result
from tests.lettering import PSEUDO, unspoken

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
FILES = Path(__file__).resolve().parents[2] / "render" / "page" / "pagefiles"


@pytest.fixture(scope="module")
def job() -> Job:
    return read(str(SAMPLES / "gabled-house.toml"))


@pytest.fixture(scope="module")
def found(job: Job) -> Result:
    return Result(plan(job))


@pytest.fixture(scope="module")
def page(found: Result) -> str:
    return phone_page(found, "letter")


def test_the_sheets_in_the_page_say_which_plan_they_belong_to(found: Result, page: str) -> None:
    """As those of the set do, on each of them: without scripts they are all there is."""
    sheets = page.count("<svg height=")
    assert sheets >= len(found.plan.elevations)
    assert page.count(f">{found.fingerprint}<") == sheets


class Parts(HTMLParser):
    """Elements with their attributes, and the texts of scripts and styles."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.held: list[tuple[str, dict[str, str | None], str]] = []
        self.inside = False
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        self.inside = tag in ("script", "style")

    def handle_endtag(self, tag: str) -> None:
        self.inside = False

    def handle_data(self, data: str) -> None:
        if self.inside:
            self.held.append((*self.elements[-1], data))

    def plan(self) -> Any:
        return json.loads(next(text for _, attributes, text in self.held if attributes.get("id") == "plan"))


@pytest.mark.long
def test_the_same_plan_gives_the_same_bytes(job: Job) -> None:
    assert phone_page(Result(plan(job)), "letter") == phone_page(Result(plan(job)), "letter")


@pytest.mark.long
def test_nothing_in_it_points_outside(page: str) -> None:
    """Elements and attributes that fetch: HTML Living Standard, sections 4.2, 4.8 and 4.12."""
    parts = Parts(page)
    fetching = {"src", "srcset", "data", "poster", "action", "formaction", "background", "ping", "manifest"}
    for tag, attributes in parts.elements:
        assert not fetching & set(attributes), tag
        assert tag not in ("link", "iframe", "img", "object", "embed", "base", "form")
        assert (attributes.get("href") or "#").startswith("#")
    style = next(text for tag, _, text in parts.held if tag == "style")
    assert re.findall(r"url\(([^)]*)\)", style) == ["#hung"]
    assert "@import" not in style
    assert set(re.findall(r"https?://[^\s\"'`]*", page)) == {"http://www.w3.org/2000/svg"}


def test_the_policy_forbids_everything_but_the_one_script_and_the_one_style(page: str) -> None:
    """W3C Content Security Policy Level 3: digests of inline elements; a policy in a meta element."""
    parts = Parts(page)
    policy = next(
        attributes["content"]
        for tag, attributes in parts.elements
        if tag == "meta" and attributes.get("http-equiv") == "Content-Security-Policy"
    )
    assert policy is not None
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
    for tag, attributes, text in parts.held:
        if attributes.get("type") == "application/json":
            continue
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert rules[f"{tag}-src"] == f"'sha256-{digest}'"
    assert set(rules) == {
        "default-src", "script-src", "style-src", "base-uri", "form-action", "require-trusted-types-for",
    }  # fmt: skip


@pytest.mark.long
@pytest.mark.parametrize(
    "name", ["</script><script>x", "<!--<script>", "]]>", "{{style}}", "a\u2028b\u2029c", '"\\', "&lt;"]
)
def test_names_cannot_leave_the_data(job: Job, name: str) -> None:
    text = phone_page(Result(plan(replace(job, name=name))), "letter")
    parts = Parts(text)
    assert parts.plan()["job"] == name
    assert [tag for tag, _ in parts.elements].count("script") == 2


def test_embedded_values_are_read_back() -> None:
    values = {"a": ["<", ">", "&", "\u2028", "\u2029", "é", "שלום", '"', "\\u003c"], "b": 1.25}
    text = embedded(values)
    assert text.isascii()
    assert not set(text) & set("<>&")
    assert json.loads(text) == values


def test_every_script_is_in_the_page_and_none_writes_markup(page: str) -> None:
    assert {path.name for path in FILES.glob("*.js")} == set(SCRIPTS)
    for name in SCRIPTS:
        script = (FILES / name).read_text(encoding="utf-8")
        # What the desk takes as a module stands in the page's one scope as it is.
        assert script.replace("\nexport function", "\nfunction") in page
        assert not re.search(
            r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|Function\(", script
        )
        assert not re.search(r"\bfetch\(|XMLHttpRequest|WebSocket|sendBeacon|importScripts|import\(", script)


def test_the_scripts_ask_for_every_word_that_they_have_and_for_no_other() -> None:
    """A key stands in the script, or begins there and ends with a key of the plan: ``kind window``."""
    words, asked, begun = script_words(), set(), set()
    for name in SCRIPTS:
        script = (FILES / name).read_text(encoding="utf-8")
        for call in re.findall(r"\b(?:say|phrase)\(([^{)]*)", script):
            asked |= set(re.findall(r'"([^"]+)"', call))
            begun |= set(re.findall(r"`([^`$]+)\$", call))
    assert {"kind ", "result ", "count "} == begun
    assert asked | {key for key in words if key.startswith(tuple(begun))} == set(words)
    assert {f"kind {kind}" for kind in KINDS} <= set(words)


def test_the_scripts_have_no_words_of_their_own() -> None:
    """Nothing that begins as a sentence or a label does stands in them."""
    for name in SCRIPTS:
        script = re.sub(
            r"/\*.*?\*/|^ *//.*$", "", (FILES / name).read_text(encoding="utf-8"), flags=re.S | re.M
        )
        assert re.findall(r"""["`]\s?[A-Z][a-z]+ [^"`]*["`]""", script) == [], name


def test_a_word_of_a_number_has_two_forms_and_keeps_its_places() -> None:
    with speaking(PSEUDO):
        words = script_words()
        said = ngettext("{done} of {count} course up", "{done} of {count} courses up", 1, done=3, count=1)
    assert words["progress"][0].format(done=3, count=1) == said
    for key, forms in script_words().items():
        places = [
            sorted(re.findall(r"\{\w+\}", one)) for one in (forms if isinstance(forms, list) else [forms])
        ]
        assert isinstance(forms, str) or (len(forms) == 2 and places[0] == places[1]), key
        spoken = words[key]
        for one, other in zip(places, spoken if isinstance(spoken, list) else [spoken], strict=True):
            assert sorted(re.findall(r"\{\w+\}", other)) == one


def test_the_page_speaks_the_language_that_it_is_made_in(found: Result) -> None:
    with speaking(PSEUDO):
        page = phone_page(found, "letter")
        title = gettext("{job}: course lines", job=found.job.name)
        assert list(unspoken(html_words().values(), found.plan)) == []
    parts = Parts(re.sub(r'(?s)(<div id="sheets"[^>]*>).*(?=<script type)', r"\1</div>", page))
    assert ("html", {"lang": "en-XA"}) in parts.elements
    assert f"<title>{title}</title>" in page
    labels = [text for _, held in parts.elements if (text := held.get("aria-label"))]
    texts = [
        text for text in re.findall(r">([^<>{}]+)<", page[: page.index('<div id="sheets"')]) if text.strip()
    ]
    assert list(unspoken(labels + texts[texts.index(title) + 1 :], found.plan)) == []


def test_every_piece_is_in_the_page(found: Result, page: str) -> None:
    data = Parts(page).plan()
    shown = [piece["id"] for face in data["faces"] for piece in face["pieces"]]
    assert shown == [piece.id for piece in found.material.pieces.all()]


def test_edges_are_counted_as_the_sheets_count_them(found: Result, page: str) -> None:
    """The cover has rips along eaves beside notches; the page had them as notches."""
    data = Parts(page).plan()
    for number, (face, told) in enumerate(zip(found.plan.elevations, data["faces"], strict=True)):
        count: Counter[str] = Counter()
        for name, row in ((one["name"], one["rows"][one["planned"]]) for one in data["sets"]):
            if row["views"][number] is None:
                continue
            mine = [one for one in told["targets"] if data["sets"][one["set"]]["name"] == name]
            for target, outcome in zip(mine, data["views"][row["views"][number]]["edges"], strict=True):
                if outcome is not None and target["importance"] != "ignore":
                    count[RESULTS[data["outcomes"][outcome][0]]] += 1
        wanted = result_counts(face.edges)
        assert count == Counter({kind: wanted[kind] for kind in RESULTS if wanted[kind]}), told["name"]
    assert any(result_counts(face.edges)["rip"] for face in found.plan.elevations)


@pytest.mark.long
def test_another_starter_keeps_the_ticks_and_another_wall_does_not(job: Job) -> None:
    def key(of: Job, starter: float | None = None) -> str:
        return str(
            Parts(phone_page(Result(plan(of, None if starter is None else {"": starter})), "letter")).plan()[
                "key"
            ]
        )

    first, *rest = job.elevations
    wall = replace(first, outline=((0, -40), (99, -40), (99, 9), (0, 9)), openings=(), fixtures=())
    other = replace(job, elevations=(wall, *rest))
    assert key(job) == key(job, -41.5) != key(other)


def test_the_piece_in_front_laps_over(job: Job) -> None:
    seam = Seam(120.0, 0.0, 8.0, "S-1.1", "S-1.2", "left", 1.25, "main", 1, None)
    end = End("square", "seam")
    assert meets_words(job, end, seam, "S-1.1") == 'laps 1-1/4" over S-1.2'
    assert meets_words(job, end, seam, "S-1.2") == 'laps 1-1/4" under S-1.1'
    butted = replace(seam, front="butt", lap=0.0)
    assert meets_words(job, end, butted, "S-1.1") == "butts S-1.2"
    assert meets_words(job, End("rake", "channel", 0.25), None, "S-1.1") == 'channel, 1/4" gap'
