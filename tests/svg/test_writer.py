"""Writing: whole or not at all, and what was not touched as it was."""

import errno
import gzip
import os
import pathlib
import stat

import pytest
from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.svg import writer
from crossgrain.svg.alter import set_outline
from crossgrain.svg.build import new_drawing
from crossgrain.svg.names import crossgrain
from crossgrain.svg.reader import parse_drawing, read_drawing
from crossgrain.svg.writer import drawing_bytes, write_drawing
from svg_text import drawing_of, svg_text

MIXED = pathlib.Path(__file__).parents[2] / "samples" / "mixed-features.svg"


# ---- What is not touched

FUSSY = (
    b'<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n<!-- shelf 3 -->\n<?shelf row="3"?>\n\n'
    b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n'
    b'<svg xmlns="http://www.w3.org/2000/svg" xmlns:unused="urn:unused" width="20mm" height="10mm" viewBox="0 0 20 10">'
    b"\n  <style><![CDATA[ g > path { stroke: #000 } ]]></style>\n\t<!-- a  comment -->  <?pi data?>\n"
    b'  <q:note xmlns:q="urn:q" q:b="2" q:a="1" z="&lt;&amp;&quot;">text &amp; &lt;more&gt;</q:note>\n'
    b'  <path style=" fill : none ;" d="M0  0\xc2\xa0" id="odd"/><g/><g></g>\xe2\x80\xa2 tail\n</svg>\n\n'
)


def test_an_untouched_drawing_comes_back_byte_for_byte():
    # But for what XML itself does not tell apart: <g></g> is <g/>.
    assert drawing_bytes(parse_drawing(FUSSY, name="d.svg")) == FUSSY.replace(b"<g></g>", b"<g/>")


@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf", b"<?xml version='1.0'?>", b"<!-- x -->\n"])
@pytest.mark.parametrize("end", [b"", b"\n"])
def test_the_start_and_the_end_of_the_file_stay(start, end):
    data = start + svg_text("<g/>") + end
    assert drawing_bytes(parse_drawing(data, name="d.svg")) == data


def test_a_comment_after_the_drawing_stays():
    data = svg_text("<g/>") + b"\n<!-- end -->\n"
    assert drawing_bytes(parse_drawing(data, name="d.svg")) == data


@pytest.mark.parametrize("coding", ["utf-16", "iso-8859-1"])
def test_the_encoding_stays(coding):
    text = f'<?xml version="1.0" encoding="{coding}"?>' + svg_text("<title>Größe</title>").decode()
    data = drawing_bytes(parse_drawing(text.encode(coding), name="d.svg"))
    assert "Größe" in data.decode(coding)
    assert parse_drawing(data, name="again.svg").root[0].text == "Größe"


def canonical(element):
    return etree.tostring(element, method="c14n")


def test_altering_one_shape_leaves_all_others_as_they_were():
    before, after = read_drawing(MIXED), read_drawing(MIXED)
    shape = after.shape("pocket-flap")
    set_outline(shape, shape.paths)
    written = parse_drawing(drawing_bytes(after), name="again.svg")
    olds, news = list(before.root.iter()), list(written.root.iter())
    assert len(olds) == len(news)
    for old, new in zip(olds, news, strict=True):
        if old.get("id") == "pocket-flap":
            continue
        assert (old.tag, dict(old.attrib), old.text, old.tail) == (new.tag, dict(new.attrib), new.text, new.tail)
        assert old.nsmap == new.nsmap
    assert drawing_bytes(after).startswith(MIXED.read_bytes()[:250])
    assert canonical(before.element("notes")) == canonical(written.element("notes"))


def test_our_namespace_is_declared_once_and_nothing_else_moves():
    drawing = drawing_of('<q:a xmlns:q="urn:q"><q:b xmlns:q="urn:q2" q:x="1"/></q:a><path id="p"/><path id="r"/>')
    for id in ("p", "r"):
        drawing.element(id).set(crossgrain("piece"), id)
    text = drawing_bytes(drawing).decode()
    assert text.count('xmlns:crossgrain="urn:crossgrain:1"') == 1
    assert text.index("xmlns:crossgrain") < text.index("<path")
    assert '<path id="p" crossgrain:piece="p"/><path id="r" crossgrain:piece="r"/>' in text
    assert '<q:a xmlns:q="urn:q"><q:b xmlns:q="urn:q2" q:x="1"/></q:a>' in text
    assert "xmlns:xlink" in text


def test_a_drawing_that_only_speaks_of_our_namespace_is_left_alone():
    data = svg_text("<title>urn:crossgrain:1</title>")
    assert drawing_bytes(parse_drawing(data, name="d.svg")) == data


# ---- Whole or not at all


def files(folder):
    return sorted(path.name for path in folder.iterdir())


def test_a_new_file_is_written_whole(tmp_path):
    write_drawing(drawing_of("<g/>"), tmp_path / "out.svg")
    assert (tmp_path / "out.svg").read_bytes() == svg_text("<g/>")
    assert files(tmp_path) == ["out.svg"]


