"""``crossgrain fabric compare``: two cloths side by side at each level of a body."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.fabric import FABRIC_COMMANDS
from crossgrain.cli.fabric.amounts import GIRTH, LENGTH, PRESSURE
from crossgrain.cli.fabric.figures import data_of, estimate_text
from crossgrain.cli.fabric.levels import levels_of
from crossgrain.cli.fabric.matching import matching
from crossgrain.cli.show import say, say_findings, show_json, show_table
from crossgrain.fabric.body import Body
from crossgrain.fabric.comparison import Level, Row, compare, unknown_firmness, verdict_words
from crossgrain.fabric.pressure import BANDS, BANDS_SOURCE, ESTIMATE, band_of, caution
from crossgrain.files import read_body_file, read_cloth_file, write_text
from crossgrain.language import _, level_word
from crossgrain.units import format_length, format_pressure, format_share, format_tension

if TYPE_CHECKING:
    from crossgrain.model.outcome import Finding

STRAINS = (0.02, 0.05, 0.10, 0.15, 0.20)
"""Where no body is given, cloths are compared at these."""

_FILE = click.Path(path_type=Path)


@click.command(
    "compare",
    cls=Command,
    example="crossgrain fabric compare drafted-for.toml new.toml --body body.toml --pattern trousers.svg",
    help=FABRIC_COMMANDS["compare"].summary
    + "\n\n"
    + _(
        "At each level: the body, the pieces, how they are stretched, the tension and the estimated pressure, in the "
        "cloth it was drafted for and in the new one; the girth at which the new cloth pulls as hard; what that is at "
        "each side seam; and a verdict. Without --body, the two are compared at a few stretches."
    ),
)
@click.argument("drafted_for", metavar="DRAFTED.toml", type=_FILE)
@click.argument("new", metavar="NEW.toml", type=_FILE)
@click.option("--body", metavar="BODY.toml", type=_FILE, help=_("The body that is to wear it."))
@click.option("--pattern", metavar="IN.svg", type=_FILE, help=_("The drawing whose pieces give the girths."))
@click.option(
    "--piece",
    "pieces",
    metavar="ID",
    multiple=True,
    help=_("A piece of the drawing that goes round the body, by its id or its name; may be given again."),
)
@click.option("--scale", type=LENGTH, help=_("The length of the drawing's user unit, where it does not say it."))
@click.option("--girth", "girths", type=GIRTH, multiple=True, help=_("A girth of the pieces: hip=96cm."))
@click.option("--match", type=click.Choice(["tension", "pressure", "strain"]), help=_("What is to be the same."))
@click.option("--pressure", type=PRESSURE, help=_("With --match pressure: the pressure wanted: 1.0kPa."))
@click.option("--html", metavar="OUT.html", type=_FILE, help=_("Write a page with both curves and a bar per level."))
@click.option("--overwrite", is_flag=True, help=_("Write over OUT.html where it is there already."))
@click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON; mm, N/cm, kPa and ratios."))
def command(
    drafted_for: Path,
    new: Path,
    body: Path | None,
    pattern: Path | None,
    pieces: tuple[str, ...],
    scale: float | None,
    girths: tuple[tuple[str, float], ...],
    match: str | None,
    pressure: float | None,
    html: Path | None,
    overwrite: bool,
    as_json: bool,
) -> Exit:
    """Compare two cloths."""
    old_cloth, new_cloth = read_cloth_file(drafted_for), read_cloth_file(new)
    wanted = matching(match, pressure)
    wearer: Body | None = None
    missing: tuple[Finding, ...] = ()
    if body is None:
        if pattern is not None or girths:
            raise click.UsageError(_("A girth says nothing without the body in it: add --body BODY.toml."))
        levels: tuple[Level, ...] = tuple(
            Level(name=format_share(strain, digits=0), body=100.0 * (1.0 + strain), piece=100.0) for strain in STRAINS
        )
    else:
        wearer = read_body_file(body)
        levels, missing = levels_of(wearer, girths, pattern, scale, pieces)
    rows = compare(old_cloth, new_cloth, levels, wanted)
    findings = (*missing, *(findings_of(rows) if wearer else ()))
    if as_json:
        data = [asdict(row) for row in rows]
        show_json(
            data_of(
                {
                    "drafted_for": old_cloth.name,
                    "new": new_cloth.name,
                    "match": wanted.match,
                    "body": wearer.name if wearer else None,
                    "levels" if wearer else "strains": data if wearer else [_ratio_data(row) for row in rows],
                    "pressure_bands": [asdict(band) for band in BANDS],
                    "pressure_bands_source": BANDS_SOURCE,
                    "estimate": ESTIMATE,
                    "findings": [asdict(finding) for finding in findings],
                }
            )
        )
    elif wearer is None:
        _show_ratios(rows, old_cloth.name, new_cloth.name)
    else:
        show_rows(rows, old_cloth.name, new_cloth.name)
    if html is not None:
        from crossgrain.output.cloth_page import comparison_page

        page = comparison_page(old_cloth, new_cloth, rows if wearer else (), body=wearer, findings=findings)
        write_text(html, page, overwrite=overwrite)
        say(_("Wrote {file}.").format(file=html))
    say(ESTIMATE)
    if wearer is None:
        for cloth in (old_cloth, new_cloth):
            if cloth.cross.curve is None:
                say(unknown_firmness(cloth))
    say_findings(findings)
    return Exit.FINDINGS if findings else Exit.FINE


def findings_of(rows: Sequence[Row]) -> list[Finding]:
    """Return what to look at at each level, cautions among it."""
    said: list[tuple[str, str, bool]] = []
    for row in rows:
        matched, standing = (caution(worn.pressure.worst, row.level.name) for worn in (row.matched, row.as_it_stands))
        if matched or standing:
            said.append(("", matched or _("As it stands: {caution}").format(caution=standing), True))
        doubtful = row.verdict in ("not suitable", "cannot be told")
        said += [
            (level_word(row.level.name), reason, doubtful)
            for reason in row.reasons
            if reason != matched and (doubtful or row.matched.strain > 0.0)
        ]
    if not said:
        return []  # without a finding nothing of the pieces, and so of the geometry, is loaded
    from crossgrain.model.outcome import Finding

    return [
        Finding(piece=level, message=message, severity="caution" if hurts else "note") for level, message, hurts in said
    ]


def show_rows(rows: Sequence[Row], old: str, new: str) -> None:
    """Print the comparison as two tables."""
    show_table(
        (_("level"), _("body"), _("pieces"), _("stretched"), _("tension"), _("pressure"), _("new: tension"),
         _("new: pressure")),
        [
            (level_word(row.level.name), format_length(row.level.body), format_length(row.level.piece),
             format_share(row.drafted.strain), estimate_text(row.drafted.tension, format_tension),
             estimate_text(row.drafted.pressure, format_pressure),
             estimate_text(row.as_it_stands.tension, format_tension),
             estimate_text(row.as_it_stands.pressure, format_pressure))
            for row in rows
        ],
        title=_("As drafted, in {old}; and in {new} as it stands (estimates; ? lies beyond what was tested)").format(
            old=old, new=new
        ),
    )  # fmt: skip
    show_table(
        (_("level"), _("girth"), _("change"), _("inside, each side seam"), _("stretched"), _("of its stretch"),
         _("pressure"), _("verdict")),
        [
            (level_word(row.level.name), estimate_text(row.girth, format_length),
             estimate_text(row.change, format_length), estimate_text(row.per_seam, format_length),
             format_share(row.matched.strain),
             format_share(row.matched.used, digits=0), band_text(row), verdict_words(row.verdict))
            for row in rows
        ],
        title=_("In {new}").format(new=new),
    )  # fmt: skip


def band_text(row: Row) -> str:
    """Write the pressure in the new cloth with its band."""
    worn = row.matched.pressure
    text = estimate_text(worn, format_pressure)
    return f"{text}, {band_of(worn.middle).words}" if worn.middle > 0.0 else text


def _ratio_data(row: Row) -> dict[str, object]:
    return {
        "strain": row.level.strain,
        "tension": row.drafted.tension,
        "strain_new": row.girth.mapped(lambda girth: row.level.body / girth - 1.0),
        "girth_ratio": row.girth.mapped(lambda girth: girth / row.level.piece),
    }


def _show_ratios(rows: Sequence[Row], old: str, new: str) -> None:
    show_table(
        (_("stretched"), _("tension"), _("new: stretched"), _("girth")),
        [
            (level_word(row.level.name), estimate_text(row.drafted.tension, format_tension),
             estimate_text(row.girth.mapped(_to_strain(row)), format_share),
             estimate_text(row.change.mapped(lambda change: change / 100.0), format_share))
            for row in rows
        ],
        title=_("{old}, and where {new} pulls as hard").format(old=old, new=new),
    )  # fmt: skip


def _to_strain(row: Row) -> Callable[[float], float]:
    return lambda girth: row.level.body / girth - 1.0
