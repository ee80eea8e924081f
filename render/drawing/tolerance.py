"""How near two figures of a drawing must be to count as one.

Both are far below what a tape, a plotter or an eye can tell, and far above what sums of decimal fractions are
off in the last places of a computer's numbers.
"""

from __future__ import annotations

#: Heights and places nearer than this are one [job units, or mm of paper]. Times a length where the figures
#: are large or small of their kind: a millionth of it.
SAME = 1e-6
#: What the rounding of one or two sums can make of a figure [its own unit, or share of it]: taken off before
#: a figure is rounded up or down, left free where one length must go into another, and
#: put for a length of zero that is divided by.
ROUNDING = 1e-9
