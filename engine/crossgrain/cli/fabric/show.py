"""``crossgrain fabric show``: what a bench test says of a cloth."""

from __future__ import annotations

from pathlib import Path

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.fabric import FABRIC_COMMANDS
from crossgrain.cli.fabric.figures import data_of, estimate_text, range_text
from crossgrain.cli.show import say, show_json, show_table
from crossgrain.fabric.bench import Strip
from crossgrain.fabric.cloth import DIRECTIONS, FIRMNESS_AT, Cloth, Direction
from crossgrain.fabric.comparison import unknown_firmness
from crossgrain.files import read_cloth_file, write_text
from crossgrain.language import _, in_figures
from crossgrain.units import format_share, format_tension


@click.command(
    "show",
    cls=Command,
    example="crossgrain fabric show twill.toml --svg twill.svg",
    help=FABRIC_COMMANDS["show"].summary,
)
@click.argument("cloth_file", metavar="CLOTH.toml", type=click.Path(path_type=Path))
@click.option("--svg", metavar="OUT.svg", type=click.Path(path_type=Path), help=_("Write the curve as a drawing."))
@click.option("--overwrite", is_flag=True, help=_("Write over OUT.svg where it is there already."))
@click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON; N/cm and ratios."))
def command(cloth_file: Path, svg: Path | None, overwrite: bool, as_json: bool) -> Exit:
    """Show a cloth."""
    cloth = read_cloth_file(cloth_file)
    if as_json:
        show_json(data_of(_data(cloth)))
    else:
        _show(cloth)
    if svg is not None:
        from crossgrain.output.curve_drawing import curve_drawing

        write_text(svg, curve_drawing([(cloth.name, cloth.cross)]), overwrite=overwrite)
        say(_("Wrote {file}.").format(file=svg))
    if cloth.cross.curve is None:
        say(unknown_firmness(cloth))
    return Exit.FINE


def _tested(cloth: Cloth) -> list[tuple[str, Direction]]:
    return [(name, found) for name in DIRECTIONS if (found := getattr(cloth, name)) is not None]


def _data(cloth: Cloth) -> dict[str, object]:
    return {
        "name": cloth.name,
        "composition": cloth.composition,
        "along_to_cross": cloth.along_to_cross,
        "directions": {name: _direction_data(direction) for name, direction in _tested(cloth)},
    }


def _direction_data(direction: Direction) -> dict[str, object]:
    strip = direction.test if isinstance(direction.test, Strip) else None
    return {
        "stretch": direction.stretch,
        "growth": direction.growth,
        "recovery": strip.recovery if strip else None,
        "narrowing": strip.narrowing if strip else None,
        "readings": [{"tension": tension, "strain": strain} for tension, strain in (strip.points if strip else ())],
        "firmness": [{"strain": strain, "tension": data_of(direction.tension(strain))} for strain in FIRMNESS_AT],
        "learned": list(data_of(direction.learned)),
    }


def _show(cloth: Cloth) -> None:
    tested = _tested(cloth)
    show_table(
        (_("direction"), _("stretch"), _("growth"), _("recovery"), _("narrowing")),
        [
            (name, format_share(one.stretch), _share(one.growth), _share(_of_strip(one, "recovery")),
             "" if _of_strip(one, "narrowing") is None else in_figures(f"{_of_strip(one, 'narrowing'):.2f}"))
            for name, one in tested
        ],
        title=f"{cloth.name} {cloth.composition}".strip(),
    )  # fmt: skip
    show_table(
        (_("direction"), _("under"), _("stretch"), _("read or learned")),
        [
            (name, format_tension(tension), format_share(strain), kind)
            for name, one in tested
            for tension, strain, kind in _points(one)
        ],
        title=_("Stretch at the loads"),
    )
    show_table(
        (_("direction"), _("stretched by"), _("firmness"), _("range")),
        [
            (name, format_share(strain, digits=0), estimate_text(found, format_tension),
             range_text(found, format_tension))
            for name, one in tested
            for strain in FIRMNESS_AT
            for found in (one.tension(strain),)
        ],
        title=_("Firmness (? lies beyond what was tested)"),
    )  # fmt: skip
    if cloth.along_to_cross is not None:
        click.echo(_("It stretches {ratio:.2f} as far along as across.").format(ratio=cloth.along_to_cross))


def _points(direction: Direction) -> list[tuple[float, float, str]]:
    read = direction.test.points if isinstance(direction.test, Strip) else ()
    return [
        *((tension, strain, _("read")) for tension, strain in read),
        *((one.tension, one.strain, _("learned at the {level}").format(level=one.level)) for one in direction.learned),
    ]


def _of_strip(direction: Direction, name: str) -> float | None:
    found: float | None = getattr(direction.test, name) if isinstance(direction.test, Strip) else None
    return found


def _share(ratio: float | None) -> str:
    return "" if ratio is None else format_share(ratio)
