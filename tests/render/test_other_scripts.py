"""Names in other scripts, against Unicode's own tables and the fonts' own."""

from __future__ import annotations

import importlib.util
import io
import re
import subprocess
import unicodedata
from itertools import pairwise
from pathlib import Path

import pypdfium2
import pytest
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont
from PIL import Image, ImageChops

from evencourse.layout.language.speech import closed, gettext, noop, speaking
from evencourse.render.drawing import fonts
from evencourse.render.drawing.drawing import Document, Sheet, Text
from evencourse.render.drawing.font_files import CAP_RATIO
from evencourse.render.drawing.other_scripts import Part, has_sign, parts
from evencourse.render.drawing.pens import TEXT
from evencourse.render.formats.pdf import pdf
from evencourse.render.formats.png import png
from evencourse.render.formats.svg import svg
from tests.tools import tool

#: North and the front, as crews of many tongues write them.
NAMES = (
    "Север",
    "Βορράς",
    "צפון",
    "واجهة",
    "前面",
    "뒷면",
    "東側",
    "उत्तर",
    "ਉੱਤਰ",
    "ทิศเหนือ",
    "Հյուսիս",
    "ჩრდილოეთი",
    "উত্তর",
    "ሰሜን",
    "北 🏠",
)


def _of(text: str) -> Part:
    (part,) = parts(text, "regular")
    return part


def _folder(package: str) -> Path:
    found = importlib.util.find_spec(package)
    assert found is not None and found.origin is not None
    return Path(found.origin).parent


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_drawn_as_it_is(name: str) -> None:
    assert fonts.shown(name) == name
    assert all(has_sign(letter) for letter in name)


def test_widths_are_the_fonts_own() -> None:
    # These letters of Cyrillic and Greek neither join nor kern: the sum of advances at weight 400.
    with TTFont(_folder("manimgx_fonts") / "NotoSans[wght].ttf") as noto:
        regular = instantiateVariableFont(noto, {"wght": 400})
        names, advances = regular.getBestCmap(), regular["hmtx"].metrics
        for text in ("пппп", "нннн", "ΠΠ"):
            units = sum(advances[names[ord(letter)]][0] for letter in text)
            wanted = 3.5 * units / regular["head"].unitsPerEm / CAP_RATIO
            assert fonts.text_width(text, 3.5) == pytest.approx(wanted, rel=1e-3)


def test_hebrew_stands_from_right_to_left() -> None:
    # Spoken alef, bet; alef stands on the right (UAX 9): its outline is that of alef alone, bet's width on.
    alef, bet, both = _of("א"), _of("ב"), _of("אב")
    assert both.width == pytest.approx(alef.width + bet.width)
    assert both.strokes[: len(bet.strokes)] == bet.strokes
    moved = [x for _, points in both.strokes[len(bet.strokes) :] for x, _ in points]
    assert moved == pytest.approx([x + bet.width for _, points in alef.strokes for x, _ in points])


def test_arabic_letters_join() -> None:
    # Unicode keeps the joined shapes as characters: beh initial FE91, yeh medial FEF4, teh final FE96.
    word = _of("بيت")
    shapes = [_of(shape) for shape in ("\ufe96", "\ufef4", "\ufe91")]
    assert [unicodedata.normalize("NFKC", shape.text) for shape in reversed(shapes)] == list("بيت")
    assert word.width == pytest.approx(sum(shape.width for shape in shapes))
    assert len(word.strokes) == sum(len(shape.strokes) for shape in shapes)


def test_lines_keep_their_direction() -> None:
    # UAX 9, rules N1, W2 and L2, worked by hand: a figure of the name stands left of it, brackets are turned.
    assert [part.text for part in parts("Face בית 12", "regular")] == ["Face ", "12", "בית "]
    assert "".join(part.text for part in parts("בית, 12", "regular")) == "12, בית"
    inside = parts("(בית)", "regular")
    assert [part.text for part in inside] == ["(", "בית", ")"]


