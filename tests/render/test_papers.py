"""Papers and scales against the standards that name them."""

import math
from fractions import Fraction

import pytest

from evencourse.render.drawing import papers


def test_iso_papers_halve():
    # ISO 216: A3 is half of A2 and A4 half of A3, the long side cut in two, rounded down to whole mm.
    a3, a4 = papers.paper("A3"), papers.paper("A4")
    assert a3.size == (420, 297)
    assert a4.size == (a3.height, math.floor(a3.width / 2))


@pytest.mark.parametrize(
    ("name", "inches"),
    [("letter", (11, 8.5)), ("tabloid", (17, 11)), ("ARCH C", (24, 18)), ("arch-d", (36, 24))],
)
def test_american_papers_in_inches(name, inches):
    # ASME Y14.1 sizes A and B; US National CAD Standard, ARCH C and D.
    assert papers.paper(name).size == pytest.approx([side * 25.4 for side in inches])


def test_upright_paper_stands():
    assert papers.paper("A4").upright().size == (210, 297)


def test_unknown_paper_is_refused_with_the_known_ones():
    with pytest.raises(papers.PaperError, match=r"found 'A9'; wanted one of letter, tabloid, A4"):
        papers.paper("A9")


def test_scale_label_says_its_ratio():
    for scale in papers.scales("in"):
        inches, foot = scale.label.split(" = ")
        assert foot == "1'-0\""
        assert 12 / sum(Fraction(part) for part in inches.rstrip('"').split("-")) == scale.ratio
    for scale in papers.scales("mm"):
        assert scale.label == f"1:{scale.ratio}"


def test_metric_scales_are_of_the_iso_series():
    # ISO 5455: 1, 2 or 5 times a power of ten.
    for scale in papers.scales("mm"):
        lead = scale.ratio / 10 ** math.floor(math.log10(scale.ratio))
        assert lead in (1, 2, 5)


def test_a_wall_of_32_feet_takes_a_quarter_inch_scale_on_8_inches():
    room = (8 * 25.4, 100)
    assert papers.largest_scale((32 * 12, 100), "in", room).label == '1/4" = 1\'-0"'
    assert papers.largest_scale((32 * 12 + 1, 100), "in", room).label == '3/16" = 1\'-0"'


def test_metric_wall_and_a_wall_too_large_for_every_scale():
    assert papers.largest_scale((10_000, 3_000), "mm", (200, 60)).ratio == 50
    assert papers.largest_scale((10_000, 3_001), "mm", (200, 60)).ratio == 100
    assert papers.largest_scale((100_000, 3_000), "mm", (200, 60)) is None
