"""The plan as one page for the phone: drawing, cuts, pieces, a starter line to move, courses to check off.

It prints as the sheets of the faces, which stand in it as they are; without scripts it shows them.

One HTML file with everything in it. It asks for nothing: its policy forbids every request, and names
the one script and the one style that may run by their digests. It is set in the phone's own font, which is
made for its screen and follows the size that its owner has chosen. It speaks one language, the one that is
spoken when it is made.
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re
from functools import cache
from pathlib import Path

from evencourse.layout.language.speech import alone, gettext, spoken
from evencourse.render.border.stamp import Stamp
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.formats.svg import svg_inside
from evencourse.render.page.html_words import html_words
from evencourse.render.page.page_data import page_data
from evencourse.render.words.result import Result

FOLDER = Path(__file__).with_name("pagefiles")
#: The page's scripts in the order in which they are read.
SCRIPTS = (
    "readings.js", "state.js", "dom.js", "ticks.js", "view.js", "drawing.js", "opening.js", "starter.js",
    "lists.js", "details.js", "place.js", "start.js",
)  # fmt: skip
_ESCAPED = {ord(letter): f"\\u{ord(letter):04x}" for letter in "<>&\u2028\u2029"}
_FACE = '<span class="face-name"></span>'
_PLACE = re.compile(r"\{\{(\w+)\}\}")


def phone_page(result: Result, paper_name: str) -> str:
    """The page of a planned job.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``, for the page as it is printed.

    Returns:
        HTML; the same text for the same plan.
    """
    with alone():
        sheets = sheet_set(result, paper_name, Stamp(fingerprint=result.fingerprint), ("faces",)).sheets
    style, script = _style(*sheets[0].paper), _script()
    name = result.plan.job.name or gettext("Job without a name")
    parts = {
        "language": spoken().code,
        "policy": "; ".join(
            (
                "default-src 'none'",
                f"script-src {_digest(script)}",
                f"style-src {_digest(style)}",
                "base-uri 'none'",
                "form-action 'none'",
                "require-trusted-types-for 'script'",
            )
        ),
        "title": html.escape(gettext("{job}: course lines", job=name)),
        "style": style,
        "script": script,
        "sheets": "\n".join(svg_inside(sheet, f"sheet-{number}") for number, sheet in enumerate(sheets, 1)),
        "plan": embedded(page_data(result)),
        **{place: html.escape(words).replace("{face}", _FACE) for place, words in html_words().items()},
    }
    return _PLACE.sub(lambda place: parts[place[1]], _read("page.html"))


def embedded(content: object) -> str:
    """Plain values as JSON that stands inside a script element and cannot end it, whatever names it holds."""
    text = json.dumps(content, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return text.translate(_ESCAPED)


@cache
def _read(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


def _style(width: float, height: float) -> str:
    """The style, for sheets of this size [mm]."""
    return _read("page.css").replace("{{paper}}", f"{width:g}mm {height:g}mm")


def _script() -> str:
    """The scripts in one scope of their own."""
    scripts = "\n".join(_read(name).replace("\nexport function", "\nfunction") for name in SCRIPTS)
    return f'"use strict";\n(() => {{\n{scripts}}})();\n'


def _digest(text: str) -> str:
    """The digest by which a policy knows an inline script or style (W3C Content Security Policy Level 3)."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