def test_a_new_file_has_the_rights_any_new_file_has(tmp_path):
    write_drawing(drawing_of("<g/>"), tmp_path / "out.svg")
    (tmp_path / "plain").touch()
    assert (tmp_path / "out.svg").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_packed_file_is_the_same_each_time(tmp_path):
    write_drawing(drawing_of("<g/>"), tmp_path / "one.svgz")
    write_drawing(drawing_of("<g/>"), tmp_path / "two.SVGZ")
    data = (tmp_path / "one.svgz").read_bytes()
    assert data == (tmp_path / "two.SVGZ").read_bytes()
    assert data[4:8] == bytes(4)
    assert gzip.decompress(data) == svg_text("<g/>")


def test_a_file_that_is_there_is_left_unless_told(tmp_path):
    target = tmp_path / "out.svg"
    target.write_text("mine")
    with pytest.raises(DocumentError, match="is there already"):
        write_drawing(drawing_of("<g/>"), target)
    assert target.read_text() == "mine"
    write_drawing(drawing_of("<g/>"), target, overwrite=True)
    assert target.read_bytes() == svg_text("<g/>")


@pytest.mark.parametrize("way", ["same", "dotted", "linked"])
def test_the_drawing_itself_is_left_unless_told(way, tmp_path):
    source = tmp_path / "in.svg"
    source.write_bytes(svg_text("<g/>"))
    os.chmod(source, 0o640)
    target = {"same": source, "dotted": tmp_path / "." / "x" / ".." / "in.svg", "linked": tmp_path / "link.svg"}[way]
    (tmp_path / "x").mkdir()
    (tmp_path / "link.svg").symlink_to(source)
    drawing = read_drawing(source)
    drawing.root.set("class", "new")
    with pytest.raises(DocumentError, match="is the drawing itself"):
        write_drawing(drawing, target, overwrite=True)
    assert source.read_bytes() == svg_text("<g/>")
    write_drawing(drawing, target, in_place=True)
    assert b'class="new"' in source.read_bytes()
    assert stat.S_IMODE(source.stat().st_mode) == 0o640
    assert (tmp_path / "link.svg").is_symlink()


@pytest.mark.parametrize(
    ("code", "sentence"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EACCES, "you may not write there"),
        (errno.EROFS, "may not be written to"),
        (errno.EIO, "Input/output error"),
    ],
)
@pytest.mark.parametrize("step", ["mkstemp", "fsync", "replace"])
def test_a_failure_leaves_nothing_behind_and_the_old_file_whole(code, sentence, step, tmp_path, monkeypatch):
    target = tmp_path / "out.svg"
    target.write_text("mine")

    def fail(*_args, **_named):
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(writer.tempfile if step == "mkstemp" else writer.os, step, fail)
    with pytest.raises(DocumentError, match=sentence):
        write_drawing(drawing_of("<g/>"), target, overwrite=True)
    assert target.read_text() == "mine"
    assert files(tmp_path) == ["out.svg"]


def test_an_interruption_leaves_nothing_behind(tmp_path, monkeypatch):
    def stop(*_args):
        raise KeyboardInterrupt

    monkeypatch.setattr(writer.os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        write_drawing(drawing_of("<g/>"), tmp_path / "out.svg")
    assert files(tmp_path) == []


def test_a_folder_that_is_not_there_is_named(tmp_path):
    with pytest.raises(DocumentError, match="its folder does not exist"):
        write_drawing(drawing_of("<g/>"), tmp_path / "gone" / "out.svg")


def test_a_folder_as_target_is_named(tmp_path):
    with pytest.raises(DocumentError, match="it is a folder"):
        write_drawing(drawing_of("<g/>"), tmp_path, overwrite=True)


def test_a_name_too_long_is_named(tmp_path):
    with pytest.raises(DocumentError, match="name is too long"):
        write_drawing(drawing_of("<g/>"), tmp_path / ("x" * 300 + ".svg"))


def test_a_name_that_no_file_can_have_is_named(tmp_path):
    with pytest.raises(DocumentError, match="no file can have that name"):
        write_drawing(drawing_of("<g/>"), tmp_path / "a\0.svg")


# ---- New drawings


def test_a_new_drawing_is_in_millimetres(tmp_path):
    drawing = new_drawing(210.5, 297)
    write_drawing(drawing, tmp_path / "new.svg")
    again = read_drawing(tmp_path / "new.svg")
    assert (again.page.width, again.page.height) == (210.5, 297.0)
    assert again.page.to_mm.of((1.0, 2.0)) == pytest.approx((1.0, 2.0))


@pytest.mark.parametrize("size", [(0, 5), (5, -1), (float("nan"), 5), (5, float("inf"))])
def test_a_page_of_no_size_is_refused(size):
    with pytest.raises(DocumentError, match="no size"):
        new_drawing(*size)
