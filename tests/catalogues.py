"""``python -m tests.catalogues``: brings the catalogues up to date with the sentences in the code.

New sentences come in empty, those that are gone are taken out, what is translated stays; then the catalogues
are compiled. ``tests/layout/language/test_catalogues.py`` fails while one is missing, left over or empty.
"""

from __future__ import annotations

import io
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from evencourse.layout.language.speech import ENGLISH, LANGUAGES

ROOT = Path(__file__).resolve().parents[1]
CATALOGUES = ROOT / "layout" / "language" / "catalogues"
_METHODS = [("**.py", "python"), ("desk/templates/**.html", "jinja2")]
_KEYWORDS = {"gettext": None, "ngettext": (1, 2), "pgettext": ((1, "c"), 2), "noop": None}
CODES = tuple(code for code in LANGUAGES if code != ENGLISH.code)


class Plain(Catalog):
    """A catalogue whose head tells no date and no program: the same sentences, the same bytes.

    Every language here has a form for one and a form for more; French says none as it says one. (Unicode's
    third form of Spanish and French is for millions.)
    """

    num_plurals = 2

    @property
    def plural_expr(self) -> str:
        """When the second form is said."""
        return "(n > 1)" if str(self.locale_identifier).startswith("fr") else "(n != 1)"

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        """What a reader must know."""
        return [
            ("Language", str(self.locale_identifier)),
            ("MIME-Version", "1.0"),
            ("Content-Type", "text/plain; charset=utf-8"),
            ("Content-Transfer-Encoding", "8bit"),
            ("Plural-Forms", self.plural_forms),
        ]


def place(code: str, kind: str = "po") -> Path:
    """The file of a language's catalogue."""
    return CATALOGUES / code.replace("-", "_") / "LC_MESSAGES" / f"evencourse.{kind}"


def extracted() -> Catalog:
    """Every sentence in the code, with the files that it stands in."""
    found = Catalog()
    for package in ("layout", "render", "cli"):
        for file, _, message, _, context in extract_from_dir(
            ROOT / package, _METHODS, keywords=_KEYWORDS, options_map={"**.html": {"newstyle_gettext": "no"}}
        ):
            found.add(message, context=context, locations=[(f"{package}/{file}", 1)])
    return found


def read(code: str) -> Catalog:
    """The catalogue of a language as it stands; empty where there is none."""
    if not place(code).exists():
        return Plain(locale=code.replace("-", "_"))
    return read_po(io.BytesIO(place(code).read_bytes()), locale=code.replace("-", "_"))


def updated(code: str, sentences: Catalog) -> Plain:
    """The catalogue of a language with just these sentences."""
    before, found = read(code), Plain(locale=code.replace("-", "_"), header_comment="", fuzzy=False)
    for one in sorted(sentences, key=lambda one: (one.locations[:1], str(one.id), one.context or "")):
        if not one.id:
            continue
        old = before.get(one.id, one.context)
        files = sorted({(file, 1) for file, _ in one.locations})
        found.add(one.id, old.string if old else None, files, context=one.context)
    return found


def po_bytes(catalogue: Catalog) -> bytes:
    """A catalogue as text."""
    file = io.BytesIO()
    write_po(file, catalogue, width=110, include_lineno=False, omit_header=False)
    return file.getvalue()


def mo_bytes(catalogue: Catalog) -> bytes:
    """A catalogue as the program reads it."""
    file = io.BytesIO()
    write_mo(file, catalogue)
    return file.getvalue()


def main() -> None:
    """Bring all of them up to date."""
    sentences = extracted()
    for code in CODES:
        catalogue = updated(code, sentences)
        place(code).parent.mkdir(parents=True, exist_ok=True)
        place(code).write_bytes(po_bytes(catalogue))
        place(code, "mo").write_bytes(mo_bytes(catalogue))
        missing = sum(not all(_strings(one.string)) for one in catalogue if one.id)
        print(f"{code}: {len(catalogue)} sentences, {missing} to translate")


def _strings(string: str | tuple[str, ...]) -> tuple[str, ...]:
    return string if isinstance(string, tuple) else (string,)


if __name__ == "__main__":
    main()
