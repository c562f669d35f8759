"""Plane geometry of lines and cubics. Nothing here knows of sewing.

Conventions, stated here once:

* Lengths are millimetres, angles radians. The plane is that of the drawing: x to the right, **y down**.
* **Winding** is positive when the shoelace sum is: clockwise as seen on the page.
* The **normal** of a line with unit tangent ``(tx, ty)`` is ``(ty, -tx)``: to the left of the direction of
  travel as seen on the page, and outwards on an outline of positive winding.
* A **parallel** at distance ``d`` lies at ``C + d n``: a positive distance is outwards on positive winding.
* **Curvature** is ``(x'y'' - y'x'') / |C'|³``: positive where the line turns clockwise as seen on the page, so
  positive on a convex outline of positive winding. The parallel's speed is that of the line times ``1 + κd``.
* A **turn** at a corner has the same sign as curvature.
"""
