"""A plan's file written again: whole or not at all, never over what was written meanwhile."""

from __future__ import annotations

import os
import resource
import signal
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

import wattproof.replacing
from wattproof.amend.files import NotSaved, PlanFile, read_file, save
from wattproof.replacing import replace_file
from wattproof.source import PlanUnusable

OLD = "wattproof: 1\nsetting: boat\n"
NEW = "wattproof: 1\nsetting: cabin  # dry now\n" + "# " + "x" * 60_000 + "\n"
CALLS = ("open", "fsync", "chown", "chmod", "replace", "unlink", "close")


@pytest.fixture
def plan(tmp_path: Path) -> PlanFile:
    path = tmp_path / "plan.yaml"
    path.write_text(OLD, encoding="utf-8")
    path.chmod(0o640)
    return read_file(str(path), shown_as="plan.yaml")


def held(plan: PlanFile) -> str:
    return Path(plan.path).read_text(encoding="utf-8")


def names(plan: PlanFile) -> list[str]:
    return sorted(os.listdir(os.path.dirname(plan.path)))


def test_it_is_written_and_keeps_its_mode(plan: PlanFile) -> None:
    save(plan, NEW)
    assert held(plan) == NEW
    assert stat.S_IMODE(os.stat(plan.path).st_mode) == 0o640
    assert names(plan) == ["plan.yaml"]


def test_the_mark_at_the_start_of_a_file_stays(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + OLD.replace("\n", "\r\n").encode())
    plan = read_file(str(path), shown_as="plan.yaml")
    save(plan, plan.text.replace("boat", "cabin"))
    assert path.read_bytes() == b"\xef\xbb\xbfwattproof: 1\r\nsetting: cabin\r\n"


@pytest.mark.parametrize("name", CALLS[:5])
def test_a_call_that_fails_leaves_the_old_file_or_the_new(
    plan: PlanFile, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(wattproof.replacing.os, name, fails)
    if name == "chown":  # only the owner of the machine may give a file away
        save(plan, NEW)
        assert held(plan) == NEW
        return
    with pytest.raises(NotSaved, match="No space left"):
        save(plan, NEW)
    monkeypatch.undo()
    assert held(plan) == OLD
    assert names(plan) == ["plan.yaml"]


def in_child(work: Callable[[], object]) -> int:
    """The exit status of some work in a process of its own."""
    child = os.fork()
    if child == 0:
        try:
            work()
        except BaseException:
            os._exit(7)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@pytest.mark.parametrize("after", [False, True])
@pytest.mark.parametrize("name", CALLS)
@pytest.mark.parametrize("count", [1, 2, 3])
def test_power_that_fails_at_a_call_leaves_the_old_file_or_the_new(
    plan: PlanFile, name: str, count: int, after: bool
) -> None:
    """The process ends at once, without tidying up, before or after the call."""
    real = getattr(os, name)
    seen = 0

    def ends(*given: object, **named: object) -> object:
        nonlocal seen
        seen += 1
        if seen == count and not after:
            os._exit(9)
        result = real(*given, **named)
        if seen == count:
            os._exit(9)
        return result

    def work() -> None:
        setattr(wattproof.replacing.os, name, ends)
        save(plan, NEW)

    in_child(work)
    assert held(plan) in (OLD, NEW)
    again = read_file(plan.path, shown_as="plan.yaml")
    save(again, NEW)  # what was left lying beside it is not in the way
    assert held(plan) == NEW


def test_a_disk_that_fills_while_it_is_written(plan: PlanFile) -> None:
    def work() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        save(plan, NEW)

    assert in_child(work) == 7
    assert held(plan) == OLD
    assert names(plan) == ["plan.yaml"]


def test_a_file_that_was_changed_meanwhile(plan: PlanFile) -> None:
    Path(plan.path).write_text(OLD + "title: mine\n", encoding="utf-8")
    with pytest.raises(NotSaved, match="changed by something else meanwhile"):
        save(plan, NEW)
    assert "mine" in held(plan)


def test_a_file_that_is_changed_at_the_last_moment(
    plan: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.chmod

    def changes(*given: object, **named: object) -> None:
        real(*given, **named)  # type: ignore[arg-type]
        Path(plan.path).write_text("theirs", encoding="utf-8")

    monkeypatch.setattr(wattproof.replacing.os, "chmod", changes)
    with pytest.raises(NotSaved, match="meanwhile"):
        save(plan, NEW)
    monkeypatch.undo()
    assert held(plan) == "theirs"
    assert names(plan) == ["plan.yaml"]


def test_a_file_that_may_only_be_read(plan: PlanFile) -> None:
    os.chmod(plan.path, 0o440)
    with pytest.raises(NotSaved, match="may only be read"):
        save(plan, NEW)
    assert held(plan) == OLD


def test_links(plan: PlanFile, tmp_path: Path) -> None:
    (tmp_path / "link.yaml").symlink_to("plan.yaml")
    linked = read_file(str(tmp_path / "link.yaml"), shown_as="link.yaml")
    with pytest.raises(NotSaved, match=r"is a link to .*plan\.yaml"):
        save(linked, NEW)
    os.link(plan.path, tmp_path / "second.yaml")
    with pytest.raises(NotSaved, match="hard link"):
        save(plan, NEW)
    assert held(plan) == OLD


def test_a_file_that_is_gone(plan: PlanFile) -> None:
    os.unlink(plan.path)
    with pytest.raises(NotSaved):
        save(plan, NEW)
    with pytest.raises(PlanUnusable):
        read_file(plan.path, shown_as="plan.yaml")


def test_a_new_file_is_whole_or_not_there(tmp_path: Path) -> None:
    target = tmp_path / "new.yaml"

    def work() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        replace_file(str(target), NEW.encode())

    assert in_child(work) == 7
    assert not target.exists()
    replace_file(str(target), NEW.encode())
    assert target.read_text(encoding="utf-8") == NEW
