"""The written form of what an edge follows.

``waist=35mm + left front + back + back + right front`` says that the edge called waist is, from its start, 35 mm and
then as long as the edges called waist of these pieces; ``fly facing/centre`` names another edge.
"""

from __future__ import annotations

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.follows import Follows, Term
from crossgrain.notation.words import read_name, write_length
from crossgrain.units import parse_length


def read_follows(text: str) -> Follows:
    """Read what an edge follows.

    >>> [term.piece or term.length for term in read_follows("waist=35mm + left front + back").terms]
    [35.0, 'left front', 'back']
    """
    edge, terms = _edge_and_terms(text)
    return Follows(edge=edge, terms=tuple(_read_term(term) for term in terms))


def write_follows(follows: Follows) -> str:
    """Write what an edge follows; read by :func:`read_follows`."""
    return f"{follows.edge}=" + " + ".join(_write_term(term) for term in follows.terms)


def read_followed(text: str) -> tuple[str, tuple[float, ...]]:
    """Read how long the stretches of an edge were.

    >>> read_followed("waist=35mm + 200.5mm")
    ('waist', (35.0, 200.5))
    """
    edge, terms = _edge_and_terms(text)
    return edge, tuple(parse_length(term) for term in terms)


def write_followed(follows: Follows) -> str:
    """Write how long the stretches of an edge were; read by :func:`read_followed`."""
    return f"{follows.edge}=" + " + ".join(write_length(length) for length in follows.was)


def _edge_and_terms(text: str) -> tuple[str, list[str]]:
    edge, sign, rest = text.partition("=")
    terms = [" ".join(term.split()) for term in rest.split("+")]
    if not sign or not all(terms):
        raise ParameterError(
            _("“{text}” does not say what an edge follows.").format(text=text.strip()),
            advice=_("Write it as waist=35mm + left front + back."),
        )
    return read_name(edge.strip()), terms


def _read_term(text: str) -> Term:
    if text[0].isdigit():
        return Term(length=parse_length(text))
    piece, between, edge = text.partition("/")
    return Term(piece=piece.strip(), edge=read_name(edge.strip()) if between else "")


def _write_term(term: Term) -> str:
    if not term.piece:
        return write_length(term.length)
    return f"{term.piece}/{term.edge}" if term.edge else term.piece
