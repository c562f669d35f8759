"""Write a recipe down, as from the journal of a drawing."""

from __future__ import annotations

import json
from collections.abc import Iterable

from crossgrain.recipe.recipe import Recipe, Value


def write_recipe(recipe: Recipe, *, remarks: Iterable[str] = ()) -> str:
    """Return a recipe as text; read by :func:`crossgrain.recipe.read_recipe`.

    Args:
        recipe: the recipe.
        remarks: what stands above it, line by line, as comments.

    >>> from crossgrain.recipe import Step
    >>> print(write_recipe(Recipe(steps=(Step(do="allow", given=(("width", ("10mm",)), ("renew", True))),))))
    [[step]]
    do = "allow"
    width = "10mm"
    renew = true
    <BLANKLINE>
    """
    parts = []
    if top := [f"# {remark}" for remark in remarks]:
        parts.append("\n".join(top))
    if recipe.title:
        parts.append(f"title = {_text(recipe.title)}")
    if recipe.variables:
        parts.append("\n".join(["[variables]", *(f"{name} = {_text(text)}" for name, text in recipe.variables)]))
    for step in recipe.steps:
        lines = ["[[step]]", f"do = {_text(step.do)}", *(f"{key} = {_value(value)}" for key, value in step.given)]
        parts.append("\n".join(lines))
    return "\n\n".join(parts) + "\n"


def _value(value: Value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if len(value) == 1:
        return _text(value[0])
    return f"[{', '.join(_text(text) for text in value)}]"


def _text(text: str) -> str:
    """Return a text as TOML writes it: a string of JSON is one of TOML too, but for a few signs no maker types."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
