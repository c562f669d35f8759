"""Files of text are written whole or not at all, and what cannot be read is said."""

from __future__ import annotations

import os

import pytest

from crossgrain.errors import DocumentError
from crossgrain.files import read_body_file, read_cloth_file, read_text, write_text


def test_what_is_written_is_read(tmp_path):
    path = tmp_path / "a.toml"
    write_text(path, "ä\n")
    assert read_text(path) == "ä\n"
    write_text(path, "b\n", overwrite=True)
    assert path.read_bytes() == b"b\n"
    assert os.listdir(tmp_path) == ["a.toml"]


def test_a_file_that_is_there_stays_unless_it_may_go(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(DocumentError, match="is there already"):
        write_text(path, "yours")
    assert path.read_text(encoding="utf-8") == "mine"


def test_what_cannot_be_written_leaves_nothing_behind(tmp_path):
    (tmp_path / "folder").mkdir()
    with pytest.raises(DocumentError, match="cannot be written"):
        write_text(tmp_path / "folder", "x", overwrite=True)
    with pytest.raises(DocumentError, match="cannot be written"):
        write_text(tmp_path / "no" / "a.toml", "x")
    assert os.listdir(tmp_path) == ["folder"]


@pytest.mark.parametrize("read", [read_cloth_file, read_body_file])
def test_what_cannot_be_read(tmp_path, read):
    with pytest.raises(DocumentError, match=r"nowhere\.toml cannot be read"):
        read(tmp_path / "nowhere.toml")
    picture = tmp_path / "picture.toml"
    picture.write_bytes(b"\x89PNG\xff\xfe")
    with pytest.raises(DocumentError, match="no text in UTF-8"):
        read(picture)
    long = tmp_path / "long.toml"
    long.write_bytes(b"#" * 1_000_001)
    with pytest.raises(DocumentError, match="too long"):
        read(long)
