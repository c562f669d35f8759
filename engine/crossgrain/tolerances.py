"""Every epsilon of the engine, each with its reason. Lengths in mm, angles in radians."""

from __future__ import annotations

import math
from typing import Final

ACCURACY: Final = 0.01
"""Default accuracy of a drawn curve. A fine pen draws 0.1 mm; ten successive operations stay under it."""

COINCIDENT: Final = 1e-6
"""Points nearer than this are one point. The editor writes 8 digits, so on a 10 m drawing the last is 1e-4 of
a user unit at worst and 1e-6 on a piece of trousers; and a millionth of a millimetre is no cloth."""

CLOSING_GAP: Final = 0.05
"""An outline whose ends are nearer than this was meant to be closed: half the width of a fine pen line."""

SMOOTH_TURN: Final = math.radians(0.5)
"""A turn below this is a smooth join. At 0.5° a 30 mm allowance gapes by a quarter of a millimetre; less is
rounding left by an editor that keeps eight digits."""

CORNER_TURN: Final = math.radians(25.0)
"""A turn from here on is a corner of a piece. Traced curves turn by up to some 20° at a node."""

CORNER_REACH: Final = 8.0
"""How far along the line on either side the direction at a possible corner is taken. Paper traced by hand
jitters by some 0.3 mm, which over 8 mm is 2°, small against CORNER_TURN."""

ROUND_OFF: Final = 1e-9
"""What floating point may leave of a zero after the arithmetic of one operation on metre-sized pieces."""

ARC_ACCURACY: Final = 1e-4
"""How near an elliptical arc is followed by its cubics: a hundredth of ACCURACY, so that it never adds up."""

FIT_DAMPING: Final = 1e-9
"""Keeps the 2 × 2 system of a fit regular on circular arcs, where both handles do nearly the same, and speeds from
being divided by when they vanish at a cusp; far below any handle or speed that matters."""

WEAK_CORNER_TURN: Final = math.radians(12.0)
"""A corner known from before is still looked for when moving its nodes has flattened it to this: half of
CORNER_TURN."""

SMOOTH_CORNER_SNAP: Final = 2.0
"""A smooth corner placed by its share goes to a node this near along the line. Makers set nodes some 20 mm apart, so it
is the node that was meant; and rounding, scaling and slight edits move a share by less than this."""

UNEDITED_CORNER: Final = 0.002
"""Corners that lie within this of where they stood, mm, all of them and along the line too, are those of a line nobody
has touched: twice what the rounding of the text that notes them comes to."""

UNMOVED_CORNER: Final = 0.5
"""Corners that lie nearer than this to where they stood have not been moved: far above the rounding of an editor, far
below a wanted move."""

LEANING: Final = 1e-6
"""A distance that changes by less than this per mm leaves its parallel running as its line does: over a step of a
millimetre that is COINCIDENT."""

PATH_TEXT: Final = 1e-6
"""What a number written into a drawing may be rounded by: COINCIDENT, so that points which were one stay one."""

PATH_ROUND_OFF: Final = 3e-7
"""The rounding that path data carries, as a share of its coordinates. Editors write eight digits, that is half of
1e-7; the last point of relative data gathers a few of them. A closing line shorter than that was never drawn."""

LENGTH_ACCURACY: Final = 1e-10
"""How near a length is found: a thousand segments added up stay well under COINCIDENT, and it costs nothing more."""

STANDSTILL: Final = 1e-9
"""A speed below this share of the segment's size has vanished: a cusp, or an end whose handle is drawn in."""

SPOT_REACH: Final = 10.0
"""A point given by a maker is on the outline when it lies this near: a finger's width
on the screen at full size."""

TOUCH_REACH: Final = 0.05
"""Lines that touch stay within COINCIDENT of each other for some 0.03 mm where their curvatures differ by 1/100 mm: so
this far from a meeting it shows on which side each of them lies, and meetings nearer than this at a touch are one."""

TOUCH_LENGTH: Final = 1.0
"""Lines that stay within COINCIDENT of each other for longer than this run along each other: no touch is that long
unless their curvatures agree to 1e-5 / mm, a radius of 100 m."""

TRIM_PROBE: Final = 0.004
"""How far beside a stretch of a raw parallel it is asked what lies there: under ACCURACY, so that loops which matter
are seen, and far above COINCIDENT, so that rounding does not answer."""

AGREEING_TURN: Final = math.radians(0.01)
"""Directions nearer than this are one: ten times what eight digits leave on the chord of a 50 mm edge, and a fifth of a
millimetre over a metre."""

