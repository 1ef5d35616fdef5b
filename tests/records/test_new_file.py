"""A file written is whole or not there, and no other file ever loses its place to it."""

import os
from pathlib import Path

import pytest

from logbook.records.new_file import MAKER, NewFile, WriteRefused, refused_in_one_line, rewrite


def test_it_has_its_name_only_when_it_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "a.tif"
    with NewFile(path) as file:
        file.write(b"half")
        assert not path.exists()
        file.write(b" and half")
    assert path.read_bytes() == b"half and half"
    assert _names(tmp_path) == ["a.tif"]


def test_whatever_ends_it_early_nothing_is_left(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt), NewFile(tmp_path / "a.tif") as file:
        file.write(b"half")
        raise KeyboardInterrupt
    assert _names(tmp_path) == []


@pytest.mark.parametrize("hard_links", [True, False])
def test_a_file_that_came_meanwhile_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, hard_links: bool) -> None:
    path = tmp_path / "a.tif"
    if not hard_links:
        monkeypatch.setattr(os, "link", _no_links)
    with pytest.raises(WriteRefused, match=r"a\.tif: is there already"), refused_in_one_line(path), NewFile(path) as file:
        file.write(b"ours")
        path.write_bytes(b"theirs")
    assert path.read_bytes() == b"theirs"
    assert _names(tmp_path) == ["a.tif"]


def test_a_disk_without_hard_links_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "link", _no_links)
    with NewFile(tmp_path / "a.tif") as file:
        file.write(b"whole")
    assert (tmp_path / "a.tif").read_bytes() == b"whole"
    assert _names(tmp_path) == ["a.tif"]


def test_a_link_to_nowhere_is_there_too(tmp_path: Path) -> None:
    (tmp_path / "a.tif").symlink_to(tmp_path / "nowhere")
    with pytest.raises(FileExistsError):
        NewFile(tmp_path / "a.tif")


def test_only_a_file_of_our_own_is_replaced_and_only_by_a_whole_one(tmp_path: Path) -> None:
    ours, theirs, linked = tmp_path / "ours", tmp_path / "theirs", tmp_path / "linked"
    ours.write_text(f"<meta content={MAKER}> old")
    theirs.write_text("a letter")
    linked.symlink_to(ours)
    for path, reason in ((theirs, "not made by this program"), (linked, "a link"), (tmp_path, "a folder or a device")):
        with pytest.raises(WriteRefused, match=reason), refused_in_one_line(path), NewFile(path, replace=True):
            raise AssertionError
    with pytest.raises(KeyboardInterrupt), NewFile(ours, replace=True) as file:
        file.write(b"half")
        raise KeyboardInterrupt
    assert ours.read_text().endswith("old")
    with NewFile(ours, replace=True) as file:
        file.write(b"new")
    assert ours.read_bytes() == b"new"
    assert theirs.read_text() == "a letter"
    assert sorted(_names(tmp_path)) == ["linked", "ours", "theirs"]


def test_a_settings_file_is_rewritten_whole_where_its_link_leads(tmp_path: Path) -> None:
    kept, link = tmp_path / "kept.toml", tmp_path / "settings.toml"
    kept.write_text("old")
    kept.chmod(0o640)
    link.symlink_to(kept)
    rewrite(link, "new")
    assert link.is_symlink()
    assert kept.read_text() == "new"
    assert kept.stat().st_mode & 0o777 == 0o640


def test_what_is_no_file_keeps_its_place(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reading = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    rewrite(pipe, "new")
    assert os.read(reading, 9) == b"new"
    os.close(reading)
    assert pipe.is_fifo()
    with (
        pytest.raises(WriteRefused, match="a link, a folder or a device"),
        refused_in_one_line(pipe),
        NewFile(pipe, replace=True),
    ):
        raise AssertionError


def _no_links(*_: object, **__: object) -> None:
    raise PermissionError(1, "Operation not permitted")


def _names(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]
