"""What was rendered is kept under all that it was made from."""

import datetime
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum
from pathlib import Path

import pytest

from proposal.publish import cache
from proposal.publish.cache import Cache, canonical, drawing_key
from proposal.publish.files import write_new
from proposal.publish.program_folders import OwnPath


class Side(Enum):
    FRONT = 1
    REAR = 2


@dataclass(frozen=True)
class Spec:
    tag: str
    lengths_m: tuple[float, ...] = (1.0,)
    names: frozenset[str] = frozenset({"a", "b"})
    side: Side = Side.FRONT
    more: object = None


@dataclass(frozen=True)
class Other:
    tag: str


class Maker:
    def __init__(self, content: bytes) -> None:
        self.content = content
        self.times = 0

    def __call__(self) -> bytes:
        self.times += 1
        return self.content


def test_a_thing_is_made_once(build: OwnPath) -> None:
    make = Maker(b"drawing\nwith lines")
    for _ in range(2):
        assert Cache(build).get_or("ab12", make) == b"drawing\nwith lines"
    assert make.times == 1


def test_keys_do_not_share_what_they_keep(build: OwnPath) -> None:
    cache = Cache(build)
    assert cache.get_or("ab1", lambda: b"one") == b"one"
    assert cache.get_or("ab2", lambda: b"two") == b"two"


@pytest.mark.parametrize("damage", [b"", b"x", b"0" * 64 + b"\ndrawing", None])
def test_a_damaged_entry_is_made_again(build: OwnPath, damage: bytes | None) -> None:
    cache = Cache(build)
    cache.get_or("ab12", lambda: b"drawing")
    (entry,) = (path for path in build.path.rglob("*") if path.is_file())
    entry.write_bytes(entry.read_bytes()[:-1] if damage is None else damage)
    make = Maker(b"drawing")
    assert cache.get_or("ab12", make) == b"drawing"
    assert cache.get_or("ab12", make) == b"drawing"
    assert make.times == 1


def test_no_half_written_files_stay(build: OwnPath) -> None:
    Cache(build).get_or("ab12", lambda: b"drawing")
    assert [path.name for path in build.path.rglob("*") if path.is_file()] == ["ab12"]


def test_a_folder_that_cannot_be_made_costs_only_time(build: OwnPath) -> None:
    write_new(build / "cache", b"a file is in the way")
    make = Maker(b"drawing")
    for _ in range(2):
        assert Cache(build / "cache").get_or("ab12", make) == b"drawing"
    assert make.times == 2


def test_equal_specs_have_one_key_whatever_the_order_of_a_set() -> None:
    one = Spec("a", names=frozenset(["x", "y", "z"]), more={"k": 1, "j": 2})
    other = Spec("a", names=frozenset(["z", "y", "x"]), more={"j": 2, "k": 1})
    assert drawing_key("riser", one) == drawing_key("riser", other)


def test_anything_that_differs_gives_another_key() -> None:
    base = Spec("a")
    keys = [
        drawing_key("riser", base),
        drawing_key("signal", base),
        drawing_key("riser", Other("a")),
        drawing_key("riser", replace(base, lengths_m=(1.0000001,))),
        drawing_key("riser", replace(base, side=Side.REAR)),
        *(
            drawing_key("riser", replace(base, more=more))
            for more in (
                1,
                "1",
                True,
                1.0,
                Decimal(1),
                b"1",
                (1,),
                {1: 1},
                datetime.date(2026, 3, 2),
                "2026-03-02",
            )
        ),
    ]
    assert len(set(keys)) == len(keys)


def test_what_has_no_canonical_form_is_refused() -> None:
    with pytest.raises(TypeError, match="holds a object"):
        canonical(Spec("a", more=object()))


def test_a_key_follows_from_every_module_that_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    read: set[Path] = set()
    read_bytes = Path.read_bytes

    def noted(path: Path) -> bytes:
        read.add(path)
        return read_bytes(path)

    monkeypatch.setattr(Path, "read_bytes", noted)
    cache._drawers.__wrapped__()
    package = Path(cache.__file__).resolve().parent.parent
    assert {
        package / "publish" / "graph_program.py",
        package / "drawings" / "floor_plan" / "layout.py",
    } <= read
    assert set((package / "drawings").rglob("*.py")) <= read
