"""The archive of a record is the same for the same files, and whatever lies there instead is refused."""

import io
import random
import stat
import zipfile
from contextlib import suppress
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.publish import record_file
from proposal.publish.record_contents import contents, in_folder
from proposal.publish.record_file import is_member_name, member, packed, unpacked

FILES = {"inputs/rooms.csv": b"tag\n", "document.json": b"{}" * 200, "library/shared/a/b.yaml": b""}


def archive_of(*entries: tuple[zipfile.ZipInfo, bytes]) -> bytes:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w") as made:
        for entry, data in entries:
            made.writestr(entry, data)
    return content.getvalue()


def entry(name: str, mode: int = stat.S_IFREG | 0o644, method: int = zipfile.ZIP_DEFLATED) -> zipfile.ZipInfo:
    made = zipfile.ZipInfo(name)
    made.external_attr, made.compress_type = mode << 16, method
    return made


def refused(data: bytes) -> str:
    with pytest.raises(InputError) as error:
        unpacked(data, "issued/A/record.zip")
    with pytest.raises(InputError):
        member(data, "document.json", "issued/A/record.zip")
    said = str(error.value)
    assert said.startswith("issued/A/record.zip: wanted ")
    return said


def test_the_same_files_are_the_same_bytes_in_whatever_order() -> None:
    data = packed(FILES)
    assert data == packed(dict(reversed(FILES.items())))
    assert unpacked(data, "") == FILES
    assert member(data, "document.json", "") == FILES["document.json"]
    assert member(data, "other", "") is None


@pytest.mark.parametrize(
    "name",
    [
        "../x",
        "/x",
        "a/../x",
        "a//x",
        "./x",
        "a/./x",
        "a\\x",
        "C:/x",
        "C:x",
        "a\nb",
        "a/",
        "",
        "a\x7f",
        ".",
        "..",
    ],
)
def test_names_that_lead_elsewhere_are_refused(name: str) -> None:
    assert not is_member_name(name)
    assert "found" in refused(archive_of((entry(name), b"x")))


@pytest.mark.parametrize("mode", [stat.S_IFLNK, stat.S_IFDIR, stat.S_IFIFO, stat.S_IFCHR])
def test_what_is_no_file_is_refused(mode: int) -> None:
    assert "wanted files alone" in refused(archive_of((entry("a", mode | 0o644), b"inputs/rooms.csv")))


def test_a_name_twice_is_refused() -> None:
    with pytest.warns(UserWarning, match="Duplicate name"):
        data = archive_of((entry("a"), b"1"), (entry("a"), b"2"))
    assert "found one twice" in refused(data)


def test_other_methods_and_locks_are_refused() -> None:
    assert "unpacked by all" in refused(archive_of((entry("a", method=zipfile.ZIP_BZIP2), b"1" * 99)))
    data = bytearray(packed({"a": b"1"}))
    data[data.index(b"PK\x01\x02") + 8] |= 1
    assert "unpacked by all" in refused(bytes(data))


def test_too_many_and_too_large_are_refused_before_anything_is_unpacked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(zipfile.ZipFile, "read", lambda *_: pytest.fail("unpacked"))
    monkeypatch.setattr(record_file, "LARGEST_UNPACKED", 1_000_000)
    assert "at most 1 MB" in refused(packed({"a": bytes(600_000), "b": bytes(600_000)}))
    monkeypatch.setattr(record_file, "MOST_MEMBERS", 3)
    assert "at most 3 files" in refused(packed(dict.fromkeys("abcd", b"")))


def test_a_size_that_is_not_so_is_refused() -> None:
    data = bytearray(packed({"document.json": bytes(100_000)}))
    # The size of the only file, where the list at the end says it.
    place = data.index(b"PK\x01\x02") + 24
    data[place : place + 4] = (10).to_bytes(4, "little")
    assert "found a fault" in refused(bytes(data))


def test_no_damage_ends_otherwise_than_with_a_message() -> None:
    good, chance = packed(FILES), random.Random(1)
    for _ in range(600):
        data = bytearray(good)
        for _ in range(chance.randint(1, 6)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        if chance.random() < 0.3:
            del data[chance.randrange(len(data)) :]
        found: dict[str, bytes] = {}
        with suppress(InputError):
            found = unpacked(bytes(data), "issued/A/record.zip")
        assert all(map(is_member_name, found))


@pytest.mark.parametrize("data", [b"", b"PK", b"PK\x05\x06", b"no archive" * 100])
def test_what_is_no_archive_is_refused(data: bytes) -> None:
    assert "wanted the archive of a record; found a fault" in refused(data)


def test_links_and_folders_in_the_place_of_files_are_refused(tmp_path: Path) -> None:
    record = tmp_path / "issued" / "A"
    record.mkdir(parents=True)
    (tmp_path / "elsewhere.zip").write_bytes(packed(FILES))
    with pytest.raises(InputError, match="wanted the archive of an issued record; found none"):
        contents(record, 2)
    (record / "record.zip").symlink_to(tmp_path / "elsewhere.zip")
    with pytest.raises(InputError, match="found something that is no file"):
        contents(record, 2)
    (record / "record.zip").unlink()
    (record / "record.zip").mkdir()
    with pytest.raises(InputError, match="found something that is no file"):
        in_folder(record, "record.zip", "the archive")
