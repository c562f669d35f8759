"""The cut list: pieces, materials and notions in tables, for the terminal, a page, and programs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict
from html import escape
from typing import Any, Final

from crossgrain.language import _, in_figures
from crossgrain.model.cutting.cut_plan import ClothNeed, CutPlan, CutRow, Material, Notion
from crossgrain.model.outcome import Finding
from crossgrain.output.cut_picture import cut_picture
from crossgrain.output.text_table import TextTable, table_page
from crossgrain.units import format_area, format_both, format_length, format_share

_SQUARE_METRE: Final = 1e6


def cut_tables(plan: CutPlan) -> tuple[TextTable, ...]:
    """Set a cut list in tables.

    Args:
        plan: what is cut.

    Returns:
        The pieces, what is needed of each material, and the notions. What is estimated is said to be.
    """
    return (
        TextTable(
            title=_("Pieces to cut"),
            heads=(_("piece"), _("from"), _("cut"), _("how"), _("area of one"), _("area of all"), _("allowance")),
            rows=tuple(
                (row.piece, material_name(row.material), str(row.count), _how(row), format_area(row.area),
                 format_area(row.total), _("included") if row.has_allowance else _("none"))
                for row in plan.rows
            ),
        ),
        TextTable(
            title=_("Needed, an estimate by area; lay the pieces out before you buy"),
            heads=(_("material"), _("width"), _("area of all pieces"), _("share that is used"), _("length")),
            rows=tuple(_need(need) for need in plan.needs),
        ),
        TextTable(
            title=_("Notions"),
            heads=(_("what"), _("pieces"), _("each"), _("together"), _("piece"), _("edge")),
            rows=tuple(_notion(notion) for notion in plan.notions),
        ),
    )  # fmt: skip


def cut_page(plan: CutPlan, findings: Sequence[Finding] = ()) -> str:
    """Write a cut list as a page to print, with the pieces as they are laid out.

    Args:
        plan: what is cut.
        findings: what to look at.

    Returns:
        A whole HTML document that asks nothing of the network.
    """
    title = _("Cut list of {garment}").format(garment=plan.garment) if plan.garment else _("Cut list")
    picture = [f"<h2>{escape(_('As they are laid out'))}</h2>", cut_picture(plan)] if plan.pieces else []
    return table_page(title, cut_tables(plan), findings, after=picture)


def cut_data(plan: CutPlan) -> dict[str, Any]:
    """Return a cut list for programs: lengths in mm, areas in mm².

    Where each piece lies on the sheet is told by its map from the drawing, in the order of SVG's ``matrix()``.
    """
    return {
        "garment": plan.garment,
        "sheet": {"width": plan.width, "height": plan.height},
        "rows": [{**asdict(row), "total": row.total} for row in plan.rows],
        "needs": [{**asdict(need), "is_estimate": True} for need in plan.needs],
        "notions": [{**asdict(notion), "total": notion.total} for notion in plan.notions],
        "laid_out": [
            {
                "id": piece.piece.id,
                "piece": piece.piece.label,
                "number": piece.number,
                "copies": piece.copies,
                "material": piece.material,
                "mirrored": piece.mirrored,
                "opened": piece.opened,
                "is_template": piece.is_template,
                "matrix": [piece.move.a, piece.move.b, piece.move.c, piece.move.d, piece.move.e, piece.move.f],
            }
            for piece in plan.pieces
        ],
    }


def material_name(material: Material) -> str:
    """Return what a material is called in the reader's language."""
    return {"cloth": _("cloth"), "stabiliser": _("stabiliser")}[material]


def _how(row: CutRow) -> str:
    on_fold = _("on the fold: {edge}").format(edge=row.on_fold) if row.on_fold else ""
    return ", ".join(part for part in (_("mirrored") if row.mirrored else "", on_fold) if part)


def _need(need: ClothNeed) -> tuple[str, ...]:
    return (
        material_name(need.material),
        format_length(need.width, digits=0),
        _square_metres(need.area),
        format_share(need.efficiency, digits=0),
        _("about {length}").format(length=format_length(10.0 * math.ceil(need.length / 10.0), "cm", digits=0)),
    )


def _notion(notion: Notion) -> tuple[str, ...]:
    each = _("across {diameter}") if notion.kind == "button" else "{diameter}"
    return (
        notion.what,
        str(notion.count),
        each.format(diameter=format_both(notion.each)),
        "" if notion.total is None or notion.count == 1 else format_length(notion.total),
        notion.piece,
        notion.edge,
    )


def _square_metres(mm2: float) -> str:
    return in_figures(f"{mm2 / _SQUARE_METRE:.2f}") + " m²"
