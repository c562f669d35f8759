"""The written forms of what an edge depends on.

``waist=35mm + left front + back + back + right front`` says that the edge called waist is, from its start, 35 mm and
then as long as the edges called waist of these pieces; ``fly facing/centre`` names another edge.

``centre traces right front/centre from 15mm before start to 80%`` says that the edge called centre is drawn after that
part of the right front's edge. A place on it is a share, a length from its start, or a length before or after its start
or its end; where the edge has the same name, the piece alone will do. ``reversed`` at its end says that the edge runs
the other way.

``zip along centre`` says that a zip closes the edge called centre.
"""

from __future__ import annotations

from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.model.dependents.traces import Reach, Traces
from crossgrain.model.dependents.zips import Zip
from crossgrain.notation.words import keyed, read_name, write_length, write_share
from crossgrain.units import parse_length, parse_share

_ENDS: Final = {"start": 0.0, "end": 1.0}
_ZIP: Final = "zip along "
_REVERSED: Final = " reversed"


def read_dependence(text: str) -> Follows | Traces | Zip:
    """Read what an edge follows, what it traces, or that a zip closes it.

    >>> read_dependence("zip along centre").edge, read_dependence("waist traces front to 35mm").end.more
    ('centre', 35.0)
    """
    words = " ".join(text.split())
    if words.startswith(_ZIP):
        return Zip(edge=read_name(words.removeprefix(_ZIP)))
    if "=" not in words and " traces " in words:
        return _read_traces(words)
    return read_follows(text)


def write_dependence(one: Follows | Traces | Zip) -> str:
    """Write what an edge depends on; read by :func:`read_dependence`.

    >>> write_dependence(Traces(edge="centre", piece="front", traced="centre", start=Reach(more=-15.0)))
    'centre traces front/centre from 15mm before start'
    """
    if isinstance(one, Zip):
        return f"{_ZIP}{one.edge}"
    if isinstance(one, Follows):
        return write_follows(one)
    begins = f" from {_write_reach(one.start)}" if one.start != Reach() else ""
    ends = f" to {_write_reach(one.end)}" if one.end != Reach(share=1.0) else ""
    return f"{one.edge} traces {one.piece}/{one.traced}{begins}{ends}{_REVERSED if one.reversed else ''}"


def _read_traces(words: str) -> Traces:
    edge, _traces, rest = words.removesuffix(_REVERSED).partition(" traces ")
    whole, given = keyed(rest, ("from", "to"))
    piece, between, traced = whole.partition("/")
    name = read_name(edge)
    start, end = (_read_reach(given[key]) if key in given else reach for key, reach in _WHOLE.items())
    return Traces(
        edge=name,
        piece=piece.strip(),
        traced=read_name(traced.strip()) if between else name,
        start=start,
        end=end,
        reversed=words.endswith(_REVERSED),
    )


_WHOLE: Final = {"from": Reach(), "to": Reach(share=1.0)}


def _read_reach(text: str) -> Reach:
    """Read a place: ``80%``, ``35mm``, ``15mm before start``, ``15mm after end``."""
    words = text.split()
    if len(words) > 2 and words[-1] in _ENDS and words[-2] in ("before", "after"):
        length = parse_length(" ".join(words[:-2]))
        return Reach(share=_ENDS[words[-1]], more=-length if words[-2] == "before" else length)
    return Reach(share=parse_share(text)) if text.endswith("%") else Reach(more=parse_length(text))


def _write_reach(reach: Reach) -> str:
    if reach.more == 0.0:
        return write_share(reach.share)
    if reach.share == 0.0 and reach.more > 0.0:
        return write_length(reach.more)
    way = "before" if reach.more < 0.0 else "after"
    end = next(name for name, share in _ENDS.items() if share == reach.share)
    return f"{write_length(abs(reach.more))} {way} {end}"


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
    """Read how long the stretches of an edge were, or the opening that a zip closes.

    >>> read_followed("waist=35mm + 200.5mm"), read_followed("zip along centre=155mm")
    (('waist', (35.0, 200.5)), ('zip along centre', (155.0,)))
    """
    words = " ".join(text.split())
    if words.startswith(_ZIP):
        edge, _sign, length = words.removeprefix(_ZIP).partition("=")
        return f"{_ZIP}{read_name(edge.strip())}", (parse_length(length),)
    edge, terms = _edge_and_terms(text)
    return edge, tuple(parse_length(term) for term in terms)


def write_followed(follows: Follows | Zip) -> str:
    """Write how long the stretches of an edge were, or the opening of a zip; read by :func:`read_followed`."""
    if isinstance(follows, Zip):
        assert follows.was is not None
        return f"{write_dependence(follows)}={write_length(follows.was)}"
    return f"{follows.edge}=" + " + ".join(write_length(length) for length in follows.was)


def _edge_and_terms(text: str) -> tuple[str, list[str]]:
    edge, sign, rest = text.partition("=")
    terms = [" ".join(term.split()) for term in rest.split("+")]
    if not sign or not all(terms):
        raise ParameterError(
            _("“{text}” does not say what an edge follows.").format(text=text.strip()),
            advice=_(
                "Write it as waist=35mm + left front + back, as centre traces front/centre to 80%, or as zip along "
                "centre."
            ),
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
