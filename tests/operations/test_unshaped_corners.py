"""Styles that are asked for where there is no corner to be shaped."""

import pytest

from crossgrain.kernel.path import Path
from crossgrain.model import Edge, Piece, SewnCorner
from crossgrain.model.cutting.sewn_corner import WAYS
from crossgrain.operations.allowance import Allowance, allow
from pieces import against, one


def of(text, way, guide=""):
    return SewnCorner(edges=tuple(text.split("/")), way=way, guide=guide)


def polygon(*corners, names):
    lines = Path.polygon(corners).segments
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names.split(), lines, strict=True))
    return Piece(id="p", edges=edges)


def said(piece, *corners):
    outcome = allow(one(piece), Allowance(width=10.0, corners=corners))
    return [(finding.edge, finding.message) for finding in outcome.findings]


class TestWhatTakesNoStyle:
    """A style that is asked for and not drawn is said, with the corner; what nobody asked for is not."""

    hook = polygon((0, 0), (100, 0), (100, 50), (50, 50), (50, 100), (0, 100), names="a b c d e f")

    @pytest.mark.parametrize("way", [way for way in WAYS if way != "mitred"])
    @pytest.mark.parametrize("turned_round", [False, True])
    def test_an_inside_corner(self, way, turned_round):
        guide = "c" if way in ("squared", "straight", "mirrored") else ""
        piece = against(self.hook) if turned_round else self.hook
        [(edge, message)] = said(piece, of("c/d", way, guide))
        assert set(edge.split("/")) == {"c", "d"}
        assert "turns into the cloth" in message

    def test_a_slight_turn(self):
        piece = polygon((0, 0), (100, 0), (190, 20), (190, 90), (0, 90), names="waist yoke side hem centre")
        [(edge, message)] = said(piece, of("waist/yoke", "blunted"))
        assert edge == "waist/yoke"
        assert "A turn of 13°" in message

    def test_the_other_end_of_an_edge_that_is_styled_at_both(self):
        assert [edge for edge, _message in said(self.hook, of("c", "blunted"))] == ["c/d"]

    def test_nothing_is_said_of_corners_that_are_shaped_of_mitres_and_of_all_corners(self):
        assert not said(self.hook, of("a/b", "blunted"), of("c/d", "mitred"))
        assert not said(self.hook, SewnCorner(edges=(), way="blunted"))
