"""Reading a drawing from a file, safely, with one clear sentence for what cannot be read."""

import gzip
import pathlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import DocumentError
from crossgrain.svg import reader
from crossgrain.svg.reader import parse_drawing, read_drawing
from svg_text import svg_text

SAMPLES = pathlib.Path(__file__).parents[2] / "samples"
GOOD = svg_text('<path id="bar" d="M0 0H10"/>')


def refusal(tmp_path, data, name="drawing.svg"):
    file = tmp_path / name
    file.write_bytes(data)
    with pytest.raises(DocumentError) as caught:
        read_drawing(file)
    assert caught.value.advice
    return str(caught.value)


def packed(data: bytes) -> bytes:
    """Pack as of no time of day: the bytes name a test, and every worker must collect the same names."""
    return gzip.compress(data, mtime=0)


def test_a_plain_and_a_packed_drawing_are_told_by_their_content(tmp_path):
    for data in (GOOD, packed(GOOD)):
        for name in ("d.svg", "d.svgz", "d.xml"):
            (tmp_path / name).write_bytes(data)
            drawing = read_drawing(tmp_path / name)
            assert drawing.name == name
            assert drawing.shape("bar").paths[0].end == (10, 0)


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "iso-8859-1", "windows-1252"])
def test_every_usual_encoding_is_read(coding, tmp_path):
    text = GOOD.decode().replace("bar", "Größe")
    stated = coding.removesuffix("-sig")
    (tmp_path / "d.svg").write_bytes(f'<?xml version="1.0" encoding="{stated}"?>{text}'.encode(coding))
    assert read_drawing(tmp_path / "d.svg").shape("Größe").paths


# ---- Files that are none


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "is empty"),
        (b" \n\t", "is empty"),
        (b"a shopping list", "is not an SVG drawing"),
        (b"%PDF-1.7 ...", "is a PDF file"),
        (b"\x89PNG\r\n\x1a\n", "is a PNG file"),
        (b"PK\x03\x04", "is a ZIP file"),
        (b"<!DOCTYPE html><html><body><svg/><br></body></html>", "is a web page"),
        (b'<html xmlns="http://www.w3.org/1999/xhtml"><body/></html>', "is a web page"),
        (b"<svg width='1mm' height='1mm'/>", "does not declare the SVG namespace"),
        (b"<shirt/>", "XML, but no SVG drawing: it begins with <shirt>"),
        (GOOD[:-10], "is cut short"),
        (GOOD[: len(GOOD) // 2], "is cut short"),
        (GOOD.replace(b"<path", b"<path id='x'"), "not well-formed XML, at line 1"),
        (GOOD.replace(b"/>", b">"), "not well-formed XML, at line 1"),
        (GOOD.replace(b"bar", b"b\xe4r"), "not in the encoding it states"),
        (b"<?xml version='1.0' encoding='klingon'?>" + GOOD, "encoding"),
        (packed(GOOD)[:-9], "is packed, and cut short"),
        (b"\x1f\x8b" + GOOD, "is packed, and damaged"),
        (packed(b"%PDF-1.7"), "is a PDF file"),
        (packed(b""), "is empty"),
    ],
)
def test_what_is_no_drawing_is_named_for_what_it_is(data, sentence, tmp_path):
    assert sentence in refusal(tmp_path, data)


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(DocumentError, match=r"no file .*gone\.svg"):
        read_drawing(tmp_path / "gone.svg")


def test_a_folder_is_named(tmp_path):
    with pytest.raises(DocumentError, match="is a folder"):
        read_drawing(tmp_path)


@pytest.mark.parametrize(
    ("error", "sentence"), [(PermissionError(13, "no"), "may not be read"), (OSError(5, "Input/output error"), "Input")]
)
def test_a_file_that_may_not_be_read_is_named(error, sentence, tmp_path, monkeypatch):
    def refuse(*_args, **_named):
        raise error

    monkeypatch.setattr(pathlib.Path, "open", refuse)
    with pytest.raises(DocumentError, match=sentence):
        read_drawing(tmp_path / "locked.svg")


def test_a_name_that_no_file_can_have_is_refused():
    with pytest.raises(DocumentError, match="cannot be read"):
        read_drawing(pathlib.Path("a\0b.svg"))


# ---- Safety

LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {chr(98 + i)} "{f"&{chr(97 + i)};" * 10}">' for i in range(12))
    + "]>"
).encode()


