"""How near two figures must be to count as one.

All are far below what a tape, a plotter or an eye can tell, and far above what sums of decimal fractions are
off in the last places of a computer's numbers. ``layout/solver/score.py`` has a scale of its own, whose steps
the solver's search is built on.
"""

from __future__ import annotations

#: Points, heights and places nearer than this are one [job units]; times a length or a product of two where
#: figures are large or small of their kind: a millionth of it.
SAME = 1e-6
#: What the rounding of one or two sums can make of a figure [its own unit, or share of it]: taken off before
#: a figure is rounded up or down, left free where one length must go into another.
ROUNDING = 1e-9
#: How far beside a corner a look is taken to see what lies there, and how far a corner lies off the line of
#: its neighbours at most to be none [share of the height or the size]: beyond ``ROUNDING``, within ``SAME``.
BESIDE = 1e-7
#: Determinants smaller than this are those of parallel lines, and spans of parameters smaller than this are
#: none.
PARALLEL = 1e-12
