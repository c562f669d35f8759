"""In a window of the real editor: the dialog opens, Apply does what the command does, and one undo takes it back."""

from __future__ import annotations

import re
import shutil

import pytest
from lxml import etree

from extension.actions import WORN
from extension.conftest import EXTENSION
from extension.editor import THREE_NODES, act, by_command, in_a_window, needs_window, paths

pytestmark = needs_window

INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"
STEPS = """
app select-by-id "[<'front'>]"
sleep 0.3
{select}
open_dialog crossgrain.{action} "{title}"
apply
close_dialog
undo
app export-filename "[<'$DRAWING.undone.svg'>]"
app export-do
redo
save
"""


@pytest.mark.parametrize(
    ("action", "name", "words"),
    [
        (
            "reduce",
            "bare",
            ("reduce", "--by", "8 %", "--show", "notes", "--show", "labels", "--show", "before"),
        ),
        ("allow", "marked", ("allow", "--width", "10 mm", "--show", "notes", "--show", "labels")),
    ],
)
def test_apply_and_undo(tmp_path, drawing, action, name, words):
    source = drawing(name)
    was = paths(source)
    wanted = paths(by_command(tmp_path, source, *words, "--piece", "front"))
    in_a_window(tmp_path, source, STEPS.format(action=action, title=title_of(action), select=""))
    after, undone = paths(source), paths(source.with_name(source.name + ".undone.svg"))
    assert {id: after.get(id) for id in wanted} == wanted != was
    assert {id: undone.get(id) for id in was} == was
    assert not (set(wanted) - set(was)) & set(undone)


def test_the_selected_nodes_are_the_corners(tmp_path, drawing):
    """A line that hardly turns at its fifth node: with all five selected, it is a corner too."""
    source = drawing("bare")
    text = source.read_text(encoding="utf-8").replace("L 125,330 H 35 Z", "L 134,144 L 125,330 H 35 Z")
    source.write_text(text, encoding="utf-8")
    first = tmp_path / "first.svg"
    shutil.copy(source, first)
    names = "waist upper lower hem inseam"
    in_a_window(
        tmp_path,
        source,
        STEPS.format(
            action="name-edges",
            title=title_of("name-edges"),
            select="""
window tool-switch "[<'Node'>]"
sleep 0.5
main=$(xdotool search --onlyvisible --name "Inkscape$" | tail -1)
xdotool windowactivate --sync $main key ctrl+a
sleep 0.5
""",
        ),
        parameters={"crossgrain.name-edges.edges": names, "crossgrain.name-edges.name": "front leg"},
    )
    corners = [word for node in range(5) for word in ("--corner", f"node {node}")]
    words = ("mark", "--name", "front leg", "--edges", names, *corners, "--show", "notes", "--show", "labels")
    wanted = by_command(tmp_path, first, *words, "--piece", "front")
    undone = source.with_name(source.name + ".undone.svg")
    assert edges_of(source) == edges_of(wanted) != ""
    assert paths(source)["front"] == paths(first)["front"]
    assert (edges_of(undone), paths(undone)["front"]) == ("", paths(first)["front"])


def edges_of(drawing):
    found = re.search(r'crossgrain:edges="([^"]*)"', drawing.read_text(encoding="utf-8"))
    return found[1] if found else ""


TAKING_IN = (
    THREE_NODES
    + """
picture take-in-nodes
open_dialog crossgrain.take-in "{title}"
picture take-in-dialog
apply
close_dialog
app select-clear; picture take-in-done
snap done
undo
snap undone
"""
)


def test_taking_in_at_three_selected_nodes(tmp_path, drawing):
    """A band is drawn round the waist corner, the hip and the knee: nodes 1, 2 and 3 of the front's side."""
    source = drawing("trousers")
    was = paths(source)
    assert in_a_window(tmp_path, source, TAKING_IN.format(title=title_of("take-in"))) == []
    shown = ("--show", "notes", "--show", "labels", "--show", "before")
    words = ("take-in", "--nodes", "1 2 3 of front-right", "--by", "10 mm", *shown)
    wanted = paths(by_command(tmp_path, source, *words))
    done, undone = paths(tmp_path / "done.svg"), paths(tmp_path / "undone.svg")
    for id in ("front-left", "front-right", "back"):
        assert done[id] == wanted[id] != was[id] == undone[id]