def test_a_name_takes_no_figure_of_the_sentence_along() -> None:
    with speaking("en"):
        said = gettext(noop("{face}, 12 courses"), face="בית")
    assert [part.text for part in parts(said, "regular")] == ["בית", ", 12 courses"]
    assert said.replace("\u200e", "") == "בית, 12 courses"


def test_a_mark_takes_no_radius_along() -> None:
    """The radius of an arch behind its mark, as sheets list them: read from the left, whatever the mark."""
    said = f"{closed('ז')} 1' 7-7/16\""
    assert "".join(part.text for part in parts(said, "regular")) == "ז 1' 7-7/16\""


def test_signs_that_are_never_seen_take_no_room() -> None:
    assert fonts.text_width("\ufe0f", 2.5) == 0.0
    assert fonts.text_width("A\ufe0f", 2.5) == fonts.text_width("A", 2.5)
    assert fonts.wrap("\u2764\ufe0f" * 30, 20.0, 2.5)


def test_long_names_are_broken_where_they_fit() -> None:
    """As many signs as go into the width: one more would not."""
    for word in ("前面後左右" * 12, "شمالجنوب" * 12):
        lines = fonts.wrap(word, 30.0, 2.5)
        assert "".join(lines) == word
        for line, following in pairwise(lines):
            assert fonts.text_width(line, 2.5) <= 30 < fonts.text_width(line + following[0], 2.5)


def test_what_no_font_has_is_told_by_its_number() -> None:
    lost = [chr(code) for code in (0x0378, 0x10FFFD, 0xE000)]
    assert [fonts.shown(letter) for letter in lost] == ["◊378◊", "◊10FFFD◊", "◊E000◊"]


def test_lines_that_are_plain_are_not_parted() -> None:
    assert fonts.mixed("2' 11-1/2\" · Übergröße", "regular") == ()


def test_high_and_low_signs_keep_clear() -> None:
    # Noto's own outlines of a high vowel sign and of a tail reach past those of our capitals.
    assert fonts.ascent("ทิ้") > fonts.ASCENT_RATIO
    assert fonts.descent("कू") > fonts.DESCENT_RATIO
    assert fonts.descent("前") < fonts.DESCENT_RATIO


def test_every_format_keeps_the_names(tmp_path: Path) -> None:
    marks = tuple(Text(TEXT, (10.0, 10.0 + 12 * row), name, 5.0) for row, name in enumerate(NAMES))
    sheet = Sheet("Names", (120.0, 200.0), marks=marks)
    drawn = re.findall(r">([^<>]+)</text>", svg(sheet).decode())
    file = tmp_path / "names.pdf"
    file.write_bytes(pdf(Document("Names", (sheet,))))
    told = subprocess.run(
        [tool("pdftotext"), str(file), "-"], check=True, capture_output=True
    ).stdout.decode()
    # This reader of text sets marks round what is read from right to left.
    page = pypdfium2.PdfDocument(file)[0].get_textpage()
    lines = {re.sub(r"[\u202a-\u202e\u200e]", "", line).strip() for line in told.splitlines()}
    for name in NAMES:
        assert "".join(name.split()) in "".join(drawn).replace(" ", "")
        # A table of characters in a PDF made so has four digits.
        plain = "".join(sign for sign in name if sign <= "\uffff").strip()
        assert plain in lines, name
        assert page.search(plain).get_next(), name


@pytest.mark.parametrize("draw", [png])
def test_no_two_names_look_alike(draw) -> None:
    looks = []
    for name in ("前", "后", "左", "☗", "\ue000", "\ue001"):
        picture = draw(Sheet("A", (30.0, 12.0), marks=(Text(TEXT, (4.0, 4.0), name, 5.0),)), 100.0)
        looks.append(Image.open(io.BytesIO(picture)).convert("L"))
    for number, one in enumerate(looks):
        assert one.getextrema()[0] < 100
        assert all(ImageChops.difference(one, other).getbbox() for other in looks[:number])
