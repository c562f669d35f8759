"""A recipe: what is done to drawings, step by step, as a text a maker can read.

::

    # Recut the slim trousers in the softer cloth.
    title = "Slim trousers, recut"

    [variables]
    cloth = "cloth-softer.toml"

    [[step]]
    do = "reduce"
    fabric = "{cloth}"
    drafted-for = "cloth-drafted-for.toml"
    body = "body-size-10.toml"

    [[step]]
    do = "take-in"
    seam = "side"
    at = ["waist=0mm", "20%=12mm", "hem=6mm"]

    [[step]]
    include = "cut-lines.toml"

What a step does is named as the command is, and so is each of its amounts; an amount that may be given again is a list,
one that is only said or not is ``true``. Comments are the maker's own and mean nothing.
"""

from crossgrain.recipe.reading import read_recipe
from crossgrain.recipe.recipe import Recipe, Step
from crossgrain.recipe.writing import write_recipe

__all__ = ["Recipe", "Step", "read_recipe", "write_recipe"]