@pytest.mark.parametrize("coding", ["utf-8", "utf-16", "utf-16-le", "utf-16-be"])
def test_entities_are_refused_before_they_grow(coding, tmp_path):
    text = (LAUGHS + GOOD.replace(b"bar", b"&m;")).decode().replace('"1.0"', f'"1.0" encoding="{coding[:6]}"')
    assert "declares XML entities" in refusal(tmp_path, text.encode(coding))


def test_an_outside_entity_is_not_fetched(tmp_path):
    secret = tmp_path / "secret.txt"
    secret.write_text("the trousers of the king")
    data = f'<!DOCTYPE svg [<!ENTITY s SYSTEM "{secret.as_uri()}">]>'.encode() + GOOD.replace(b"/>", b">&s;</path>")
    assert "declares XML entities" in refusal(tmp_path, data)


@pytest.mark.parametrize("coding", ["UTF-7", "IBM037"])
def test_an_odd_encoding_hides_no_entity(coding, tmp_path):
    text = f'<?xml version="1.0" encoding="{coding}"?><!DOCTYPE svg [<!ENTITY a "b">]>' + GOOD.decode()
    head, rest = text.split("?>", 1)
    data = (head + "?>").encode() + rest.encode("utf-7") if coding == "UTF-7" else text.encode("cp037")
    if coding == "UTF-7":
        # Every character that could be looked for is written in another way.
        data = data.replace(b"<!", b"+ADwAIQ-")
    refusal(tmp_path, data)


def test_a_document_type_without_entities_is_harmless_and_not_fetched(tmp_path):
    doctype = b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://nowhere.invalid/svg11.dtd">\n'
    (tmp_path / "d.svg").write_bytes(doctype + GOOD)
    assert read_drawing(tmp_path / "d.svg").shape("bar").paths


def test_text_that_only_speaks_of_entities_is_harmless(tmp_path):
    (tmp_path / "d.svg").write_bytes(GOOD.replace(b"<path", b"<!-- no <!ENTITY here --><path"))
    assert read_drawing(tmp_path / "d.svg").shape("bar").paths


def test_a_packed_bomb_is_not_unpacked(tmp_path, monkeypatch):
    monkeypatch.setattr(reader, "FILE_BYTES", 2**20)
    assert "larger than 1 MB" in refusal(tmp_path, packed(b" " * 2**26))


def test_a_huge_file_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(reader, "FILE_BYTES", 2**20)
    assert "larger than 1 MB" in refusal(tmp_path, GOOD + b" " * 2**20)


def test_elements_nested_without_end_are_refused(tmp_path):
    assert "nests its elements too deep" in refusal(tmp_path, svg_text("<g>" * 5000 + "</g>" * 5000))


def test_a_scan_of_paper_in_the_drawing_is_no_obstacle(tmp_path):
    scan = b'<image href="data:image/png;base64,' + b"A" * 11_000_000 + b'"/>'
    (tmp_path / "d.svg").write_bytes(GOOD.replace(b"<path", scan + b"<path"))
    assert read_drawing(tmp_path / "d.svg").shape("bar").paths


@given(st.data())
def test_a_drawing_with_one_byte_changed_is_read_or_refused_with_a_sentence(data):
    text = (SAMPLES / "mixed-features.svg").read_bytes()
    place = data.draw(st.integers(0, len(text) - 1))
    changed = text[:place] + bytes([data.draw(st.integers(0, 255))]) + text[place + 1 :]
    try:
        drawing = parse_drawing(changed, name="d.svg")
    except DocumentError as error:
        sentence = str(error)
        assert sentence
    else:
        assert all(sentence for _id, sentence in drawing.unreadable)


@given(st.data())
def test_a_drawing_cut_anywhere_is_refused_with_a_sentence(data):
    text = (SAMPLES / "mixed-features.svg").read_bytes().rstrip()
    place = data.draw(st.integers(0, len(text) - 1))
    with pytest.raises(DocumentError):
        parse_drawing(text[:place], name="d.svg")


def test_the_drawing_of_mixed_features_is_read_whole():
    drawing = read_drawing(SAMPLES / "mixed-features.svg")
    assert (drawing.page.width, drawing.page.height) == (420.0, 297.0)
    assert drawing.unreadable == ()
    ids = [shape.id for shape in drawing.shapes]
    assert ids[:3] == ["pocket-bag", "pocket-flap", "pocket-hem"]
    assert {shape.id for shape in drawing.shapes if shape.hidden} == {"old-peak", "old-pocket", "old-hem"}
    assert not {"loop-outline", "window-pane", "arrow-head", "check-line"} & set(ids)
    assert "loop-spare/loop-outline" in ids