PREVIEW = """
on front
open_dialog crossgrain.reduce "{title}"
keys $dialog Tab Tab Tab Tab Tab Tab space
becomes ticked "{by_8}"; picture preview; quiet ticked
keys $dialog shift+Tab shift+Tab shift+Tab shift+Tab shift+Tab; xdotool type --delay 100 "12"
becomes typed "{by_12}"; picture preview-typed; quiet typed
xdotool type " %"; sleep 1; becomes unit "{by_12}"; quiet unit
keys $dialog Tab Tab Tab Tab Tab space
becomes unticked "{was}"; quiet unticked
keys $dialog space
becomes again "{by_12}"; quiet again
close_dialog
becomes closed "{was}"; picture preview-closed
"""


def test_live_preview_shows_each_change_and_leaves_nothing_behind(tmp_path, drawing):
    """A maker may pause after the figure, before the percent sign: nothing is said then either.

    Between the first field and the box “Live preview” lie five presses of the tabulator.
    """
    source = drawing("bare")
    was = paths(source)
    shown = ("--show", "notes", "--show", "labels", "--show", "before", "--piece", "front")
    by_8, by_12 = (paths(by_command(tmp_path, source, "reduce", "--by", by, *shown)) for by in ("8 %", "12 %"))
    lines = {"was": was["front"], "by_8": by_8["front"], "by_12": by_12["front"]}
    assert in_a_window(tmp_path, source, PREVIEW.format(title=title_of("reduce"), **lines)) == []
    steps = {"ticked": by_8, "typed": by_12, "unit": by_12, "unticked": was, "again": by_12, "closed": was}
    seen = {name: paths(tmp_path / f"{name}.svg") for name in steps}
    for name, wanted in steps.items():
        assert {id: seen[name].get(id) for id in wanted} == wanted, name
    for name in ("unticked", "closed"):
        text = (tmp_path / f"{name}.svg").read_text(encoding="utf-8")
        assert "crossgrain-" not in text, "a layer of ours stayed"
        assert set(seen[name]) == set(was)


LAYERS = """
on front
open_dialog crossgrain.reduce "{reduce}"
apply
close_dialog
snap reduced
on crossgrain-labels
app object-set-property "[<'display,none'>]"
app select-clear; picture labels-off
on front
open_dialog crossgrain.allow "{allow}"
apply
close_dialog
on crossgrain-before
app object-set-property "[<'display,none'>]"
app select-clear; picture both-off
save
"""


def test_before_stays_underneath_and_both_layers_can_be_switched_off(tmp_path, drawing):
    source = drawing("marked")
    was = paths(source)
    in_a_window(tmp_path, source, LAYERS.format(reduce=title_of("reduce"), allow=title_of("allow")))
    reduced, saved = (etree.parse(path) for path in (tmp_path / "reduced.svg", source))
    layers = {layer.get("id"): layer for layer in reduced.getroot() if layer.get(f"{INKSCAPE}groupmode") == "layer"}
    assert layers["crossgrain-labels"].get("style") in (None, "display:inline")
    (before,) = layers["crossgrain-before"].iter("{*}path")
    assert "stroke-dasharray:3,2" in before.get("style").replace(" ", "")
    assert float(re.search(r"stroke-width:([0-9.]+)", before.get("style"))[1]) < 0.5
    # The drawing's group lies at 10, 20; the layer's coordinates are those of the page.
    x, y = numbers(was["front"])[:2]
    assert numbers(before.get("d"))[:2] == pytest.approx([x + 10.0, y + 20.0])
    order = [child.get("id") for child in reduced.getroot()]
    assert order.index("crossgrain-before") < order.index("layer") < order.index("crossgrain-labels")
    said = [text for text in layers["crossgrain-labels"].itertext() if text.strip()]
    assert any("→" in text for text in said)
    for name in ("labels", "before"):
        (layer,) = saved.xpath(f"//*[@id='crossgrain-{name}']")
        assert "display:none" in layer.get("style"), f"{name} came back by itself"
    assert paths(source)["front"] == paths(tmp_path / "reduced.svg")["front"]
    assert len(paths(source)) > len(paths(tmp_path / "reduced.svg")), "no cut line was drawn"


