"""No catalogue has a hole, an entry too many, a placeholder lost or a word of the trade said otherwise."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from string import Formatter

import pytest
from babel.messages.catalog import Message

from evencourse.layout.language.speech import LANGUAGES, gettext, ngettext, noop, pgettext, speaking, spoken
from tests.catalogues import CODES, ROOT, extracted, mo_bytes, place, po_bytes, read, updated

each_language = pytest.mark.parametrize("code", CODES)


def messages(code: str) -> Iterator[tuple[Message, tuple[str, ...], tuple[str, ...]]]:
    """Every sentence of a catalogue: English forms, translated forms."""
    for one in read(code):
        if one.id:
            ids = one.id if isinstance(one.id, tuple) else (one.id,)
            strings = one.string if isinstance(one.string, tuple) else (one.string,)
            yield one, ids, strings


def fields(text: str) -> set[str]:
    try:
        return {name for _, name, _, _ in Formatter().parse(text) if name}
    except ValueError:  # a sentence about braces has no values: it is said as it is
        return set()


@each_language
def test_a_catalogue_has_the_sentences_of_the_code_and_no_others(code: str) -> None:
    """``python -m tests.catalogues`` brings it up to date."""
    assert place(code).read_bytes() == po_bytes(updated(code, extracted()))
    assert place(code, "mo").read_bytes() == mo_bytes(updated(code, extracted()))


def test_no_sentence_of_the_code_is_passed_over() -> None:
    """One within an f-string would be."""
    known = {word for one in extracted() for word in (one.id if isinstance(one.id, tuple) else (one.id,))}
    lost = []
    for path in (path for package in ("layout", "render", "cli") for path in (ROOT / package).rglob("*.py")):
        for call in (node for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Call)):
            name = call.func.id if isinstance(call.func, ast.Name) else ""
            said = call.args[1 if name == "pgettext" else 0 :][:1]
            if name in {"gettext", "ngettext", "pgettext", "noop"} and isinstance(said[0], ast.Constant):
                lost += [said[0].value] if said[0].value not in known else []
    assert lost == []


@each_language
def test_every_sentence_is_translated(code: str) -> None:
    assert [ids for _, ids, strings in messages(code) if not all(strings)] == []


@each_language
def test_every_value_of_a_sentence_is_in_its_translation(code: str) -> None:
    """A number that decides a plural may be left out of one form, as "one piece"."""
    wrong = []
    for _, ids, strings in messages(code):
        wanted = set().union(*map(fields, ids))
        free = {"count"} if len(ids) > 1 else set()
        wrong += [(ids[0], text) for text in strings if not wanted - free <= fields(text) <= wanted]
    assert wrong == []


@each_language
def test_ends_and_signs_are_kept(code: str) -> None:
    """What code glues on goes by blanks and points at the ends; feet and inches keep their marks."""
    wrong = []
    for _, ids, strings in messages(code):
        for text in strings:
            one = ids[0]
            if (one[:1] == " ", one[-1:] == " ", one[-1:] == ".") != (
                text[:1] == " ",
                text[-1:] == " ",
                text[-1:] == ".",
            ):
                wrong.append((one, text))
    assert wrong == []


@each_language
def test_words_of_the_trade_are_said_as_the_glossary_has_them(code: str) -> None:
    terms = tomllib.loads((ROOT / "layout/language/glossary.toml").read_text(encoding="utf-8"))["term"]
    wrong = []
    for word, term in terms.items():
        if not term.get("fixed"):
            continue
        stems = [part[: max(3, len(part) - 2)].casefold() for part in re.findall(r"[^\W\d_-]+", term[code])]
        english = re.compile(rf"\b{re.escape(word)}(s|es)?\b", re.IGNORECASE)
        for _, ids, strings in messages(code):
            if english.search(re.sub(r"\{.*?\}", "", ids[0])):
                wrong += [
                    (word, ids[0], text)
                    for text in strings
                    if not all(stem in text.casefold() for stem in stems if len(stem) > 2)
                ]
    assert wrong == []


def test_the_glossary_knows_every_language() -> None:
    terms = tomllib.loads((ROOT / "layout/language/glossary.toml").read_text(encoding="utf-8"))["term"]
    assert all(term.keys() >= {"means", *CODES} for term in terms.values())


def test_english_is_spoken_when_nothing_is_said() -> None:
    assert spoken() is LANGUAGES["en"]
    assert gettext("course {course}", course=3) == "course 3"
    assert gettext(noop("no {braces}")) == "no {braces}"
    assert ngettext("{count} course", "{count} courses", 1) == "1 course"
    assert ngettext("{count} course", "{count} courses", 0) == "0 courses"
    assert pgettext("side", "left") == "left"
    with pytest.raises(KeyError, match="xx"), speaking("xx"):
        pass