SMOOTH_KINK: Final = math.radians(0.1)
"""A bend in a seam below this is none: over a hand's breadth it stands off by less than a thread."""

FLATTENED: Final = 1e-14
"""An affine map whose determinant is this share of its parts is flat to rounding, and has no way back."""

PARAMETER_SETTLED: Final = 1e-13
"""Newton's method has ended when it moves a parameter by less: on a segment a metre long that is a ten thousandth of
COINCIDENT, and the next step would be the square of it."""

FOOT_FIRST: Final = 1e-12
"""A foot that is farther by no more than this, mm, is taken before the end of a stretch beside it: rounding makes so
much of distances on a piece of a metre, and a hair beside the foot the line is no longer square."""

BESIDE_STANDSTILL: Final = 1e-6
"""How far beside a standstill, in the parameter, a curve's direction and bend are taken: far enough for eight digits of
them, and nearer than any cusp whose excursion from there is above COINCIDENT."""

LEAST_DIVISOR: Final = 1e-300
"""Stands in for zero where a quotient is thrown away in that case, so that nothing is divided by it."""

LEVEL_SLOPE: Final = 1e-9
"""A direction that falls by less than this share of its size lies level."""

NEWTON_ANGLE: Final = 5e-4
"""Lines that meet at less than this angle, in radians, are left to the general search: Newton's method would wander."""

COARSE_SEARCH: Final = 1e-4
"""How near the polyline that picks the candidates of a search follows the path, as a share of the path's size. It
changes how long the search takes, not what it finds."""

WIDTH_CHAIN: Final = 2e-4
"""How near an outline is followed to take widths, mm: a hold's share of it is far below ACCURACY."""

LEAST_SHARE: Final = 1e-6
"""No part of a segment shorter than this share of its parameter is cut off: of a metre that is a thousandth of a
millimetre, which is no cloth."""

QUARTER_ARC_ERROR: Final = 2.7e-4
"""How far one cubic strays from a quarter of a circle, as a share of the radius: the best there is with exact ends."""

GIRTH_REACHED: Final = 0.1
"""A girth that was asked is reached within this: a tape is read to half a millimetre at best."""

WHOLE_GARMENT: Final = 0.6
"""Pieces whose girth is less than this share of the body's do not go round it: a front or a back alone is about half of
a garment, and clothes that are a third smaller than the body are not to be had on."""

SEAM_MATCH: Final = 0.5
"""Edges that are sewn together agree within this: a third of what makers accept, so that two errors do not add up."""

ON_CREASE: Final = 0.01
"""Points nearer than this to a crease of a map lie on it, mm: makers set their nodes where a hold or a dart begins."""

BESIDE_END: Final = 1e-6
"""How near a stretch's end its slope is looked at, as a share of the stretch. A line that stands still at the end gets
no farther on so short a way than a millionth of a millionth of the stretch."""

LENGTH_REACHED: Final = 1e-7
"""A length that a seam is brought to is reached within this: a tenth of COINCIDENT, so that both sides' errors together
stay under it."""

PIN_REACHED: Final = 1e-10
"""How near a line is led through a point it must pass: far under COINCIDENT, so that moving back and forth adds up to
nothing."""

SINGULAR: Final = 1e-12
"""Directions in which a step of handles does less than this share of what it does in the others do nothing: two pins
that lie on one another ask for the same."""

GRADED_BACK: Final = 1e-11
"""Grading settles to this, so that graded there and back again a piece is itself far within COINCIDENT."""

ON_NODE: Final = 0.05
"""A named point nearer than this to a node, mm, is the node: a line is drawn through nodes, and no pen is finer."""

LENGTH_TEXT: Final = 1e-4
"""What a length written among the facts of a piece may be rounded by: a ten thousandth of a millimetre is no cloth."""

TRACED: Final = 1e-3
"""An edge that lies nearer than this to what it traces is left as it is drawn, mm: ten times what is left of it where a
draft is written to four decimals, and a tenth of ACCURACY."""

SHARES_WHOLE: Final = 1e-4
"""Shares add up to the whole within a hundredth of a percent: thirds may be written as 33.33 %."""

SPREAD_REACHED: Final = 1e-4
"""Rules made from bodies reach girths along edges, and seams that match, within this, mm: as they are written."""

BODY_REACHED: Final = 0.005
"""A girth along an edge is graded to a body within this, mm: a tenth of what the sum law allows."""

OUTER_LENGTH: Final = 1e-4
"""A length along a line that is moved outwards has been found when a round of the search changes it by less, mm: a
hundredth of ACCURACY, and amounts change by some tenth of that along it."""