CHOOSING = """
on front-left
open_dialog crossgrain.reduce-for-cloth "{title}"
picture cloth-dialog
keys $dialog Tab Tab Tab Tab space
picker=$(xdotool search --sync --onlyvisible --name "^Select existing file" | tail -1)
xdotool windowactivate --sync $picker; sleep 0.5; picture cloth-picker
xdotool type "cloth-firmer"; sleep 0.5; keys $picker Return
settle; picture cloth-chosen
close_dialog
quit
"""


def test_a_cloth_is_picked_among_the_samples_and_the_choice_is_remembered(tmp_path, drawing):
    """The picker begins in the folder of the samples; the editor is left, and does by itself what was chosen."""
    source = drawing("trousers")
    assert in_a_window(tmp_path, source, CHOOSING.format(title=title_of("reduce-for-cloth"))) == []
    profile = tmp_path / "profil é"
    samples = profile / "extensions" / "crossgrain" / "samples"
    kept = etree.parse(profile / "preferences.xml").xpath("//*[@id='extensions']")[0]
    assert kept.get("crossgrain.reduce-for-cloth.fabric") == str(samples / "cloth-firmer.toml")
    cloths = [word for option, name in (("--fabric", "cloth-firmer"), ("--drafted-for", "cloth-drafted-for"),
              ("--body", "body-size-10")) for word in (option, str(samples / f"{name}.toml"))]  # fmt: skip
    worn = [word for id in WORN for word in ("--piece", id)]
    shown = ("--show", "notes", "--show", "labels", "--show", "before")
    wanted = paths(by_command(tmp_path, source, "reduce", *cloths, *shown, *worn))
    got = paths(act(tmp_path, source, "reduce-for-cloth", WORN, {}, profile=profile))
    assert {id: got.get(id) for id in wanted} == wanted
    assert got["front-left"] != paths(source)["front-left"]


REFUSED = """
engine="$INKSCAPE_PROFILE_DIR/extensions/crossgrain/crossgrain-engine.txt"
on front
cp "$engine" "$FOLDER/engine.txt"
echo /nowhere/python > "$engine"
app crossgrain.reduce.noprefs & complaint broken
printf '#!/bin/sh\\nkill -SEGV $$\\n' > "$FOLDER/dies"; chmod +x "$FOLDER/dies"; echo "$FOLDER/dies" > "$engine"
app crossgrain.reduce.noprefs & complaint died
cp "$FOLDER/engine.txt" "$engine"
on open
app crossgrain.reduce.noprefs & complaint open
app select-clear
app crossgrain.reduce.noprefs & complaint nothing
snap refused
on front
app crossgrain.reduce.noprefs; settle
snap changed
"""


def test_a_sentence_comes_up_and_the_drawing_stays(tmp_path, drawing):
    """What the sentences say is held in test_scripts.py; after them the editor goes on working."""
    source = drawing("bare")
    was = paths(source)
    assert in_a_window(tmp_path, source, REFUSED) == ["broken", "died", "open", "nothing"]
    refused = tmp_path / "refused.svg"
    assert paths(refused) == was
    assert "crossgrain" not in refused.read_text(encoding="utf-8")
    assert paths(tmp_path / "changed.svg")["front"] != was["front"]


def numbers(text):
    return [float(number) for number in re.findall(r"-?[0-9.]+", text)]


def title_of(action):
    """Return what a dialog is called: the name of its entry."""
    entry = EXTENSION / f"crossgrain_{action.replace('-', '_')}.inx"
    return etree.parse(entry).findtext("{*}name")
