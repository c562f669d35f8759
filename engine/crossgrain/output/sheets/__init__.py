"""Paper at true scale: pages that are laid over each other, as PDF with layers.

``sheets`` puts it together: ``stacking`` makes blocks of what is cut, ``packing`` lays them out to save pages,
``tiles`` parts that into pages, ``joins`` draws how they come together, ``head`` the first pages; ``content`` and
``document`` write it. Lengths are mm, the plane is that of a drawing, y down.
"""
