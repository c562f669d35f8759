"""What is written beside the pieces: each piece's own, and on the first what is about the whole pattern."""

from __future__ import annotations

from crossgrain.kernel.path import Path
from crossgrain.model import Change, Edge, Finding, Pattern, Piece
from crossgrain.output.labels import finding_labels, piece_labels


def band(id):
    line = Path(Path.polygon([(0.0, 0.0), (300.0, 0.0), (300.0, 60.0)]).segments)
    return Piece(id=id, name=f"{id} leg", edges=(Edge(name="waist", line=line),))


PATTERN = Pattern(pieces=(band("front"), band("back")))


def test_a_change_of_the_whole_pattern_stands_on_its_first_piece():
    girth = Change(piece="", what="girth reached at the hip", before=961.3, after=924.5)
    of_back = Change(piece="back leg", what="width at the widest", before=300.0, after=290.0)
    same = Change(piece="", what="girth reached at the knee", before=403.2, after=403.2)
    labels = piece_labels(PATTERN, [girth, same, of_back])
    lines = {label.about: label.lines for label in labels if len(label.lines) > 1}
    assert lines == {
        "front": ("front leg", "girth reached at the hip 961.3 → 924.5 mm"),
        "back": ("back leg", "width at the widest 300.0 → 290.0 mm"),
    }


def test_girth_at_an_edge_of_all_pieces_is_no_measure_of_the_edge_it_is_written_at():
    """A seam taken in: what the garment loses there stands with its words, only the edge's length beside the edge."""
    girth = Change(piece="", edge="waist", what="girth of the garment at hip", before=0.0, after=-48.0)
    length = Change(piece="front leg", edge="waist", what="length", before=300.0, after=299.0)
    lines = [label.lines for label in piece_labels(PATTERN, [girth, length]) if label.about == "front"]
    assert lines == [
        ("waist 300.0 → 299.0 mm",),
        ("front leg", "waist: girth of the garment at hip 0.0 → -48.0 mm"),
    ]


def test_a_caution_about_the_whole_pattern_is_seen_and_comes_first():
    findings = [
        Finding(piece="back", message="Look at its notch."),
        Finding(piece="front leg", message="Look at its dart."),
        Finding(piece="", message="About 2.4 kPa at the hip.", severity="caution"),
        Finding(piece="sleeve", message="It is not there."),
    ]
    lines = {label.about: label.lines for label in finding_labels(PATTERN, findings)}
    assert lines == {
        "front": ("Caution: About 2.4 kPa at the hip.", "Note: Look at its dart."),
        "back": ("Note: Look at its notch.",),
    }


def test_what_to_look_at_stands_below_what_is_written_there_already():
    changes = [Change(piece="", what=f"girth {n}", before=1.0 + n, after=2.0 + n) for n in range(9)]
    labels = piece_labels(PATTERN, changes)
    findings = [Finding(piece="front", message="Look at it."), Finding(piece="back", message="And at this.")]
    front, back = finding_labels(PATTERN, findings, labels)
    ten_lines = next(label for label in labels if len(label.lines) == 10)
    assert front.at[0] == ten_lines.at[0]
    assert front.at[1] >= ten_lines.at[1] + 10 * 11.0
    assert back.at[1] == finding_labels(PATTERN, findings)[1].at[1]
