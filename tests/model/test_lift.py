"""An operation on a piece, done on a pattern: order kept, reports gathered, errors say which piece."""

import pytest

from crossgrain.errors import CollapseError, GeometryError
from crossgrain.kernel.path import Path
from crossgrain.model import Change, Edge, Finding, Outcome, Pattern, Piece
from crossgrain.model.lift import on_each_piece


def square(id, name=""):
    line = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    return Piece(id=id, name=name, edges=(Edge(name="", line=Path(line.segments)),))


PATTERN = Pattern(pieces=(square("path1", "front"), square("path2"), square("path3", "back")))


def test_pieces_changes_and_findings_keep_their_order():
    def named(piece):
        return Outcome(
            value=square(piece.id, piece.label + " again"),
            changes=(Change(piece=piece.label, what="one", before=1.0, after=2.0),),
            findings=(Finding(piece=piece.label, message="one"), Finding(piece=piece.label, message="two")),
        )

    outcome = on_each_piece(PATTERN, named)
    assert [piece.name for piece in outcome.value.pieces] == ["front again", "path2 again", "back again"]
    assert [change.piece for change in outcome.changes] == ["front", "path2", "back"]
    assert [(f.piece, f.message) for f in outcome.findings] == [
        (piece, message) for piece in ("front", "path2", "back") for message in ("one", "two")
    ]


@pytest.mark.parametrize(("id", "label"), [("path1", "front"), ("path2", "path2")])
def test_an_error_says_on_which_piece_it_happened(id, label):
    def fails(piece):
        if piece.id == id:
            raise CollapseError("Nothing is left.", position=(1.0, 2.0), edge="hem")
        return Outcome(value=piece)

    with pytest.raises(CollapseError, match=rf"piece {label}, edge hem, at x 1") as caught:
        on_each_piece(PATTERN, fails)
    assert (caught.value.piece, caught.value.edge, caught.value.position) == (label, "hem", (1.0, 2.0))


def test_a_piece_that_an_error_names_itself_is_kept():
    def fails(piece):
        raise GeometryError("It does not fit.", piece="waistband")

    with pytest.raises(GeometryError) as caught:
        on_each_piece(PATTERN, fails)
    assert caught.value.piece == "waistband"


def test_a_fault_of_ours_keeps_its_traceback():
    with pytest.raises(ZeroDivisionError):
        on_each_piece(PATTERN, lambda piece: Outcome(value=1 / 0))


def test_no_pieces_are_no_pieces():
    assert on_each_piece(Pattern(), lambda piece: Outcome(value=piece)) == Outcome(value=Pattern())
